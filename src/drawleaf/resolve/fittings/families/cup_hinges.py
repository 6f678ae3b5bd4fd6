"""Concealed hinges: a cup bored into the back of the door, a plate on the inside of the case, as the 32 mm system has them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.hinge_counts import usual_hinges
from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import spread
from drawleaf.resolve.fittings.families.swing import swings_free
from drawleaf.resolve.fittings.families.task import HAIR, Carried, Task, around, block, outwards
from drawleaf.units import ZERO, Length

HALF_MM = Length.of_mm(Fraction(1, 2))
ADJUSTS = Length.of_mm(Fraction(3, 2))
"""The hinge's own screw moves the door so far to either side: common practice, no source."""
UNDER_CUP = Length.of_mm(2)
PLATE_ROOM = Length.of_mm(12)
"""Wood behind the plate's screws, for the plate itself: common practice, no source."""
END = Length.of_mm(100)
"""From the end of a door to the middle of the first hinge: common practice, no source."""
PLATE = (Length.of_mm(50), Length.of_mm(6), Length.of_mm(20))
"""A mounting plate for the drawings: along the pin, thick, and half of its depth."""


@dataclass(frozen=True, slots=True)
class DoorAndSide:
    """``inner`` is the face of the case that takes the plate, ``back`` that of the door that takes the cup; ``overlay`` is how far the door
    covers the case, negative for a door between the sides."""

    fixed: Part
    door: Part
    inner: Face
    back: Face
    run: Axis
    overlay: Length


def fit(task: Task) -> None:
    """As many as the door asks for, on the one side that is named."""
    hung = task.hung("side that the plates sit on")
    if hung is None:
        return
    fixed, carried = hung
    meeting = _meeting(task, fixed, carried)
    if meeting is None:
        return
    if not swings_free(task, carried, meeting.run, meeting.inner.opposite, meeting.back.opposite):
        return
    boring = _boring(task, meeting)
    line = _plate_line(task, meeting)
    if boring is None or line is None or not _thickness(task, meeting):
        return
    shared = meeting.door.seen.span(meeting.run).overlap(meeting.fixed.seen.span(meeting.run))
    if shared is None:
        return
    edge = meeting.door.seen.face(meeting.inner.opposite)
    cup = edge + (boring + task.measure("cup") / 2) * meeting.inner.side
    long = task.measure("screw spacing") + Length.of_mm(12)
    count = usual_hinges(meeting.door.seen.extent(meeting.run).mm)
    for middle in spread(task, meeting.run, shared, long, END, count):
        if not _one(task, meeting, carried, middle, cup, line):
            return


def _meeting(task: Task, fixed: Part, carried: Carried) -> DoorAndSide | None:
    """The part of the door that covers or lies beside the edge of the side; reported where none does."""
    found: list[tuple[Length, DoorAndSide]] = []
    for door in carried.parts:
        if door.thickness is fixed.thickness:
            continue
        axis = fixed.thickness
        middle = sum((one.seen.span(axis).middle for one in carried.parts), ZERO) / len(carried.parts)
        inner = axis.high if fixed.seen.span(axis).middle < middle else axis.low
        run = next(one for one in Axis if one not in (axis, door.thickness))
        if door.seen.span(run).overlap(fixed.seen.span(run)) is None:
            continue
        inside = fixed.seen.span(door.thickness).middle > door.seen.span(door.thickness).middle
        back = door.thickness.high if inside else door.thickness.low
        overlay = (fixed.seen.face(inner) - door.seen.face(inner.opposite)) * inner.side
        found.append((overlay, DoorAndSide(fixed, door, inner, back, run, overlay)))
    if found:
        return max(found, key=lambda one: one[0])[1]
    task.error(
        "hardware-unmet",
        f"{task.item.name}: no part of “{task.entry.carries}” lies across “{fixed.id}”",
        "carries",
        "The cup goes into the back of the door, the plate onto a side that stands square to it.",
    )
    return None


def _boring(task: Task, meeting: DoorAndSide) -> Length | None:
    """Wood between the cup and the door's edge: overlay = reach - crank + boring (common practice, no source). Reports where it is out of range."""
    least, most = task.measure("least boring"), task.measure("most boring")
    base = task.measure("reach") - task.measure("crank")
    asked = meeting.overlay - base
    rounded = HALF_MM * (asked.ratio(HALF_MM) + Fraction(1, 2)).__floor__()
    given = task.length("boring") if task.entry.boring is not None else None
    if task.entry.boring is not None and given is None:
        return None
    if not _named_overlay(task, meeting):
        return None
    near = min(max(rounded, least), most)
    # A little beyond its range the hinge's own screws make up for.
    chosen = given if given is not None else near if abs(near - asked) <= ADJUSTS else rounded
    if not least <= chosen <= most:
        named = "an overlay" if meeting.overlay.exact_mm >= 0 else "a gap"
        task.error(
            "hinge-boring",
            f"{task.item.name}: {named} of {task.say(abs(meeting.overlay))} asks for a cup {task.say(chosen)} from the edge of “{meeting.door.id}”; it takes {task.say(least)} to {task.say(most)}",
            "boring" if given is not None else "item",
            f"This hinge is for {_range(task, base + least, base + most)}.",
            _other_hinge(task, meeting) or "Change how far the door covers the side.",
        )
        return None
    if abs(base + chosen - meeting.overlay) > ADJUSTS:
        task.error(
            "hinge-boring",
            f"{task.item.name}: bored {task.say(chosen)} from the edge, the door covers {task.say(base + chosen)}; it is drawn with {task.say(meeting.overlay)}",
            "boring",
            f"The hinge can be set {task.say(ADJUSTS)} to either side.",
            f"Write “boring: {task.say(rounded)}”, or leave it out.",
        )
        return None
    return chosen


