"""What comes apart again: bolts with barrel nuts, lag screws and rail brackets between the end of a rail and the post that it meets."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import spread
from drawleaf.resolve.fittings.families.task import HAIR, Carried, Task, around, block, outwards
from drawleaf.resolve.fittings.running import middle_of
from drawleaf.units import Length

ENDS = Length.of_inches(Fraction(3, 2))
"""From the edges of a rail to the middle of the first and the last bolt: common practice, no source."""
BEYOND = Length.of_inches(Fraction(1, 8))
"""So much deeper than the bolt reaches is its hole bored, and so far beyond the middle of the nut it reaches: common practice, no source."""
LEAST_BEHIND = Length.of_inches(1)
"""Wood between the end of the rail and the barrel nut, or the nut pulls out: common practice, no source."""
FLOOR = Length.of_inches(Fraction(1, 16))


@dataclass(frozen=True, slots=True)
class Meeting:
    """The end of a ``rail`` against the face of a ``post``: ``into`` is the side of the rail that touches; ``run`` the axis up the rail's
    width, ``shared`` where both are there."""

    post: Part
    rail: Part
    into: Face
    run: Axis
    shared: Span

    @property
    def thick(self) -> Axis:
        """The axis of the rail's thickness."""
        return next(axis for axis in Axis if axis not in (self.into.axis, self.run))


def fit(task: Task) -> None:
    """A row of bolts or lag screws at each end of what is carried."""
    carried = task.carried()
    if carried is None:
        return
    for meeting in _meetings(task, carried):
        places = spread(task, meeting.run, meeting.shared, task.measure("hole"), ENDS, 2)
        for middle in places:
            if not _bolt(task, meeting, middle):
                return
            _place(task, meeting, middle, carried)


def fit_brackets(task: Task) -> None:
    """One bracket to each end: a plate let into the end of the rail, another into the post, with a pocket for the hooks."""
    carried = task.carried()
    if carried is None:
        return
    for meeting in _meetings(task, carried):
        long, wide, thick = task.measure("long"), task.measure("wide"), task.measure("thick")
        wood = meeting.rail.seen.extent(meeting.thick)
        if wide + FLOOR * 2 > wood:
            task.error(
                "hardware-wood",
                f"{task.item.name}: its plate is {task.say(wide)} wide, and the end of “{meeting.rail.id}” {task.say(wood)}",
                "item",
                mend="Take a thicker rail, or bolts.",
            )
            return
        for middle in spread(task, meeting.run, meeting.shared, long, long / 2 + HAIR, 1):
            at = meeting.rail.seen.center.moved(meeting.run, middle)
            spans = {meeting.run: around(middle, long), meeting.thick: around(at.along(meeting.thick), wide)}
            end = meeting.rail.seen.face(meeting.into)
            inner = block(at, {**spans, meeting.into.axis: outwards(meeting.into.opposite, end, thick)})
            task.cut_recess(meeting.rail, meeting.into, inner)
            post = meeting.into.opposite
            task.cut_recess(meeting.post, post, block(at, {**spans, meeting.into.axis: outwards(post, end, -thick)}))
            place = at.moved(meeting.into.axis, end)
            task.place((meeting.post, meeting.rail), post, place, inner, moving=carried.id)


def _meetings(task: Task, carried: Carried) -> list[Meeting]:
    """Where ends of one side touch faces of the other; reported where nothing does, or where no end is there."""
    found: list[Meeting] = []
    for fixed in task.parts:
        for part in carried.parts:
            for face in Face:
                meeting = _meeting(fixed, part, face)
                if meeting is not None:
                    found.append(meeting)
    if not found:
        named = task.entry.carries
        task.error(
            "hardware-unmet",
            f"{task.item.name}: no end of “{named}” meets what it is fitted on, nor the other way about",
            "carries",
            "It holds the end of a rail against the face of a post.",
            "Let the two touch, or name the parts that do.",
        )
    return found


