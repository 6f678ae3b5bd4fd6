"""What becomes of the heads of screws: flush with the face, sunk under filler, or sunk deeper under a plug of wood.

All figures are common practice, no source: a head is filled over when it lies 1/16 in deep; a plug sits 1/4 in deep, a plug of 3/8 in
covers the head of a number 8 screw. Millimetre plans take 1.5 mm, 6 mm and 10 mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from drawleaf.joinery.friendly import MILLIMETRES, Ruler
from drawleaf.joinery.screws import Hold
from drawleaf.model.catalogue import PLUG, WASHER, FastenerKind, HardwareItem
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Axis, Point
from drawleaf.model.plan import Fastener, Vector
from drawleaf.model.position import Position
from drawleaf.model.screw_sizes import shank
from drawleaf.units import ZERO, Length

FLUSH, FILLED, PLUGGED, OPEN = "flush", "filled", "plugged", "open"
FILLED_INCH, FILLED_MM = Length.of_inches(Fraction(1, 16)), Length.of_mm(Fraction(3, 2))
PLUGGED_INCH, PLUGGED_MM = Length.of_inches(Fraction(1, 4)), Length.of_mm(6)
OPEN_BITS_INCH = tuple(Length.of_inches(Fraction(size, 8)) for size in (3, 4, 5, 6))
OPEN_BITS_MM = tuple(Length.of_mm(size) for size in (10, 12, 15, 20))
"""Bits that bore a flat floor: common practice, no source."""
PROUD = Length.of_mm(1)
"""How far a plug must at least stand out of its hole."""
BESIDE_HEAD = Length.of_mm(Fraction(1, 2))
"""How much wider than the head its counterbore must be."""


@dataclass(frozen=True, slots=True)
class Heads:
    """How the heads of one fastening are hidden. ``sink`` is how far they lie below the face, ``plug`` the plug asked for; None where
    they follow from the screws. ``open`` ones lie on the floor of a counterbore that stays as it is, so that a screw reaches through thick wood."""

    way: str = FLUSH
    sink: Length | None = None
    plug: HardwareItem | None = None

    @property
    def hidden(self) -> bool:
        return self.way != FLUSH

    def depth(self, ruler: Ruler) -> Length:
        """How far below the face the heads lie."""
        if not self.hidden:
            return ZERO
        if self.sink is not None:
            return self.sink
        metric = ruler is MILLIMETRES
        if self.way == FILLED:
            return FILLED_MM if metric else FILLED_INCH
        return PLUGGED_MM if metric else PLUGGED_INCH


def sunk_hold(hold: Hold, depth: Length) -> Hold:
    """The wood along a screw whose head lies so deep: it is measured from the floor of the counterbore."""
    return replace(hold, through=hold.through - depth, skin=hold.skin - depth, sunk=depth) if depth else hold


def head_width(screw: HardwareItem) -> Length:
    """Across the head of a wood screw: twice its shank, near the figures of ASME B18.6.1 (from memory: 0.332 in for number 8)."""
    return (screw.diameter or (shank(screw.gauge) if screw.gauge else ZERO)) * 2


def open_wide(heads: Heads, screw: HardwareItem, ruler: Ruler) -> Length | None:
    """How wide a counterbore is that stays open: the bit that lets the head in, and the driver with it; None where there is none."""
    if heads.way != OPEN:
        return None
    least = head_width(screw) + BESIDE_HEAD
    bits = OPEN_BITS_MM if ruler is MILLIMETRES else OPEN_BITS_INCH
    return next((bit for bit in bits if bit >= least), bits[-1])


def plug_for(
    heads: Heads, screw: HardwareItem, hardware: Mapping[str, HardwareItem], ruler: Ruler, position: Position
) -> tuple[HardwareItem | None, tuple[Diagnostic, ...]]:
    """The plug that covers the heads: the one asked for, else the smallest that is wider than the head."""
    if heads.way != PLUGGED:
        return None, ()
    least = head_width(screw) + BESIDE_HEAD
    if heads.plug is not None:
        wide = heads.plug.diameter
        if wide is None or wide < least:
            return heads.plug, (_too_narrow(heads.plug, screw, position),)
        return heads.plug, _too_short(heads.plug, heads.depth(ruler), position)
    metric = ruler is MILLIMETRES
    fitting = [
        item
        for item in of_kinds(hardware, PLUG)
        if item.diameter is not None and item.diameter >= least and _metric(item) is metric
    ]
    chosen = min(fitting, key=lambda item: (item.diameter or ZERO, item.id), default=None)
    if chosen is None:
        return None, (
            Diagnostic(
                "no-plug-fits",
                f"shared/hardware has no plug that covers the head of {screw.name}",
                position,
                mend="Name one with “plug:”, or write “heads: filled”.",
            ),
        )
    return chosen, _too_short(chosen, heads.depth(ruler), position)


def washer_for(screw: HardwareItem, slotted: bool, hardware: Mapping[str, HardwareItem]) -> HardwareItem | None:
    """The washer under a flat-bottomed head that slides in a slot: the edges of a drilled slot are no seat for it. None where there is none
    of its gauge in shared/hardware."""
    if not slotted or screw.kind != FastenerKind.PAN_HEAD_SCREW:
        return None
    fitting = (one for one in of_kinds(hardware, WASHER) if one.gauge == screw.gauge)
    return min(fitting, key=lambda one: one.id, default=None)


def sunk(fastener: Fastener, depth: Length, plug: HardwareItem | None, wide: Length | None = None) -> Fastener:
    """The screw with its head so far below the face that it is driven into; ``wide`` is its counterbore where that stays open."""
    if not depth:
        return fastener
    return replace(
        fastener, at=moved_along(fastener.at, fastener.direction, depth), sunk=depth, plug=plug, open_wide=wide
    )


def moved_along(point: Point, direction: Vector, by: Length) -> Point:
    """The point so far along a unit direction."""
    x, y, z = (point.along(axis) + by * Fraction(direction[axis.index]).limit_denominator(10**6) for axis in Axis)
    return Point(x, y, z)


def _metric(item: HardwareItem) -> bool:
    return item.id.endswith("mm")


def _too_narrow(plug: HardwareItem, screw: HardwareItem, position: Position) -> Diagnostic:
    return Diagnostic(
        "no-plug-fits",
        f"{plug.name}: it does not cover the head of {screw.name}",
        position,
        "The head must go through the hole that the plug fills.",
        "Take a wider plug, or leave out “plug” and let it be chosen.",
    )


def _too_short(plug: HardwareItem, depth: Length, position: Position) -> tuple[Diagnostic, ...]:
    """A plug stands proud when it touches the head, so that it can be pared flush."""
    if plug.length is None or plug.length >= depth + PROUD:
        return ()
    return (
        Diagnostic(
            "no-plug-fits",
            f"{plug.name}: it is too short for a counterbore so deep",
            position,
            "It must stand out of its hole a little, to be pared flush with the face.",
            "Make “counterbore” smaller.",
        ),
    )