def _range(task: Task, low: Length, high: Length) -> str:
    """``an overlay from 16 to 19 mm``, or for inset hinges the gap beside the door."""
    if high.exact_mm <= 0:
        return f"a door between the sides with {task.say(-high)} to {task.say(-low)} beside it"
    return f"a door that covers {task.say(max(low, ZERO))} to {task.say(high)} of the side"


def _named_overlay(task: Task, meeting: DoorAndSide) -> bool:
    """Whether the door lies as ``overlay`` says; reported where not."""
    named = task.entry.overlay
    inset = meeting.overlay.exact_mm < 0
    if named is None or (named == "inset") is inset:
        return True
    where = "between the sides" if inset else f"over the side by {task.say(meeting.overlay)}"
    task.error(
        "hardware-clearance",
        f"“{meeting.door.id}” is said to be {named}, and lies {where}",
        "overlay",
        mend="Move the door, or change “overlay”.",
    )
    return False


def _other_hinge(task: Task, meeting: DoorAndSide) -> str:
    """The hinge of the catalogue that suits this door."""
    for item in task.tools.hardware.values():
        base = (item.measure("reach") or ZERO) - (item.measure("crank") or ZERO)
        least, most = item.measure("least boring") or ZERO, item.measure("most boring") or ZERO
        if item.family.cupped and item is not task.item and least - ADJUSTS <= meeting.overlay - base <= most + ADJUSTS:
            return f"Take “{item.id}”."
    return ""


def _thickness(task: Task, meeting: DoorAndSide) -> bool:
    wood = meeting.door.seen.extent(meeting.back.axis)
    least, most = task.measure("thinnest"), task.measure("thickest")
    if least <= wood + HAIR and wood <= most and task.measure("cup deep") + UNDER_CUP <= wood:
        return task.thick_enough(
            meeting.fixed, meeting.inner, task.measure("plate deep"), "the hole for its plate", UNDER_CUP
        )
    task.error(
        "hardware-wood",
        f"{task.item.name}: “{meeting.door.id}” is {task.say(wood)} thick; the hinge takes {task.say(least)} to {task.say(most)}",
        "carries",
        f"Its cup is {task.say(task.measure('cup deep'))} deep.",
    )
    return False


def _plate_line(task: Task, meeting: DoorAndSide) -> Length | None:
    """Where the plate's two holes stand: so far behind the front edge, or behind the back of a door between the sides."""
    setback = task.measure("setback") if task.entry.setback is None else task.length("setback")
    if setback is None:
        return None
    edge = meeting.fixed.seen.face(meeting.back.opposite)
    if meeting.overlay.exact_mm < 0:
        edge = meeting.door.seen.face(meeting.back)
    line = edge + setback * meeting.back.side
    room = (meeting.fixed.seen.face(meeting.back) - line) * meeting.back.side
    if room < PLATE_ROOM:
        deep = (meeting.fixed.seen.face(meeting.back) - edge) * meeting.back.side
        task.error(
            "hardware-clearance",
            f"{task.item.name}: its plate needs {task.say(setback + PLATE_ROOM)} of depth; “{meeting.fixed.id}” has {task.say(deep)}",
            "on",
            f"Its screws stand {task.say(setback)} behind the front.",
            "Name the side of the case; a face frame takes leaf hinges.",
        )
        return None
    return line


def _one(task: Task, meeting: DoorAndSide, carried: Carried, middle: Length, cup: Length, line: Length) -> bool:
    """One hinge: its cup, the two holes of its plate, and its outline inside the case."""
    door, inner, back = meeting.door, meeting.inner, meeting.back
    at = door.seen.center.moved(back.axis, door.seen.face(back)).moved(inner.axis, cup).moved(meeting.run, middle)
    task.cut_bore(door, back, at, task.measure("cup"), task.measure("cup deep"), kind="hinge cup")
    plate = meeting.fixed.seen.center.moved(inner.axis, meeting.fixed.seen.face(inner)).moved(back.axis, line)
    for step in (-1, 1):
        hole = plate.moved(meeting.run, middle + task.measure("plate spacing") * step / 2)
        if not task.wide_enough(meeting.fixed, inner, hole, task.measure("plate hole") / 2, "a hole for its plate"):
            return False
        task.cut_bore(meeting.fixed, inner, hole, task.measure("plate hole"), task.measure("plate deep"), kind="hole")
    body = _body(meeting, plate.moved(meeting.run, middle), at)
    if not task.in_the_open(body, (door, meeting.fixed), "on"):
        return False
    task.place((meeting.fixed, door), inner, plate.moved(meeting.run, middle), body, moving=carried.id)
    return True


def _body(meeting: DoorAndSide, plate: Point, cup: Point):
    """From the side to the middle of the cup, and from the door's back to behind the plate."""
    inner, back = meeting.inner, meeting.back
    surface = meeting.fixed.seen.face(inner)
    reach = max((cup.along(inner.axis) - surface) * inner.side, PLATE[1])
    ends = sorted((meeting.door.seen.face(back), plate.along(back.axis) + PLATE[2] * back.side))
    return block(
        plate,
        {
            meeting.run: around(plate.along(meeting.run), PLATE[0]),
            inner.axis: outwards(inner, surface, reach),
            back.axis: Span(ends[0], ends[1]),
        },
    )
