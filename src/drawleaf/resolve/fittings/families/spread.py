"""Places along a line: as the author writes them, or spread evenly between two ends."""

from __future__ import annotations

from drawleaf.model.place import Axis, Span
from drawleaf.resolve.fittings.families.task import Task
from drawleaf.resolve.names.counting import Counting
from drawleaf.units import Length

MOST = 50


def coordinates(task: Task, run: Axis) -> list[Length]:
    """The places along an axis that ``at`` and ``repeat`` give; none, with a report, where they do not give that axis."""
    entry = task.entry
    text = getattr(entry.at, run.value) if entry.at is not None else None
    if text is None or entry.at is None:
        task.error(
            "place-incomplete",
            f"{task.item.name}: its place along {run.value} is not given",
            "at" if entry.at is not None else "item",
            mend=f"Write “at: {{{run.value}: 4}}”.",
        )
        return []
    start = task.tools.evaluator.coordinate(text, run, task.scope, entry.at, run.value)
    offsets = task.tools.spots.offsets(entry.repeat, task.scope)
    if start is None or offsets is None:
        return []
    if entry.repeat is not None and Axis(entry.repeat.along) is not run:
        task.error(
            "repeat-off-face",
            f"{task.item.name}: a row along {entry.repeat.along} leaves its line",
            "repeat",
            mend=f"Repeat along {run.value}.",
        )
        return []
    return [start + offset for offset in offsets]


def spread(task: Task, run: Axis, span: Span, long: Length, usual_ends: Length, usual_count: int) -> list[Length]:
    """The places that the line gives; without ``at`` so many, evenly between the ``ends`` of the span. Reports where they do not fit it."""
    if task.entry.at is not None:
        found = coordinates(task, run)
    else:
        ends = task.length("end_distance") if task.entry.end_distance is not None else min(usual_ends, span.extent / 4)
        if ends is None:
            return []
        count = max(1, task.count or usual_count)
        if count > MOST:
            task.error("copies-out-of-range", f"{count} of them make no sense here; 1 to {MOST} do", "count")
            return []
        first, last = span.low + ends, span.high - ends
        found = [first + (last - first) * step / (count - 1) for step in range(count)] if count > 1 else [span.middle]
    counting = Counting(task.tools.evaluator, task.scope)
    for middle in found:
        if middle - long / 2 < span.low or middle + long / 2 > span.high:
            task.error(
                "hardware-off-part",
                f"{task.item.name}: at {run.value} {counting.say(middle, run)} it runs beyond the end of what it sits on",
                "at" if task.entry.at is not None else "item",
                f"It is {task.say(long)} long, and there is room from {counting.say(span.low, run)} to {counting.say(span.high, run)}.{counting.zero()}",
            )
            return []
    return found
