"""How thick a wood screw of a number is: 0.060 in + 0.013 in for each number (ASME B18.6.1, from memory)."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.units import Length

NUMBER_ZERO = Length.of_inches(Fraction(60, 1000))
EACH_NUMBER = Length.of_inches(Fraction(13, 1000))
LEAST_NUMBER = 4
"""The thinnest that stores keep: common practice, no source."""


def shank(number: int) -> Length:
    """Shank diameter of a wood screw of that number."""
    return NUMBER_ZERO + EACH_NUMBER * number


def thickness_of(item: HardwareItem) -> Length | None:
    """How thick a fastener is where it holds: what its item says, or the shank that goes with a screw's number. None where nothing says
    it, as of a brad known by its gauge."""
    if item.diameter is not None:
        return item.diameter
    if item.pin:
        return item.measure("thick")
    return shank(item.gauge) if item.gauge is not None and item.kind != FastenerKind.BRAD else None


def number_under(thick: Length) -> int:
    """The thickest screw whose shank is no more than that; 0 where even a #4 is thicker."""
    number = int((thick - NUMBER_ZERO).ratio(EACH_NUMBER))
    return number if number >= LEAST_NUMBER else 0
