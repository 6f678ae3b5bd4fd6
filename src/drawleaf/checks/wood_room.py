"""Room for solid wood where it is held but must move: a panel in its grooves, a top on its slotted screws or its fasteners.

Too little, and swelling wood bursts its frame or shears its screws. Each way of holding wood loosely is one function in ``CAPTURES``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from drawleaf.checks.context import Bench, called, figures, judged, mm, result, sentence
from drawleaf.checks.wood_movement import glued_mm, tenon_mortises
from drawleaf.joinery.moisture import MOVEMENT_SOURCE, change_over, seasonal_change
from drawleaf.model.checks import CheckResult, Fine, Sentence
from drawleaf.model.place import Axis
from drawleaf.model.plan import BoxCut, Fastener, Fitting, Joint, Part
from drawleaf.model.position import Position
from drawleaf.setting_out.screws import SLOT_HOLES, clearance_hole
from drawleaf.units import ZERO

NAME = "panel-room"
SHEET = "The {part} is sheet stock and hardly moves; {where} {room} altogether, so that the joint closes."
SWELLS = "The {part} swells by {swells} from the driest to the dampest weeks; {where} {room} {how}."


@dataclass(frozen=True, slots=True)
class Captured:
    """A part that is held with room to move. ``room`` in mm is how much it may grow in all, ``swells`` how much it grows there;
    ``where`` says what leaves the room, with its verb: ``its grooves leave``; ``how`` ends the sentence. ``at`` is the joint, if one."""

    part: Part
    room: float
    swells: float
    where: str
    mend: Sentence
    at: Joint | None = None
    position: Position | None = None
    how: str = "altogether"


def in_grooves(bench: Bench, part: Part) -> Iterator[Captured]:
    """A part that sits loose in channels along its width."""
    across = part.width_axis
    joints = [
        joint
        for joint in bench.joints_of[part.id]
        if joint.family.held_in_channel and joint.insert == part.id and joint.face.axis is across and not joint.glued
    ]
    if not joints:
        return
    swells = seasonal_change(part, bench.plan.checks).mm
    mend = sentence(
        "Write “clearance: {play}” or more on its groove joints, or make the panel of sheet stock.",
        play=mm((swells + 0.8) / len(joints)),
    )
    yield Captured(part, sum(_play(bench, joint) for joint in joints), swells, "its grooves leave", mend, joints[0])


def in_slots(bench: Bench, part: Part) -> Iterator[Captured]:
    """Solid wood on screws that slide: the one that is farthest from where the part is held slides farthest."""
    if not seasonal_change(part, bench.plan.checks):
        return
    across = part.width_axis
    sliding = [
        (one.at.along(across).mm, joint, _slides_by(one))
        for joint in bench.joints_of[part.id]
        for one in joint.fasteners
        if one.slotted and one.into == part.id and not one.item.pin
    ]
    if not sliding:
        return
    # Held nowhere else, it settles about its middle.
    fixed = _fixed_places(bench, part) or [part.body.span(across).middle.mm]
    far, joint, room = max(sliding, key=lambda one: max(min(fixed) - one[0], one[0] - max(fixed)))
    distance = max(min(fixed) - far, far - max(fixed), 0.0)
    swells = change_over(mm(distance), part.stock.material, bench.plan.checks).mm
    mend = sentence("Fix the {part} nearer to its middle, so that it moves both ways from there.", part=called(part))
    yield Captured(part, room, swells, "the slots of its screws leave", mend, joint, how="to either side")


def _slides_by(screw: Fastener) -> float:
    """How far a screw in the middle of its slot slides to one side, mm."""
    shank = screw.item.diameter.mm if screw.item.diameter is not None else 0.0
    hole = clearance_hole(screw.item.gauge).mm if screw.item.gauge is not None else shank
    return (SLOT_HOLES * hole - shank) / 2


def on_top_fasteners(bench: Bench, part: Part) -> Iterator[Captured]:
    """A table top on figure-8s, clips or buttons, each of which lets it move so far to either side."""
    across = part.width_axis
    held = [fitting for fitting in bench.plan.fittings if fitting.item.family.carries_top and fitting.moving]
    held = [
        fitting
        for fitting in held
        if part.id in fitting.parts and part.id in (one.id for one in bench.moving_parts(fitting))
    ]
    if not held or not seasonal_change(part, bench.plan.checks):
        return
    fixed = _fixed_places(bench, part) or [part.body.span(across).middle.mm]
    away = {
        fitting.id: max(min(fixed) - fitting.at.along(across).mm, fitting.at.along(across).mm - max(fixed), 0.0)
        for fitting in held
    }
    far = max(held, key=lambda fitting: away[fitting.id])
    swells = change_over(mm(away[far.id]), part.stock.material, bench.plan.checks).mm
    room = min(_lets_move(bench, fitting, across) for fitting in held if away[fitting.id] == away[far.id])
    mend = sentence(
        "Take fasteners with more travel, or fix the {part} along its middle so that it moves both ways from there.",
        part=called(part),
    )
    yield Captured(
        part, room, swells, "its fasteners let it move by", mend, position=far.position, how="to either side"
    )


def _lets_move(bench: Bench, fitting: Fitting, across: Axis) -> float:
    """How far a fastener lets the top move to one side, mm. In a slot that runs the way the top moves, what the slot is longer than its tongue
    is shared between both sides."""
    travel = (fitting.item.measure("travel") or ZERO).mm
    wide = fitting.item.measure("wide")
    rail = bench.parts[fitting.parts[0]]
    if wide is None or fitting.face.axis is across:
        return travel
    slots = [
        cut.box.extent(across).mm
        for cut in rail.features
        if isinstance(cut, BoxCut)
        and cut.position == fitting.position
        and cut.box.span(across).middle == fitting.at.along(across)
    ]
    return min([travel, *((slot - wide.mm) / 2 for slot in slots)])


def in_breadboards(bench: Bench, part: Part) -> Iterator[Captured]:
    """A top whose outer tenons have room in the mortises of its breadboard ends: the outermost moves most."""
    across = part.width_axis
    for joint in bench.joints_of[part.id]:
        mortises = tenon_mortises(bench, joint) if joint.family.caps_end and joint.insert == part.id else []
        if len(mortises) < 2:
            continue
        width = min(cut.box.extent(across).mm for cut in mortises)
        middle = part.body.span(across).middle.mm
        far = max(mortises, key=lambda cut: abs(cut.box.span(across).middle.mm - middle))
        room = (far.box.extent(across).mm - width) / 2
        reach = abs(far.box.span(across).middle.mm - middle) + width / 2
        swells = change_over(mm(reach), part.stock.material, bench.plan.checks).mm
        mend = sentence("Write “clearance: {play}” or more on the breadboard joint.", play=mm(swells + 0.8))
        yield Captured(part, room, swells, "its outer tenons have", mend, joint, how="of room on each side")


def _fixed_places(bench: Bench, part: Part) -> list[float]:
    """Where, across its grain, a part is held fast by glue or by screws that do not slide."""
    across = part.width_axis
    fixed: list[float] = []
    for joint in bench.joints_of[part.id]:
        if joint.glued:
            fixed += glued_mm(bench, joint, across)
        fixed += [one.at.along(across).mm for one in joint.fasteners if not one.slotted]
    return fixed


CAPTURES: tuple[Callable[[Bench, Part], Iterator[Captured]], ...] = (
    in_grooves,
    in_slots,
    on_top_fasteners,
    in_breadboards,
)


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each kind of part and each way that holds it loosely, about the copy with the least room to spare."""
    for _, group in bench.kinds():
        for capture in CAPTURES:
            found = [one for part in group for one in capture(bench, part)]
            if found:
                yield _finding(bench, max(found, key=lambda one: one.swells - one.room), group)


def _play(bench: Bench, joint: Joint) -> float:
    """What is left at the bottom of a channel behind the panel's edge."""
    axis = joint.face.axis
    cuts = [
        feature.box.extent(axis).mm
        for feature in bench.parts[joint.receiver].features
        if isinstance(feature, BoxCut) and feature.joint == joint.id
    ]
    return max(max(cuts, default=0.0) - joint.depth.mm, 0.0)


def _finding(bench: Bench, held: Captured, group: tuple[Part, ...]) -> CheckResult:
    return result(
        NAME,
        "Room for solid wood to move" if held.swells else "Room for panels",
        judged(held.swells, held.room, 2 * held.room),
        group,
        sentence(
            SWELLS if held.swells else SHEET,
            part=called(held.part),
            swells=Fine(mm(held.swells)),
            where=held.where,
            room=Fine(mm(held.room)),
            how=held.how,
        ),
        figures=figures(swells=Fine(mm(held.swells)), room=Fine(mm(held.room))),
        limit=sentence("no more than the room that is left, for wood fitted in the driest week"),
        source=MOVEMENT_SOURCE,
        remedy=held.mend,
        position=held.position or (held.at.position if held.at is not None else held.part.position),
        steps=bench.steps_with(one.id for one in group),
    )
