"""What each drawing follows from: equal values here, the very same drawing. Includes more than strictly needed, never less."""

from __future__ import annotations

from typing import Any

from drawleaf.draw.at_step.joined import loose_things, pieces_at
from drawleaf.draw.at_step.so_far import States
from drawleaf.draw.joint.details import DetailSetting
from drawleaf.draw.joint.kinds import through
from drawleaf.draw.part.marks.screws import later_notes
from drawleaf.draw.part.names import face_sides, middle_of_assembly
from drawleaf.draw.piece.exploded import Exploded
from drawleaf.draw.step.bench_drawing import in_the_whole
from drawleaf.model.derived import Derived
from drawleaf.model.lists import BoardLayout, CutItem, SheetLayout
from drawleaf.model.steps import Step

Inputs = tuple[Any, ...]


def of_the_whole(derived: Derived) -> Inputs:
    """For views of the whole piece."""
    plan = derived.plan
    return (
        plan.about.title,
        plan.lengths,
        plan.parts,
        plan.joints,
        plan.fittings,
        plan.assemblies,
        derived.overall,
        _numbers(derived),
        [item.parts for item in derived.cut_list.items],
    )


def of_a_part(derived: Derived, item: CutItem) -> Inputs:
    """For the drawing of a row of the cut list: its part, what is joined to it, and on which side of the whole and of its assembly it stands."""
    plan = derived.plan
    ids = {part.id for part in item.parts}
    joints = [joint for joint in plan.joints if joint.insert in ids or joint.receiver in ids]
    fittings = [fitting for fitting in plan.fittings if ids.intersection(fitting.parts)]
    twins = [other for other in derived.cut_list.items if item.number in (other.number, other.mirror_of)]
    later = later_notes(derived, item)
    screws = [(joint.fasteners, plan.part(joint.insert).width_axis) for joint in joints if joint.fasteners]
    middle = item.part.body.center.x.mm
    sides = middle < derived.overall[0] / 2, face_sides(item.part, middle_of_assembly(derived, item.part))
    return (plan.lengths, sides, item, twins, joints, screws, fittings, later, _numbers(derived))


def of_a_detail(derived: Derived, setting: DetailSetting) -> Inputs:
    """For the detail of a joint: the joint and those made alike, and what stands near it."""
    plan, near = derived.plan, {*setting.near, setting.kind.joint.insert, setting.kind.joint.receiver}
    parts = [(place, part) for place, part in enumerate(plan.parts) if part.id in near]
    fittings = [fitting for fitting in plan.fittings if fitting.id in near]
    return (plan.lengths, setting, through(plan, setting.kind.joint), parts, fittings, _numbers(derived))


def of_an_exploded_view(derived: Derived, subject: Exploded) -> Inputs:
    """For an exploded view: what it shows, and how that is joined."""
    plan, shown = derived.plan, {one for unit in subject.units for one in unit.parts}
    parts = [part for part in plan.parts if part.id in shown]
    joints = [joint for joint in plan.joints if {joint.insert, joint.receiver} & shown]
    fittings = [fitting for fitting in plan.fittings if fitting.id in shown]
    return (plan.about.title, subject, parts, joints, fittings, _numbers(derived))


def of_a_step(derived: Derived, step: Step, states: States | None = None) -> Inputs:
    """For a step's drawing: what is shown, what is done to it, and the numbers and names beside it. ``states`` are those of the plan's
    parts, where they are at hand."""
    scene, plan = step.scene, derived.plan
    if scene is None:
        return ()
    shown = {*scene.standing, *scene.new, *scene.fittings}
    pieces = pieces_at(derived, step)
    shown |= {part for piece in pieces for part in piece}
    parts = plan.parts if in_the_whole(derived, step) else tuple(part for part in plan.parts if part.id in shown)
    states = states or States(derived)
    parts = tuple(states.at(step, part) for part in parts)
    joints = [joint for joint in plan.joints if joint.insert in shown or joint.receiver in shown]
    fittings = [fitting for fitting in plan.fittings if fitting.id in shown]
    layouts = derived.layouts if scene.layout is not None else None
    things = loose_things(derived, step, (*scene.new, *scene.fittings))
    return (plan.lengths, step, parts, pieces, things, joints, fittings, layouts, _numbers(derived))


def of_a_layout(derived: Derived, layout: SheetLayout | BoardLayout) -> Inputs:
    """For the drawing of a sheet or board."""
    return (derived.plan.lengths, layout)


def _numbers(derived: Derived) -> list[Inputs]:
    """Which number and name each part has."""
    return [
        (item.number, item.name, item.mirror_of, tuple(part.id for part in item.parts))
        for item in derived.cut_list.items
    ]
