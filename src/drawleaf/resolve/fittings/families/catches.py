"""Magnetic, ball and roller catches: the catch on the case, its strike on the back of the door."""

from __future__ import annotations

from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import coordinates
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import Length


def fit(task: Task) -> None:
    """Right behind the closed door: only its place along the door is the author's to choose."""
    named = task.face()
    mates = task.mates()
    if named is None or not mates or not task.needs("at", "at: {z: 12}"):
        return
    for part, face in task.sided(named):
        inner = _door_face(part, face, mates)
        if inner is None:
            task.error(
                "hardware-unmet",
                f"{task.item.name}: “{task.entry.other_half_on}” does not lie across the {face.value} of “{part.id}”",
                "other_half_on",
                "The catch sits on a face that the closed door stands square to.",
            )
            return
        run = next(axis for axis in Axis if axis not in (face.axis, inner.axis))
        for middle in coordinates(task, run):
            door = _door_at(task, part, face, inner, run, middle, mates)
            if door is None:
                return
            start = door.seen.face(inner) + task.measure("strike") * inner.side
            deep = outwards(inner, start, task.measure("deep"))
            at = part.seen.center.moved(face.axis, part.seen.face(face)).moved(run, middle)
            at = at.moved(inner.axis, deep.middle)
            spans = {
                run: around(middle, task.measure("long")),
                inner.axis: deep,
                face.axis: outwards(face, part.seen.face(face), task.measure("out")),
            }
            body = block(at, spans)
            if not _on_wood(task, part, inner, body) or not task.in_the_open(body):
                return
            task.place((part, door), face, at, body)


def _door_face(part: Part, face: Face, mates: tuple[Part, ...]) -> Face | None:
    """The face of the door that looks into the case."""
    for mate in mates:
        axis = mate.thickness
        if axis is not face.axis:
            return axis.high if mate.seen.span(axis).middle < part.seen.span(axis).middle else axis.low
    return None


def _door_at(
    task: Task, part: Part, face: Face, inner: Face, run: Axis, middle: Length, mates: tuple[Part, ...]
) -> Part | None:
    """The part of the door that takes the strike; reported where the door is not there."""
    reach = part.seen.face(face) + task.measure("out") * face.side / 2
    over = [
        mate
        for mate in mates
        if mate.seen.span(run).low <= middle <= mate.seen.span(run).high
        and mate.seen.span(face.axis).low <= reach <= mate.seen.span(face.axis).high
    ]
    if over:
        return max(over, key=lambda mate: mate.seen.face(inner).exact_mm * inner.side)
    task.error(
        "hardware-unmet",
        f"{task.item.name}: at {run.value} {task.say(middle)} nothing of “{task.entry.other_half_on}” lies before it",
        "at",
        "Its strike is screwed to the back of the door.",
        "Move it along the door, or put it on another face.",
    )
    return None


def _on_wood(task: Task, part: Part, inner: Face, body: Box) -> bool:
    """Whether the catch, right behind the door, still lies on the part that holds it."""
    span, own = part.seen.span(inner.axis), body.span(inner.axis)
    over = max(span.low - own.low, own.high - span.high)
    if over <= task.measure("deep") / 4:
        return True
    task.error(
        "hardware-clearance",
        f"{task.item.name}: it must sit right behind the door, and there it stands {task.say(over)} off “{part.id}”",
        "on",
        f"It takes {task.say(task.measure('deep'))} behind the door's inside and {task.say(task.measure('strike'))} for its strike.",
        "Mount it on a part that reaches to the door.",
    )
    return False
