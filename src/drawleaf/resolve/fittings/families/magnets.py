"""Inset magnets: a magnet bored into one part, its steel plate let into the part that it holds."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.place import Box, Face, Point
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import ZERO, Length

# A magnet of this size holds through a gap of about this much and no more: common practice, no source.
PULL = Length.of_inches(Fraction(1, 16))
SINK = Length.of_inches(Fraction(1, 64))
# A screw's point stays this far from the far side: common practice, no source.
POINT = Length.of_inches(Fraction(1, 32))


def fit(task: Task) -> None:
    """At each place a magnet in the part and a plate in the part opposite."""
    told = task.face()
    mates = task.mates()
    sink = SINK if task.entry.set_below is None else task.length("set_below")
    if told is None or sink is None or not mates:
        return
    if sink.exact_mm < 0:
        task.error(
            "hardware-clearance",
            f"{task.item.name}: its halves would stand out by {task.say(-sink)}",
            "set_below",
            mend="Leave “set_below” out.",
        )
        return
    for part, face in task.sided(told):
        for at in task.places(part, face):
            mate = _opposite(task, part, face, at, mates, sink)
            if mate is None or not _sound(task, part, mate, face, at, sink):
                return
            task.cut_bore(part, face, at, task.measure("across"), task.measure("thick") + sink)
            _plate(task, mate, face.opposite, at, sink)
            body = _body(task, part, face, at, sink)
            task.place((part, mate), face, at, body)


def _opposite(task: Task, part: Part, face: Face, at: Point, mates: tuple[Part, ...], sink: Length) -> Part | None:
    """The part that lies against the magnet, near enough for it to hold; reported where none does."""
    over = [
        mate
        for mate in mates
        if all(mate.seen.span(a).low <= at.along(a) <= mate.seen.span(a).high for a in face.axis.others())
    ]
    gaps = sorted(
        ((gap, mate.id, mate) for mate in over if (gap := _gap(part, mate, face)).exact_mm > -1),
        key=lambda one: (one[0].exact_mm, one[1]),
    )
    if not gaps:
        task.error(
            "hardware-unmet",
            f"{task.item.name}: nothing of “{task.entry.other_half_on}” lies opposite the {face.value} of “{part.id}” there",
            "other_half_on",
            "The magnet holds a steel plate that is let into the part opposite.",
            "Name another face, or move it.",
        )
        return None
    gap, _, mate = gaps[0]
    if gap + sink * 2 > PULL:
        task.error(
            "hardware-clearance",
            f"{task.item.name}: {task.say(gap + sink * 2)} lie between magnet and plate; it holds through {task.say(PULL)} at most",
            "at",
            f"The gap between “{part.id}” and “{mate.id}” is {task.say(gap)}, and each half lies {task.say(sink)} below its face.",
            "Bring the parts together, or let the halves in less deep with “set_below”.",
        )
        return None
    return mate


def _gap(part: Part, mate: Part, face: Face) -> Length:
    return (mate.seen.face(face.opposite) - part.seen.face(face)) * face.side


def _sound(task: Task, part: Part, mate: Part, face: Face, at: Point, sink: Length) -> bool:
    """Whether both halves have wood round and under them, and their screws stay inside."""
    screw = task.tools.hardware.get(task.item.screws[0].item) if task.item.screws else None
    length = screw.length if screw is not None and screw.length is not None else ZERO
    halves = (
        (part, face, "the magnet's bore", task.measure("thick"), task.measure("across") / 2),
        (mate, face.opposite, "the plate's recess", task.measure("plate thick"), _plate_reach(task)),
    )
    for one, side, what, thick, reach in halves:
        wood = one.body.extent(side.axis)
        if not task.wide_enough(one, side, at, reach, what, Length.of_inches(Fraction(1, 16))):
            return False
        if not task.thick_enough(one, side, thick + sink, what):
            return False
        held = task.held_by if one is part else task.other_held_by
        if held.screwed and sink + length + POINT > wood:
            task.error(
                "hardware-screws",
                f"{task.item.name}: its screw of {task.say(length)} comes through “{one.id}”, which is {task.say(wood)} thick",
                "on" if one is part else "other_half_on",
                mend="Take the smaller magnet or a thicker part, or glue that half: "
                f"“{'held_by' if one is part else 'other_half_held_by'}: glue”.",
            )
            return False
    return True


def _plate_reach(task: Task) -> Length:
    """Half of the narrower way of the plate: what must have wood beside it all round."""
    return (task.measure("plate across") or task.measure("plate wide")) / 2


def _plate(task: Task, mate: Part, face: Face, at: Point, sink: Length) -> None:
    depth = task.measure("plate thick") + sink
    across = task.measure("plate across")
    if across:
        task.cut_bore(mate, face, at, across, depth)
        return
    run = max(face.axis.others(), key=lambda axis: mate.seen.extent(axis).exact_mm)
    other = next(axis for axis in face.axis.others() if axis is not run)
    spans = {
        run: around(at.along(run), task.measure("plate long")),
        other: around(at.along(other), task.measure("plate wide")),
        face.axis: outwards(face, mate.body.face(face), -depth),
    }
    task.cut_recess(mate, face, block(at, spans))


def _body(task: Task, part: Part, face: Face, at: Point, sink: Length) -> Box:
    """The magnet in its bore."""
    across = task.measure("across")
    spans = {axis: around(at.along(axis), across) for axis in face.axis.others()}
    surface = part.seen.face(face) - sink * face.side
    spans[face.axis] = outwards(face, surface, -task.measure("thick"))
    return block(at, spans)
