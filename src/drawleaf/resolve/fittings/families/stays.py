"""Lid stays: an arm between the inside of a box and the underside of its lid, and the room that it swings in."""

from __future__ import annotations

from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import coordinates
from drawleaf.resolve.fittings.families.task import HAIR, Task, around, block, outwards
from drawleaf.units import ZERO, Length


def fit(task: Task) -> None:
    """On the side that is named, right under the lid; ``at: {y: ...}`` is the middle of its arm."""
    lids = [part for part in task.mates() if part.thickness is Axis.Z]
    if not lids or task.item.body is None:
        if task.entry.other_half_on is not None:
            task.error(
                "hardware-unmet",
                f"{task.item.name}: “{task.entry.other_half_on}” has no lid lying flat",
                "other_half_on",
            )
        return
    for part in task.parts:
        lid = min(lids, key=lambda one: abs(one.seen.z.low - part.seen.z.high).exact_mm)
        face = Face(task.entry.face) if task.entry.face else _inner(task, part, lid)
        for y in coordinates(task, Axis.Y):
            room = _room(task, part, face, lid, y)
            if room is None or not _free(task, part, lid, room):
                return
            out, high = task.item.body[1], task.item.body[2]
            body = room.with_span(Axis.Z, Span(lid.seen.z.low - high, lid.seen.z.low))
            body = body.with_span(face.axis, outwards(face, part.seen.face(face), out))
            body = body.with_span(Axis.Y, around(y, task.item.body[0]))
            at = body.center.moved(face.axis, part.seen.face(face))
            task.place((part, lid), face, at, body)


def _inner(task: Task, part: Part, lid: Part) -> Face:
    """The face of a side that looks into the box: towards the middle of the whole lid, of which the part that is named may be one end."""
    axis = part.thickness
    spans = [one.seen.span(axis) for one in task.tools.shop.values() if one.assembly == lid.assembly]
    middle = (min(span.low for span in spans) + max(span.high for span in spans)) / 2
    return axis.high if part.seen.span(axis).middle < middle else axis.low


def _room(task: Task, part: Part, face: Face, lid: Part, y: Length) -> Box | None:
    """The room that the arm asks for: below the lid, along the side. Reports where the side is not there, or the lid not over it."""
    deep, high = task.measure("room deep"), task.measure("room high")
    gap = lid.seen.z.low - part.seen.z.high
    if gap < -HAIR or gap > high or lid.seen.span(face.axis).overlap(part.seen.span(face.axis)) is None:
        task.error(
            "hardware-unmet",
            f"{task.item.name}: “{lid.id}” does not lie over “{part.id}”",
            "other_half_on",
            f"Its underside is {task.say(gap)} above the side." if gap.exact_mm > 0 else "",
        )
        return None
    span = around(y, deep)
    own = part.seen.y
    if part.thickness is not Axis.X or span.low < own.low or span.high > own.high:
        task.error(
            "hardware-clearance",
            f"{task.item.name}: it needs {task.say(deep)} along the side, from y {task.say(span.low)} to {task.say(span.high)}; “{part.id}” runs from {task.say(own.low)} to {task.say(own.high)}",
            "at",
            mend="Move it, or take a smaller stay.",
        )
        return None
    if part.seen.z.extent + gap < high:
        task.error(
            "hardware-clearance",
            f"{task.item.name}: it needs {task.say(high)} below the lid; “{part.id}” is {task.say(part.seen.z.extent)} high",
            "on",
        )
        return None
    return block(
        part.seen.center,
        {
            Axis.Y: span,
            Axis.Z: Span(lid.seen.z.low - high, lid.seen.z.low),
            face.axis: outwards(face, part.seen.face(face), task.item.body[1] if task.item.body else ZERO),
        },
    )


def _free(task: Task, part: Part, lid: Part, room: Box) -> bool:
    for other in task.tools.shop.values():
        shared = other.seen.overlap(room) if other.id not in (part.id, lid.id) else None
        if shared is None:
            continue
        takes = {axis: shared.extent(axis) for axis in (Axis.Y, Axis.Z)}
        task.error(
            "hardware-clearance",
            f"{task.item.name}: “{other.id}” stands in the room of its arm, by {task.say(min(takes.values()))}",
            "at",
            f"The arm asks for {task.say(task.measure('room deep'))} along the side and {task.say(task.measure('room high'))} below the lid.",
            "Move the stay along the side, or what stands there.",
        )
        return False
    return True
