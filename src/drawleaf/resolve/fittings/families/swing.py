"""The room that a door or lid swings through: a quarter circle before it, about the edge that its hinges hold."""

from __future__ import annotations

from drawleaf.model.place import Axis, Face, Span
from drawleaf.resolve.fittings.families.task import HAIR, Carried, Task, block, outwards
from drawleaf.units import ZERO


def swings_free(task: Task, carried: Carried, run: Axis, hinged: Face, out: Face) -> bool:
    """Whether nothing stands before the door where it opens; reported where something does. ``hinged`` is the side of its hinges, ``out`` the way
    that it opens, ``run`` the axis of the pin."""
    spans = {
        axis: Span(
            min(part.seen.span(axis).low for part in carried.parts),
            max(part.seen.span(axis).high for part in carried.parts),
        )
        for axis in Axis
    }
    wide = spans[hinged.axis].extent
    front = spans[out.axis].end(out.side)
    pin = spans[hinged.axis].end(hinged.side)
    swept = block(carried.parts[0].seen.center, {**spans, out.axis: outwards(out, front, wide)})
    own = {part.id for part in carried.parts}
    for part in task.tools.shop.values():
        shared = part.seen.overlap(swept) if part.id not in own and part.tilt is None else None
        if shared is None or min(shared.extent(axis) for axis in Axis) <= HAIR:
            continue
        across, ahead = shared.span(hinged.axis), shared.span(out.axis)
        beside = max(ZERO, across.low - pin, pin - across.high)
        before = max(ZERO, ahead.low - front, front - ahead.high)
        if beside.exact_mm**2 + before.exact_mm**2 < wide.exact_mm**2:
            task.error(
                "hardware-clearance",
                f"{task.item.name}: “{part.id}” stands {task.say(before)} before “{task.entry.carries}” and in its way as it opens",
                "carries",
                f"It swings out {task.say(wide)} from its hinges, along {run.value} {task.say(spans[run].low)} to {task.say(spans[run].high)}.",
                "Move what stands there, or hang it on the other side.",
            )
            return False
    return True
