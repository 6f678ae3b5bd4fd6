"""Corner brackets: one leg on a part, the other on the part that stands square to it."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import coordinates
from drawleaf.resolve.fittings.families.task import HAIR, Task, around, block, outwards
from drawleaf.units import ZERO, Length

POINT = Length.of_inches(Fraction(1, 32))


def fit(task: Task) -> None:
    """In the inside corner of the two parts; ``at`` says where along it."""
    named = task.face()
    mates = task.mates()
    if named is None or not mates:
        return
    for part, face in task.sided(named):
        corner = _corner(task, part, face, mates)
        if corner is None:
            return
        mate, other = corner
        run = next(axis for axis in Axis if axis not in (face.axis, other.axis))
        if not (_leg_fits(task, part, other, mate) and _leg_fits(task, mate, face, part)):
            return
        if not (_screws(task, part, face) and _screws(task, mate, other)):
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


def _corner(task: Task, part: Part, face: Face, mates: tuple[Part, ...]) -> tuple[Part, Face] | None:
    """The part that makes a corner with the face, and its face there; of two corners the one that ``at`` points at, else the roomier. Reports where there is none."""
    found: list[tuple[Length, Part, Face]] = []
    for mate in mates:
        axis = mate.thickness
        if axis is face.axis:
            continue
        for other in (axis.low, axis.high):
            apart = max(_apart(part, mate, other), _apart(mate, part, face))
            if apart <= HAIR:
                found.append(((part.seen.face(other) - mate.seen.face(other)) * other.side, mate, other))
    if not found:
        task.error(
            "hardware-unmet",
            f"{task.item.name}: “{task.entry.other_half_on}” makes no corner with the {face.value} of “{part.id}”",
            "other_half_on",
            mend="Name the part that meets it at a right angle, and the face that looks into the corner.",
        )
        return None
    pointed = [one for one in found if _pointed_at(task, one[1], one[2])]
    _, mate, other = max(pointed or found, key=lambda one: one[0].exact_mm)
    return mate, other


def _apart(part: Part, mate: Part, face: Face) -> Length:
    """How far a part begins before a face of its mate, or beside it; none or less where the two make a corner."""
    if any(_gap(part, mate, axis) > HAIR for axis in face.axis.others()):
        return max(_gap(part, mate, axis) for axis in face.axis.others())
    return (part.seen.face(face.opposite) - mate.seen.face(face)) * face.side


def _gap(part: Part, mate: Part, axis: Axis) -> Length:
    one, other = part.seen.span(axis), mate.seen.span(axis)
    return max(one.low - other.high, other.low - one.high)


def _pointed_at(task: Task, mate: Part, face: Face) -> bool:
    """Whether ``at`` gives a place on that side of the mate."""
    text = getattr(task.entry.at, face.axis.value) if task.entry.at is not None else None
    if text is None or task.entry.at is None:
        return False
    place = task.tools.evaluator.coordinate(text, face.axis, task.scope, task.entry.at, face.axis.value)
    return place is not None and (place - mate.seen.span(face.axis).middle).exact_mm * face.side > 0


def _leg_fits(task: Task, part: Part, along: Face, corner: Part) -> bool:
    room = (part.seen.face(along) - corner.seen.face(along)) * along.side
    leg = task.measure("leg")
    if leg <= room:
        return True
    task.error(
        "hardware-wood",
        f"{task.item.name}: “{part.id}” reaches {task.say(max(room, ZERO))} from the corner, its leg {task.say(leg)}",
        "item",
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
        "hardware-screws",
        f"{task.item.name}: its screws of {task.say(length)} come through “{part.id}”, which is {task.say(wood)} thick",
        "item",
        mend="Put it on a thicker part.",
    )
    return False
