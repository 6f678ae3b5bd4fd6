"""Castors on plates: the plate wholly on wood, screws that stay inside it, and room for the wheel to swivel."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import ZERO, Length

CLEAR = Length.of_inches(Fraction(1, 8))
"""Room that a swivelling wheel keeps from what is beside it: common practice, no source."""
TRAIL = Fraction(13, 10)
"""The wheel trails behind its swivel: it takes this much of its diameter about the middle of the plate, for the drawings."""
POINT = Length.of_inches(Fraction(1, 16))


def fit(task: Task) -> None:
    """One to each place on the underside, its plate along the longer way of the part."""
    spots: list[Point] = []
    for part in task.parts:
        long, wide = task.measure("plate long"), task.measure("plate wide")
        if part.seen.y.extent > part.seen.x.extent:
            long, wide = wide, long
        for at in task.places(part, Face.BOTTOM):
            if not (_plate_on(task, part, at, long, wide) and _screws(task, part) and _swivels(task, part, at)):
                return
            body = block(
                at,
                {
                    Axis.X: around(at.x, long),
                    Axis.Y: around(at.y, max(wide, task.measure("wheel") * TRAIL)),
                    Axis.Z: outwards(Face.BOTTOM, part.seen.z.low, task.measure("high")),
                },
            )
            task.place((part,), Face.BOTTOM, at, body)
            spots.append(at)
    _apart(task, spots)


def _plate_on(task: Task, part: Part, at: Point, long: Length, wide: Length) -> bool:
    for axis, extent in ((Axis.X, long), (Axis.Y, wide)):
        span, own = part.seen.span(axis), around(at.along(axis), extent)
        over = max(span.low - own.low, own.high - span.high)
        if over.exact_mm > 0:
            task.error(
                "hardware-wood",
                f"{task.item.name}: its plate hangs {task.say(over)} over “{part.id}” along {axis.value}",
                "at",
                f"The plate takes {task.say(long)} x {task.say(wide)} round its middle.",
                "Move it inwards, or put a block under the part.",
            )
            return False
    return True


def _screws(task: Task, part: Part) -> bool:
    item = task.tools.hardware.get(task.item.screws[0].item) if task.item.screws else None
    length = item.length if item is not None and item.length else ZERO
    wood = part.seen.z.extent
    if length + POINT <= wood:
        return True
    task.error(
        "hardware-screws",
        f"{task.item.name}: its screws of {task.say(length)} come through “{part.id}”, which is {task.say(wood)} thick",
        "on",
        mend="Put a block under the part, or take a thicker one.",
    )
    return False


def _swivels(task: Task, part: Part, at: Point) -> bool:
    """Whether no part stands within the circle of the wheel, between the plate and the floor."""
    needed = task.measure("swivel") + CLEAR
    top = part.seen.z.low
    bottom = top - task.measure("high")
    for other in task.tools.shop.values():
        if other.id == part.id or other.seen.z.low >= top or other.seen.z.high <= bottom:
            continue
        away = [
            max(ZERO, other.seen.span(a).low - at.along(a), at.along(a) - other.seen.span(a).high)
            for a in (Axis.X, Axis.Y)
        ]
        if away[0].exact_mm ** 2 + away[1].exact_mm ** 2 < needed.exact_mm**2:
            nearest = max(away)
            task.error(
                "hardware-clearance",
                f"{task.item.name}: “{other.id}” stands {task.say(nearest)} from its middle; it needs {task.say(needed)} to swivel",
                "at",
                "The wheel turns in a circle about the middle of its plate.",
                f"Move it {task.say(needed - nearest)} away from “{other.id}”.",
            )
            return False
    return True


def _apart(task: Task, spots: list[Point]) -> None:
    """Two wheels must not meet when both point at each other."""
    needed = task.measure("swivel") * 2
    for one, other in combinations(spots, 2):
        apart = (one.x - other.x).exact_mm ** 2 + (one.y - other.y).exact_mm ** 2
        if apart < needed.exact_mm**2:
            task.error(
                "hardware-clearance",
                f"{task.item.name}: two of them stand less than {task.say(needed)} apart, and their wheels would meet",
                "at",
                mend="Set them further apart.",
            )
            return