def _meeting(fixed: Part, part: Part, face: Face) -> Meeting | None:
    """How a part of what is carried touches a face of a fixed part, the one or the other with its end."""
    if abs(part.seen.face(face.opposite) - fixed.seen.face(face)) > HAIR:
        return None
    shared = {axis: part.seen.span(axis).overlap(fixed.seen.span(axis)) for axis in face.axis.others()}
    if any(span is None for span in shared.values()):
        return None
    if part.length_axis is face.axis:
        rail, post, into = part, fixed, face.opposite
    elif fixed.length_axis is face.axis:
        rail, post, into = fixed, part, face
    else:
        return None
    run = next(axis for axis in face.axis.others() if axis is not rail.thickness)
    span = shared[run]
    assert span is not None  # looked at above
    return Meeting(post, rail, into, run, span)


def _bolt(task: Task, meeting: Meeting, middle: Length) -> bool:
    """The holes of one bolt: through the post, into the end of the rail, and across it for the nut; reported where there is no room."""
    post, rail, into = meeting.post, meeting.rail, meeting.into
    wood = post.seen.extent(into.axis)
    reach = task.measure("long") - wood
    nut = task.measure("nut")
    back = reach - nut / 2 - BEYOND
    least = LEAST_BEHIND if nut.exact_mm else task.measure("hold")
    if (back if nut.exact_mm else reach) < least:
        task.error(
            "hardware-screws",
            f"{task.item.name}: through “{post.id}”, {task.say(wood)} thick, it reaches only {task.say(max(reach, Length.of_mm(0)))} into “{rail.id}”",
            "item",
            f"At least {task.say(least)} of wood must be held.",
            "Take a longer one.",
        )
        return False
    at = rail.seen.center.moved(meeting.run, middle).moved(into.axis, post.seen.face(into))
    task.cut_bore(post, into, at, task.measure("hole"), None, kind="hole")
    task.cut_bore(rail, into, at, task.measure("pilot") or task.measure("hole"), reach + BEYOND, kind="hole")
    if not nut.exact_mm:
        return True
    side = _nut_side(task, meeting)
    if side is None:
        return False
    thick = rail.seen.extent(meeting.thick)
    deep = (thick + task.measure("nut long")) / 2
    if deep + FLOOR > thick:
        task.error(
            "hardware-wood",
            f"{task.item.name}: its nut is {task.say(task.measure('nut long'))} long, and “{rail.id}” {task.say(thick)} thick",
            "item",
            f"{task.say(FLOOR)} of wood must stay behind it.",
            "Take a smaller one, or a thicker rail.",
        )
        return False
    cross = at.moved(into.axis, rail.seen.face(into) - back * into.side)
    task.cut_bore(rail, side, cross, nut, deep, kind="hole")
    return True


def _nut_side(task: Task, meeting: Meeting) -> Face | None:
    """The side of the rail that the nut goes in from: as given, else the one that looks to the middle of the piece."""
    if task.entry.face is not None:
        face = Face(task.entry.face)
        if face.axis is meeting.thick:
            return face
        task.error(
            "hardware-unmet",
            f"{task.item.name}: “{meeting.rail.id}” is not bored from its {face.value} for the nut",
            "face",
            mend=f"Write “face: {meeting.thick.low.value}” or “face: {meeting.thick.high.value}”.",
        )
        return None
    axis = meeting.thick
    middle = middle_of(tuple(task.tools.shop.values()), axis)
    return axis.high if meeting.rail.seen.span(axis).middle.exact_mm <= middle else axis.low


def _place(task: Task, meeting: Meeting, middle: Length, carried: Carried) -> None:
    """The bolt's head on the far side of the post."""
    outer = meeting.into
    at = meeting.rail.seen.center.moved(meeting.run, middle).moved(outer.axis, meeting.post.seen.face(outer))
    head = task.measure("head")
    spans = {axis: around(at.along(axis), head) for axis in outer.axis.others()}
    body: Box = block(at, {**spans, outer.axis: outwards(outer, at.along(outer.axis), task.measure("head high"))})
    task.place((meeting.post, meeting.rail), outer, at, body, moving=carried.id)
