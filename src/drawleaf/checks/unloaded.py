"""A top as high as a seat for which no load is named: nothing was asked of its joints, and its author may not have meant that."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drawleaf.english import lower_first
from drawleaf.model.place import Axis, Span
from drawleaf.model.plan import Part, Plan

LOWEST, HIGHEST = 380.0, 500.0
"""Heights of seats, mm, as tables of furniture sizes have them: common practice, no source."""
LEAST = 250.0
"""Nobody sits on what is narrower or shorter, mm: common practice, no source."""
HEAD_ROOM = 600.0
"""With something over it that is nearer than this, mm, it is a shelf."""
SAME = 0.5


def unloaded_seats(plan: Plan) -> tuple[tuple[Part, ...], ...]:
    """The parts of each flat top on which one could sit and for which the plan names no load; none where the piece hangs on a wall."""
    if plan.hangs:
        return ()
    floor = min(part.seen.z.low.mm for part in plan.parts)
    flat = [part for part in plan.parts if part.thickness is Axis.Z and part.tilt is None]
    groups: dict[int, list[Part]] = {}
    for part in flat:
        if LOWEST <= part.seen.z.high.mm - floor <= HIGHEST:
            groups.setdefault(round(part.seen.z.high.mm / SAME), []).append(part)
    loaded = {one for load in plan.checks.loads for one in load.parts}
    return tuple(
        tuple(group)
        for group in groups.values()
        if not loaded & {part.id for part in group} and _seat(group) and not _covered(plan, group)
    )


def unloaded_lines(plan: Plan) -> Iterator[str]:
    """A line for the author about each of them."""
    floor = min(part.seen.z.low for part in plan.parts)
    for group in unloaded_seats(plan):
        first = max(group, key=_area)
        yield (
            f"note The {lower_first(first.name)} is {plan.lengths.text(first.seen.z.high - floor)} high, and no load is named for it. "
            f"Where people sit or stand on it, write “loads: [{{on: {first.kind}, load: sitting}}]” under “checks:”."
        )


def _seat(group: Sequence[Part]) -> bool:
    """Whether these together are as long and as wide as a seat, most of that wood."""
    spans = [_over(group, axis) for axis in (Axis.X, Axis.Y)]
    box = spans[0].extent.mm * spans[1].extent.mm
    return all(span.extent.mm >= LEAST for span in spans) and sum(_area(part) for part in group) >= box / 2


def _covered(plan: Plan, group: Sequence[Part]) -> bool:
    """Whether something lies over the half of it."""
    top, own = group[0].seen.z.high.mm, {part.id for part in group}
    spans = [_over(group, axis) for axis in (Axis.X, Axis.Y)]
    over = 0.0
    for part in plan.parts:
        if part.id in own or not top - SAME <= part.seen.z.low.mm <= top + HEAD_ROOM:
            continue
        shared = [span.overlap(part.seen.span(axis)) for span, axis in zip(spans, (Axis.X, Axis.Y), strict=True)]
        if shared[0] is not None and shared[1] is not None:
            over += shared[0].extent.mm * shared[1].extent.mm
    return over >= spans[0].extent.mm * spans[1].extent.mm / 2


def _over(group: Sequence[Part], axis: Axis) -> Span:
    return Span(min(part.seen.span(axis).low for part in group), max(part.seen.span(axis).high for part in group))


def _area(part: Part) -> float:
    return part.seen.x.extent.mm * part.seen.y.extent.mm
