"""Screws into the wall: a hole for each through the part that it holds and through what lies behind that, unless the author has bored one there."""

from __future__ import annotations

from drawleaf.model.place import Face, Point
from drawleaf.model.plan import Bore, Part
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import Length

SAME_SPOT = Length.of_mm(1)
"""A hole no farther from the screw's place than this is the one that it goes through."""


def fit(task: Task) -> None:
    """One to each place on the face that the line names."""
    if not (task.needs("face", "face: front") and task.needs("at", "at: {x: 3, z: 1-1/2}")):
        return
    named = task.face()
    if named is None:
        return
    for part, face in task.sided(named):
        for at in task.places(part, face):
            spans = {}
            if task.item.body is not None:
                long, out, wide = task.item.body
                first, second = face.axis.others()
                spans = {first: around(at.along(first), long), second: around(at.along(second), wide)}
                spans[face.axis] = outwards(face, at.along(face.axis), out)
            body = block(at, spans) if spans else None
            if body is not None and not task.in_the_open(body):
                return
            hole = task.item.hole or task.item.diameter
            for wood in (part, *_behind(task, part, face, at)):
                if hole is not None and not _bored(wood, face, at):
                    task.cut_bore(wood, face, at, hole, None, kind="hole")
            task.place((part,), face, at, body, count=task.count or 1)


def _behind(task: Task, part: Part, face: Face, at: Point) -> list[Part]:
    """What lies between the part and the wall where the screw goes, one behind the other."""
    found: list[Part] = []
    surface = part.body.face(face.opposite)
    for _ in task.tools.shop:
        over = (
            other
            for other in task.tools.shop.values()
            if other.body.face(face) == surface
            and all(other.body.span(a).low <= at.along(a) <= other.body.span(a).high for a in face.axis.others())
        )
        other = next(over, None)
        if other is None:
            break
        found.append(other)
        surface = other.body.face(face.opposite)
    return found


def _bored(part: Part, face: Face, at: Point) -> bool:
    """Whether a hole goes right through the part there already."""
    return any(
        isinstance(one, Bore)
        and one.depth is None
        and one.face.axis is face.axis
        and all(abs((one.start.along(a) - at.along(a)).exact_mm) <= SAME_SPOT.exact_mm for a in face.axis.others())
        for one in part.features
    )
