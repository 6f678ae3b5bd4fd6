"""Corner brackets: one leg on a part, the other on the part that stands square to it."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.resolve.hardware.spread import coordinates
from drawleaf.resolve.hardware.task import HAIR, Task, around, block, outwards
from drawleaf.units import ZERO, Length

POINT = Length.of_inches(Fraction(1, 32))


def fit(task: Task) -> None:
    """In the inside corner of the two parts; ``at`` says where along it."""
    told = task.face()
    mates = task.mates()
    if told is None or not mates:
        return
    for part, face in task.sided(told):
        mate = next((one for one in mates if _gap(part, one, face) <= HAIR and one.thickness is not face.axis), None)
        if mate is None:
            gap = min(_gap(part, one, face) for one in mates)
            task.error(
                "fitting-unmet",
                f"{task.item.name}: “{task.entry.meets}” does not stand on the {face.value} of “{part.id}”",
                "meets",
                f"They are {task.say(gap)} apart." if gap.exact_mm > 0 else "It does not stand square to it.",
                "Name the part that meets it at a right angle.",
            )
            return
        other = _side(task, part, mate)
        run = next(axis for axis in Axis if axis not in (face.axis, other.axis))
        if not (_leg_fits(task, part, other, mate) and _leg_fits(task, mate, face, part) and _screws(task, part, face)):
            return
        if not _screws(task, mate, other):
            return
        for middle in coordinates(task, run):
            at = part.seen.center.moved(face.axis, part.seen.face(face)).moved(run, middle)
            at = at.moved(other.axis, mate.seen.face(other))
            spans = {
                run: around(middle, task.measure("wide")),
                face.axis: outwards(face, part.seen.face(face), task.measure("leg")),
                other.axis: outwards(other, mate.seen.face(other), task.measure("leg")),
            }
            body = block(at, spans)
            if not task.in_the_open(body):
                return
            task.place((part, mate), face, at, body)


def _gap(part: Part, mate: Part, face: Face) -> Length:
    """How far the mate stands off the face; large where it does not lie over it at all."""
    if any(part.seen.span(axis).overlap(mate.seen.span(axis)) is None for axis in face.axis.others()):
        return Length.of_mm(10**6)
    return abs((mate.seen.face(face.opposite) - part.seen.face(face)) * face.side)


def _side(task: Task, part: Part, mate: Part) -> Face:
    """The face of the mate that the second leg lies on: where ``at`` points, else where the part reaches further."""
    axis = mate.thickness
    text = getattr(task.entry.at, axis.value) if task.entry.at is not None else None
    if text is not None and task.entry.at is not None:
        place = task.tools.evaluator.coordinate(text, axis, task.scope, task.entry.at, axis.value)
        if place is not None:
            return axis.high if place >= mate.seen.span(axis).middle else axis.low
    low = mate.seen.span(axis).low - part.seen.span(axis).low
    high = part.seen.span(axis).high - mate.seen.span(axis).high
    return axis.high if high >= low else axis.low


def _leg_fits(task: Task, part: Part, along: Face, corner: Part) -> bool:
    room = (part.seen.face(along) - corner.seen.face(along)) * along.side
    leg = task.measure("leg")
    if leg <= room:
        return True
    task.error(
        "fitting-wood",
        f"{task.item.name}: “{part.id}” reaches {task.say(max(room, ZERO))} from the corner, its leg {task.say(leg)}",
        "fit",
        mend="Take a smaller bracket, or put it on the other side.",
    )
    return False


def _screws(task: Task, part: Part, face: Face) -> bool:
    item = task.tools.hardware.get(task.item.screws[0].item) if task.item.screws else None
    length = item.length if item is not None and item.length else ZERO
    wood = part.seen.extent(face.axis)
    if length - task.measure("thick") + POINT <= wood:
        return True
    task.error(
        "fitting-screws",
        f"{task.item.name}: its screws of {task.say(length)} come through “{part.id}”, which is {task.say(wood)} thick",
        "fit",
        mend="Put it on a thicker part.",
    )
    return False
