"""Bought hardware after the finish: what goes on the bare piece first, what comes with each body, what holds it to the wall."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.assembly.groups import Body
from drawleaf.derive.operations.drafts import Stage, Workshop
from drawleaf.derive.operations.fitting_kinds import COMPANIONS, all_coats, step_of, uses_of
from drawleaf.derive.operations.hanging import bring_in
from drawleaf.derive.operations.hardware_order import waits_for
from drawleaf.derive.operations.joining import Joining, finished_body, join_bodies
from drawleaf.derive.operations.machining import grouped
from drawleaf.derive.operations.recesses import marked_recesses
from drawleaf.english import lower_first
from drawleaf.model.plan import Fitting, Plan
from drawleaf.model.steps import Move, Scene
from drawleaf.setting_out.hinging import carried_sides, runs_on_slides

EPOXY_HOURS = 12.0
"""How long two-part epoxy sets before it is loaded; its packet has the last word: common practice, no source."""


def fit_before_assembly(shop: Workshop) -> None:
    """What the author wants on the loose part, before anything of it is assembled."""
    early = {one.line for one in shop.plan.order.early}
    fittings = [
        fitting for fitting in shop.plan.fittings if fitting.line in early and fitting.item.kind not in COMPANIONS
    ]
    for line in grouped(fittings, lambda fitting: (fitting.line, fitting.item.id)):
        _fit(shop, line, (), loose=True)


def fit_hardware(shop: Workshop, joining: Joining) -> None:
    """Everything after the finish, in an order in which each thing can still be reached."""
    plan = shop.plan
    lines = grouped([f for f in plan.fittings if f.item.kind not in COMPANIONS], lambda f: (f.line, f.item.id))
    early = {one.line for one in plan.order.early}
    done = {fitting.id for fitting in plan.fittings if fitting.line in early}
    standing = finished_body(joining)

    def fit(wanted: Sequence[list[Fitting]], last: bool = False) -> None:
        here = set(standing)
        ready = [line for line in wanted if line[0].id not in done and (last or waits_for(plan, line[0]) <= here)]
        for alike in grouped(ready, _together):
            fittings = [fitting for line in alike for fitting in line]
            done.update(fitting.id for fitting in fittings)
            _fit(shop, fittings, standing)

    done.update(fitting.id for fitting in plan.fittings if fitting.item.family.held_back)
    fit([line for line in lines if step_of(line[0].item).early])

    def arrived(bodies: list[Body]) -> None:
        coming = tuple(dict.fromkeys(part for body in bodies for part in body.parts))
        own = set(coming)
        pins = [line for line in lines if line[0].item.family.holds_shelf and own & set(line[0].parts)]
        done.update(fitting.id for line in pins for fitting in line)
        bring_in(shop, bodies, standing, [fitting for line in pins for fitting in line], joining)
        standing.extend(part for part in coming if part not in standing)
        here = set(standing)
        fit([line for line in lines if _at_once(line[0], own, here) or own & waits_for(plan, line[0])])

    join_bodies(shop, joining, before_finish=False, each=arrived)
    fit([line for line in lines if not step_of(line[0].item).on_wall])
    fit(lines, last=True)


def _together(line: list[Fitting]) -> object:
    """Lines of one kind that go on the bare piece share a step; any other line has its own."""
    item = line[0].item
    return item.kind if step_of(item).early and not runs_on_slides(line[0]) else line[0].line


def _at_once(fitting: Fitting, own: set[str], here: set[str]) -> bool:
    """Whether it can go on now that these parts have come: all that it sits on is there."""
    parts = set(fitting.parts)
    return bool(own & parts) and parts <= here and not step_of(fitting.item).on_wall


def _fit(shop: Workshop, fittings: Sequence[Fitting], standing: Sequence[str], loose: bool = False) -> None:
    plan = shop.plan
    first = fittings[0]
    how = step_of(first.item)
    lines = {fitting.line for fitting in fittings}
    all_ = [*fittings, *(f for f in plan.fittings if f.line in lines and f.item.kind in COMPANIONS)]
    count = sum(fitting.count for fitting in fittings)
    glued = any(fitting.held_by.glued or fitting.other_held_by.glued for fitting in fittings)
    parts = tuple(dict.fromkeys(part for fitting in fittings for part in fitting.parts))
    marked = marked_recesses(shop, all_)
    operation = shop.operation(
        how.name,
        how.template,
        (*parts, *_carried_sides(plan, fittings)),
        way=how.way,
        pieces=count if first.item.family.lines_hole else len(fittings),
        fittings=all_,
        after=() if loose else all_coats(shop),
        wait_hours=EPOXY_HOURS if glued else 0.0,
    )
    named = how.glued_title if glued and how.glued_title else how.title
    thing = first.item.plural if count > 1 and not runs_on_slides(first) else first.item.name
    shown = tuple(dict.fromkeys(fitting.parts[0] for fitting in fittings)) if how.inside else parts
    hidden = _before_it(plan, fittings) if how.inside else set()
    around = tuple(part for part in standing if part not in shown and part not in hidden)
    scene = Scene((*around, *shown), (), (), (), tuple(fitting.id for fitting in fittings), pose=how.pose)
    if first.item.family.on_cleat:
        scene = _hooked_over(fittings, scene)
    known = plan.catalogue.cautions
    shop.add(
        operation.id,
        Stage.ASSEMBLE if loose else Stage.PLACE if how.on_wall else Stage.FIT,
        shop.words.put(named) if named else shop.words.tell("Fit the {}", lower_first(thing)),
        (*marked, operation),
        scene,
        hardware=uses_of(all_, plan.catalogue.hardware),
        cautions=[known[name] for name in first.item.family.cautions if name in known],
    )


def _hooked_over(fittings: Sequence[Fitting], scene: Scene) -> Scene:
    """The half on the wall, and the half on the piece that comes down over it; the rest of the piece would hide both."""
    wall = tuple(dict.fromkeys(fitting.parts[0] for fitting in fittings))
    upper = tuple(dict.fromkeys(part for fitting in fittings for part in fitting.parts[1:]))
    return replace(scene, standing=wall, new=upper, moves=tuple(Move(part, (0.0, 0.0, -1.0)) for part in upper))


def _before_it(plan: Plan, fittings: Sequence[Fitting]) -> set[str]:
    """What would hide hardware on the inside: the door, lid or panel that takes its other half."""
    mates = {part for fitting in fittings for part in fitting.parts[1:]}
    loose = {plan.part(part).assembly for part in mates if plan.assembly(plan.part(part).assembly).loose}
    return {part.id for part in plan.parts if part.assembly in loose}


def _carried_sides(plan: Plan, fittings: Sequence[Fitting]) -> tuple[str, ...]:
    """What the other half of a slide is screwed to: the sides of the drawer that it carries."""
    return tuple(dict.fromkeys(side.id for fitting in fittings for side in carried_sides(plan, fitting)))
