"""Butt and piano hinges: two leaves between an edge of the door and the part beside it, let in until the gap is right."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.hinge_counts import usual_hinges
from drawleaf.model.place import Axis, Face, Span
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import spread
from drawleaf.resolve.fittings.families.swing import swings_free
from drawleaf.resolve.fittings.families.task import HAIR, Carried, Task, around, block, outwards
from drawleaf.units import ZERO, Length

FAR = Length.of_inches(Fraction(3, 4))
"""A part that stands further from the door than this is not the one it hangs on."""
BEHIND = Length.of_inches(Fraction(3, 32))
"""Wood that stays behind a leaf, or the edge breaks out: common practice, no source."""
POINT = Length.of_inches(Fraction(1, 32))
PIANO_SHORT = Length.of_inches(Fraction(1, 32))
"""A piano hinge is sawn this much shorter at each end."""


@dataclass(frozen=True, slots=True)
class DoorAndPost:
    """Where the door lies beside what it hangs on: ``face`` of the fixed part looks across the ``gap`` at ``door``; ``run`` is along the pin,
    ``out`` the side on which the knuckle stands."""

    fixed: Part
    door: Part
    face: Face
    gap: Length
    run: Axis
    out: Face
    shared: Span


def fit(task: Task) -> None:
    """As many as the door asks for, on the one fixed part that is named."""
    hung = task.hung("side, the stile or the back that the hinges sit on")
    if hung is None:
        return
    fixed, carried = hung
    meeting = _meeting(task, fixed, carried)
    if meeting is None:
        return
    depths = _depths(task, meeting)
    if depths is None or not _leaves_fit(task, meeting) or not _screws_stay_inside(task, meeting, depths):
        return
    if not _opens(task, meeting, carried):
        return
    long, middles = _where(task, meeting)
    for middle in middles:
        _one(task, meeting, depths, carried, middle, long)


def _meeting(task: Task, fixed: Part, carried: Carried) -> DoorAndPost | None:
    """The pair of faces that lie closest and largest; reported where nothing of the door is beside the part."""
    found: list[tuple[tuple, DoorAndPost]] = []
    nearest: Length | None = None
    for door in carried.parts:
        for face in Face:
            gap = (door.seen.face(face.opposite) - fixed.seen.face(face)) * face.side
            a, b = face.axis.others()
            shared = {axis: door.seen.span(axis).overlap(fixed.seen.span(axis)) for axis in (a, b)}
            first, second = shared[a], shared[b]
            if first is None or second is None or gap < -HAIR:
                continue
            nearest = gap if nearest is None or gap < nearest else nearest
            if gap > FAR:
                continue
            run = a if first.extent >= second.extent else b
            along, across = (first, second) if run is a else (second, first)
            out = _out(task, fixed, door, face, run)
            meeting = DoorAndPost(fixed, door, face, max(gap, ZERO), run, out, along)
            found.append(((gap.exact_mm, -along.extent.exact_mm * across.extent.exact_mm), meeting))
    if not found:
        far = f"The nearest is {task.say(nearest)} away." if nearest is not None else ""
        task.error(
            "hardware-unmet",
            f"{task.item.name}: nothing of “{task.entry.carries}” lies beside “{fixed.id}”",
            "carries",
            far,
            "A leaf hinge sits between an edge of the door and the part beside it; for a door that lies before the case take concealed hinges.",
        )
        return None
    meeting = min(found, key=lambda one: one[0])[1]
    step = abs(meeting.fixed.seen.face(meeting.out) - meeting.door.seen.face(meeting.out))
    if step > HAIR:
        task.error(
            "hardware-clearance",
            f"{task.item.name}: the {meeting.out.value} of “{meeting.door.id}” lies {task.say(step)} off that of “{fixed.id}”",
            "on",
            "The knuckle stands in front of both, so the two must be flush there.",
            "Make them flush, or name the side on which the knuckle stands: “face: back”.",
        )
        return None
    return meeting


def _out(task: Task, fixed: Part, door: Part, face: Face, run: Axis) -> Face:
    """The side of the knuckle: as given; else where both are flush, the front of a door and the back of a lid first."""
    if task.entry.face is not None:
        return Face(task.entry.face)
    axis = next(axis for axis in Axis if axis not in (face.axis, run))
    order = (axis.low, axis.high) if face.axis is not Axis.Z else (axis.high, axis.low)
    flush = [one for one in order if abs(fixed.seen.face(one) - door.seen.face(one)) <= HAIR]
    return flush[0] if flush else order[0]


def _depths(task: Task, meeting: DoorAndPost) -> tuple[Length, Length] | None:
    """How deep the leaves are let into the fixed part and the door, so that the closed hinge fills the gap; reported where it cannot."""
    folded = task.measure("folded")
    total = folded - meeting.gap
    if total < -HAIR:
        task.error(
            "hardware-clearance",
            f"{task.item.name}: {task.say(meeting.gap)} lie between “{meeting.fixed.id}” and “{meeting.door.id}”; the closed hinge fills {task.say(folded)}",
            "on",
            "The leaves would not lie on the wood.",
            f"Make the gap {task.say(folded)} or less. What is less is let in.",
        )
        return None
    total = max(total, ZERO)
    match task.entry.let_in:
        case "none" if total > HAIR:
            task.error(
                "hardware-clearance",
                f"{task.item.name}: the closed hinge is {task.say(folded)} thick, and the gap {task.say(meeting.gap)}",
                "let_in",
                f"{task.say(total)} must be let in.",
                f"Make the gap {task.say(folded)}, or leave out “let_in”.",
            )
            return None
        case "none":
            return ZERO, ZERO
        case "case":
            return total, ZERO
        case "door":
            return ZERO, total
        case _:
            return total / 2, total / 2


def leaf_depth(open_width: Length, pin: Length) -> Length:
    """How far a leaf reaches from the face that the knuckle stands before: half of the open hinge less half of the pin."""
    return (open_width - pin) / 2


def _leaves_fit(task: Task, meeting: DoorAndPost) -> bool:
    leaf = leaf_depth(task.measure("open"), task.measure("pin"))
    for part in (meeting.door, meeting.fixed):
        wood = part.seen.extent(meeting.out.axis)
        if leaf + BEHIND > wood:
            task.error(
                "hardware-wood",
                f"{task.item.name}: its leaf reaches {task.say(leaf)} over the edge of “{part.id}”, which is {task.say(wood)} thick",
                "item",
                f"{task.say(BEHIND)} of wood must stay behind the leaf.",
                "Take a smaller hinge, or a thicker part.",
            )
            return False
    return True


def _screws_stay_inside(task: Task, meeting: DoorAndPost, depths: tuple[Length, Length]) -> bool:
    item = task.tools.hardware.get(task.item.screws[0].item) if task.item.screws else None
    length = item.length if item is not None and item.length else ZERO
    for part, depth in zip((meeting.fixed, meeting.door), depths, strict=True):
        wood = part.seen.extent(meeting.face.axis)
        if depth + length - task.measure("leaf") + POINT > wood:
            task.error(
                "hardware-screws",
                f"{task.item.name}: its screws of {task.say(length)} come through “{part.id}”, which is {task.say(wood)} thick there",
                "item",
                mend="Take a smaller hinge, or a thicker part.",
            )
            return False
    return True


def _opens(task: Task, meeting: DoorAndPost, carried: Carried) -> bool:
    """A door turns out of its opening to the side of the knuckle; a lid turns up off its box."""
    if meeting.run is Axis.Z:
        return swings_free(task, carried, meeting.run, meeting.face.opposite, meeting.out)
    return swings_free(task, carried, meeting.run, meeting.out, meeting.face)


def _where(task: Task, meeting: DoorAndPost) -> tuple[Length, list[Length]]:
    """How long one is, and the middles along the pin."""
    long, room = task.measure("long"), meeting.shared.extent
    if not task.item.family.all_along:
        return long, spread(task, meeting.run, meeting.shared, long, long * Fraction(3, 2), usual_hinges(room.mm))
    needed = room - PIANO_SHORT * 2
    if long < needed:
        task.error(
            "hardware-clearance",
            f"{task.item.name} is {task.say(long)} long, and the edge {task.say(room)}",
            "item",
            "A piano hinge runs along the whole edge.",
            "Take the next longer one; it is sawn to length.",
        )
        return long, []
    return needed, [meeting.shared.middle]


def _one(
    task: Task, meeting: DoorAndPost, depths: tuple[Length, Length], carried: Carried, middle: Length, long: Length
) -> None:
    """One hinge: its two recesses, and its outline with the knuckle before the wood."""
    pin, folded = task.measure("pin"), task.measure("folded")
    leaf = leaf_depth(task.measure("open"), pin)
    along = around(middle, long)
    surface = meeting.fixed.seen.face(meeting.face)
    at = meeting.fixed.seen.center.moved(meeting.face.axis, surface).moved(meeting.run, middle)
    front = meeting.fixed.seen.face(meeting.out)
    at = at.moved(meeting.out.axis, front - leaf * meeting.out.side / 2)
    halves = ((meeting.fixed, meeting.face, depths[0]), (meeting.door, meeting.face.opposite, depths[1]))
    for part, face, depth in halves:
        if depth:
            spans = {
                meeting.run: along,
                meeting.out.axis: outwards(meeting.out, part.body.face(meeting.out), -leaf),
                face.axis: outwards(face, part.body.face(face), -depth),
            }
            task.cut_recess(part, face, block(at, spans))
    gap = outwards(meeting.face, surface - depths[0] * meeting.face.side, folded)
    ends = sorted((front + pin * meeting.out.side, front - leaf * meeting.out.side))
    body = block(
        at,
        {
            meeting.run: along,
            meeting.face.axis: around(gap.middle, max(folded, pin)),
            meeting.out.axis: Span(ends[0], ends[1]),
        },
    )
    task.place((meeting.fixed, meeting.door), meeting.face, at, body, moving=carried.id)
