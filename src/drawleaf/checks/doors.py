"""Doors on hinges: the gaps round a door that lies between others, against what its wood swells by."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import HANGING, Bench, called, mm, result, sentence, shared, span_mm
from drawleaf.checks.gaps import EVEN, SOURCE, WIDE_GAP, Gaps, gap_near, limit
from drawleaf.joinery.moisture import seasonal_change
from drawleaf.model.checks import CheckResult
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part

NAME = "door-fit"


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each door that hangs between other parts."""
    for hinge in bench.leaves.values():
        door = [part for part in bench.moving_parts(hinge) if part.thickness is Axis.Y]
        if not door:
            continue  # a lid lies on its box, and may swell over it
        own = {part.id for part in bench.moving_parts(hinge)}
        others = [part for part in bench.plan.parts if part.id not in own]
        gaps = _gaps_round(door, others)
        if gaps:
            yield _finding(bench, door, gaps, hinge)


def _gaps_round(door: list[Part], others: list[Part]) -> dict[Axis, dict[int, float]]:
    """Room on each side of the door as a whole to what stands nearest, by the axis that it lies along and its side there."""
    found: dict[Axis, dict[int, float]] = {}
    outer = {
        axis: (min(span_mm(p.seen, axis)[0] for p in door), max(span_mm(p.seen, axis)[1] for p in door))
        for axis in Axis
    }
    for axis in (Axis.X, Axis.Z):
        across = Axis.Z if axis is Axis.X else Axis.X
        beside = [
            part
            for part in others
            if shared(outer[Axis.Y], span_mm(part.seen, Axis.Y)) > 0
            and shared(outer[across], span_mm(part.seen, across)) > 0
        ]
        for side in (-1, 1):
            gap = gap_near(outer[axis], (span_mm(part.seen, axis) for part in beside), side)
            if gap is not None:
                found.setdefault(axis, {})[side] = gap
    return found


def swelling(bench: Bench, door: list[Part], axis: Axis) -> float:
    """How much a door grows along an axis in a year, mm: the parts that lie beside one another along it. A panel that floats in its
    grooves moves within its frame and does not count."""
    fixed = [part for part in door if not _floats(bench, part)]
    spans: list[tuple[float, float, float]] = sorted(
        (*span_mm(part.seen, axis), seasonal_change(part, bench.plan.checks, axis).mm) for part in fixed
    )
    # Along a line across the door every place is in one part; the worst line counts.
    best: list[tuple[float, float]] = []
    for low, high, grows in spans:
        before = max((total for end, total in best if end <= low + EVEN), default=0.0)
        best.append((high, before + grows))
    return max((total for _, total in best), default=0.0)


def _free(axis: Axis, sides: dict[int, float], door: list[Part], hinge: Fitting) -> float:
    """The gap that a door grows into: its hinges hold one edge where it is, so all of it goes to the edge across from them."""
    if axis is Axis.X:
        middle = sum(part.seen.x.middle.mm for part in door) / len(door)
        away = 1 if hinge.at.x.mm < middle else -1
        if away in sides:
            return sides[away]
    return min(sides.values())


def _floats(bench: Bench, part: Part) -> bool:
    held = [joint for joint in bench.joints_of[part.id] if joint.insert == part.id]
    return bool(held) and all(not joint.glued and not joint.fasteners for joint in held)


def _finding(bench: Bench, door: list[Part], sides: dict[Axis, dict[int, float]], hinge: Fitting) -> CheckResult:
    every = [gap for gaps in sides.values() for gap in gaps.values()]
    swells, room = max(
        ((swelling(bench, door, axis), _free(axis, gaps, door, hinge)) for axis, gaps in sides.items()),
        key=lambda pair: pair[0] - pair[1],
    )
    gaps = Gaps(min(every), max(every), swells, room)
    start = "The door with the {door}" if len(door) > 1 else "The {door}"
    return result(
        NAME,
        "Doors",
        gaps.verdict,
        door,
        gaps.words(start, "grows", door=called(door[0])),
        figures=gaps.figures(),
        limit=limit("grows"),
        source=SOURCE,
        remedy=sentence("Give it a gap of {gap} where it is too tight.", gap=mm(gaps.needed))
        if gaps.is_tight
        else sentence("Make it larger: a gap over {wide} looks like a mistake.", wide=mm(WIDE_GAP)),
        steps=bench.steps_with((part.id for part in door), HANGING),
    )
