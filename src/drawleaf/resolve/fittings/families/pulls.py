"""Knobs and bar pulls held by machine screws from behind: their holes, and a screw as long as the wood is thick."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.plan import Fitting, Part
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import ZERO, Length

# The hole in a box front behind a drawer's front is this much larger, so that the front can still be shifted: common practice, no source.
SLACK = Length.of_inches(Fraction(1, 16))


def fit(task: Task) -> None:
    """One to each place; holes through the part and through what lies against its back."""
    named = task.face()
    spacing = task.length("center_to_center") or task.measure("spacing")
    if named is None:
        return
    for part, face in task.sided(named):
        axis = _axis(task, face, part)
        for at in task.places(part, face):
            behind = _behind(task, part, face, at)
            screw = _screw(task, part, behind, face)
            if screw is None:
                return
            ends = [at.along(axis) - spacing / 2, at.along(axis) + spacing / 2] if spacing else [at.along(axis)]
            for end in ends:
                spot = at.moved(axis, end)
                if not task.wide_enough(part, face, spot, task.item.hole or ZERO, "its hole"):
                    return
                _bore(task, part, behind, face, spot)
            body = _body(task.item, face, axis, at)
            if body is not None and not task.in_the_open(body):
                return
            task.place((part, *behind), face, at, body)
            if screw is not task.item:
                _add_screws(task, screw, (part, *behind), face, at, len(ends))


def _axis(task: Task, face: Face, part: Part) -> Axis:
    """The axis that a pull lies along: as given, else along x, or up an end that has no x."""
    if task.entry.along is not None:
        return Axis(task.entry.along)
    return Axis.X if face.axis is not Axis.X else Axis.Y if part.thickness is not Axis.Y else Axis.Z


def _behind(task: Task, part: Part, face: Face, at: Point) -> tuple[Part, ...]:
    """Parts that lie against the back of the front where the pull sits, one behind the other."""
    found: list[Part] = []
    surface = part.body.face(face.opposite)
    for _ in range(2):
        for other in task.tools.shop.values():
            over = all(other.body.span(a).low <= at.along(a) <= other.body.span(a).high for a in face.axis.others())
            if other.body.face(face) == surface and over:
                found.append(other)
                surface = other.body.face(face.opposite)
                break
    return tuple(found)


def _screw(task: Task, part: Part, behind: tuple[Part, ...], face: Face) -> HardwareItem | None:
    """What holds it: the item's own bolt where that suits, else the machine screw that does. None, with a report, where none does."""
    wood = sum((one.body.extent(face.axis) for one in behind), part.body.extent(face.axis))
    least, most = task.measure("least bite"), task.measure("most bite")
    if least <= task.measure("bolt") - wood <= most:
        return task.item
    screws = [item for item in of_kinds(task.tools.hardware, FastenerKind.MACHINE_SCREW) if item.length]
    fitting = [item for item in screws if least <= (item.length or ZERO) - wood <= most]
    if fitting:
        return min(fitting, key=lambda item: (item.length or ZERO).exact_mm)
    named = " and ".join(f"“{one.id}”" for one in (part, *behind))
    task.error(
        "hardware-screws",
        f"{task.item.name}: no machine screw holds it through {task.say(wood)} of wood",
        "on",
        f"It goes through {named}, and must reach {task.say(least)} to {task.say(most)} into the {task.item.name.lower()}.",
        "Make the wood thinner there, or take a pull that is screwed on from the front.",
    )
    return None


def _bore(task: Task, part: Part, behind: tuple[Part, ...], face: Face, at: Point) -> None:
    hole = task.item.hole or Length.of_inches(Fraction(3, 16))
    task.cut_bore(part, face, at, hole, None, kind="hole")
    for other in behind:
        task.cut_bore(other, face, at, hole + SLACK, None, kind="hole")


def _add_screws(task: Task, screw: HardwareItem, parts: tuple[Part, ...], face: Face, at: Point, count: int) -> None:
    task.fittings.append(
        Fitting(
            f"{task.line}-{len(task.fittings) + 1}",
            screw,
            count,
            tuple(part.id for part in parts),
            face,
            at,
            None,
            None,
            task.line,
            task.position,
        )
    )


def _body(item: HardwareItem, face: Face, axis: Axis, at: Point):
    if item.body is None:
        return None
    long, out, wide = item.body
    other = next(one for one in face.axis.others() if one is not axis)
    spans = {
        axis: around(at.along(axis), long),
        other: around(at.along(other), wide),
        face.axis: outwards(face, at.along(face.axis), out),
    }
    return block(at, spans)
