"""Table-top fasteners: figure-8s, clips and buttons, which hold a top down and let it move as the wood swells."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.spread import spread
from drawleaf.resolve.fittings.families.task import HAIR, Carried, Task, around, block, outwards
from drawleaf.units import ZERO, Length

APART = Length.of_inches(14)
"""About how far apart they sit: common practice, no source."""
ENDS = Length.of_inches(3)
POINT = Length.of_inches(Fraction(1, 16))


def fit(task: Task) -> None:
    """On each rail that is named, along its inside, under the top that it carries."""
    carried = task.carried()
    if carried is None:
        return
    rails = task.parts
    for rail in rails:
        top = _top(task, rail, carried)
        if top is None:
            return
        run, across = (Axis.X, Axis.Y) if rail.seen.x.extent >= rail.seen.y.extent else (Axis.Y, Axis.X)
        inner = Face(task.entry.face) if task.entry.face else _inner(rail, across, carried)
        if inner.axis is not across or not _screw_holds(task, top):
            if inner.axis is not across:
                task.error(
                    "hardware-clearance", f"{task.item.name}: it sits along a rail, on its {across.value} side", "face"
                )
            return
        width = task.measure("across") or slot_length(task.item, along_movement=top.width_axis is run)
        span = rail.seen.span(run)
        count = max(2, -(-int(span.extent.mm) // int(APART.mm)))
        for middle in spread(task, run, span, width, ENDS, count):
            if not _cut(task, rail, inner, run, middle, width):
                return
            body = _body(task, rail, inner, run, middle)
            if not task.in_the_open(body, (rail, top)):
                return
            at = body.center.moved(inner.axis, rail.seen.face(inner))
            task.place((rail, top), inner, at, body, moving=carried.id)


def _top(task: Task, rail: Part, carried: Carried) -> Part | None:
    """The part of the top that lies on the rail; reported where it floats above it."""
    over = [
        part
        for part in carried.parts
        if all(part.seen.span(axis).overlap(rail.seen.span(axis)) for axis in (Axis.X, Axis.Y))
    ]
    near = min(over, key=lambda part: abs(part.seen.z.low - rail.seen.z.high).exact_mm, default=None)
    if near is not None and abs(near.seen.z.low - rail.seen.z.high) <= HAIR:
        return near
    gap = f"It is {task.say(near.seen.z.low - rail.seen.z.high)} above it." if near else "It does not lie over it."
    task.error(
        "hardware-unmet",
        f"{task.item.name}: “{task.entry.carries}” does not lie on “{rail.id}”",
        "carries",
        gap,
        "Let the underside of the top be the rail's top edge.",
    )
    return None


def _inner(rail: Part, across: Axis, carried: Carried) -> Face:
    middle = sum((part.seen.span(across).middle for part in carried.parts), ZERO) / len(carried.parts)
    return across.high if rail.seen.span(across).middle < middle else across.low


def _screw_holds(task: Task, top: Part) -> bool:
    """Whether the screw that goes up into the top stays inside it."""
    item = task.tools.hardware.get(task.item.screws[0].item) if task.item.screws else None
    length = item.length if item is not None and item.length else ZERO
    through = task.measure("thick") or _clip_thickness(task)
    if length - through + POINT <= top.seen.z.extent:
        return True
    task.error(
        "hardware-screws",
        f"{task.item.name}: its screws of {task.say(length)} come through “{top.id}”, which is {task.say(top.seen.z.extent)} thick",
        "item",
        mend="Take another fastener, or a thicker top.",
    )
    return False


def _clip_thickness(task: Task) -> Length:
    """What the screw goes through: a button is thick wood, a clip thin steel."""
    return Length.of_inches(Fraction(5, 8)) if task.measure("slot") > Length.of_inches(Fraction(1, 4)) else ZERO


def slot_length(item: HardwareItem, *, along_movement: bool) -> Length:
    """How long the slot of a clip or button is. Where the rail runs the way that the top moves, the tongue slides along its slot, which is then
    longer than the tongue is wide by the item's travel to both sides."""
    long, wide, travel = (item.measure(name) or ZERO for name in ("slot long", "wide", "travel"))
    return max(long, wide + travel * 2) if along_movement else long


def figure_8_inset(across: Length) -> Length:
    """From the inside of the rail to the middle of the bore: it opens through the inside, so that the fastener can turn."""
    return across / 3


def _cut(task: Task, rail: Part, inner: Face, run: Axis, middle: Length, long: Length) -> bool:
    """The shallow bore of a figure-8 in the rail's top edge, or the slot of a clip or button in its inside; reported where the rail is too thin."""
    wood = rail.seen.extent(inner.axis)
    across = task.measure("across")
    floor = Length.of_inches(Fraction(1, 16))
    reach = figure_8_inset(across) + across / 2 if across else task.measure("slot deep")
    if reach + floor > wood:
        task.error(
            "hardware-wood",
            f"{task.item.name}: it is let {task.say(reach)} into “{rail.id}”, which is {task.say(wood)} thick",
            "on",
            f"{task.say(floor)} of wood must stay outside it.",
            "Take another fastener, or a thicker rail.",
        )
        return False
    surface = rail.seen.face(inner)
    at = rail.seen.center.moved(run, middle)
    if across:
        at = at.moved(inner.axis, surface - figure_8_inset(across) * inner.side)
        task.cut_bore(rail, Face.TOP, at, across, task.measure("thick"))
        return True
    top = rail.seen.z.high - task.measure("slot down")
    spans = {
        run: around(middle, long),
        Axis.Z: Span(top - task.measure("slot"), top),
        inner.axis: outwards(inner, surface, -task.measure("slot deep")),
    }
    task.cut_recess(rail, inner, block(at, spans))
    return True


def _body(task: Task, rail: Part, inner: Face, run: Axis, middle: Length) -> Box:
    """The fastener under the top, from the rail into the open."""
    surface, top = rail.seen.face(inner), rail.seen.z.high
    across = task.measure("across")
    if across:
        start = surface - figure_8_inset(across) * inner.side
        ends = sorted((start - across * inner.side / 2, start + (task.measure("between") + across / 2) * inner.side))
        high, wide = task.measure("thick"), across
    else:
        ends = sorted((surface, surface + task.measure("reach") * inner.side))
        high, wide = task.measure("slot down") + task.measure("slot"), task.measure("wide")
    spans = {run: around(middle, wide), inner.axis: Span(ends[0], ends[1]), Axis.Z: Span(top - high, top)}
    return block(rail.seen.center, spans)
