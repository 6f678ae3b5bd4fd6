"""Choosing a screw or brad from the catalogue by the thicknesses that it holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.model.catalogue import HardwareItem
from drawleaf.units import ZERO, Length

# Common practice, no source: two thirds of a screw or nail stand in the second part (a nail is three times as long as what it
# fastens), a thin panel gets one that enters 3/4 in; the point stays 1/8 in under the far surface; #8 screws, #6 in stock
# under 1/2 in; 18 gauge brads.
THIN = Length.of_inches(Fraction(1, 2))
LEAST_REACH = Length.of_inches(Fraction(3, 4))
POINT_COVER = Length.of_inches(Fraction(1, 8))
LEAST_ENTRY = Length.of_inches(Fraction(1, 4))
SOUND_SHARE = Fraction(2, 3)


@dataclass(frozen=True, slots=True)
class Hold:
    """What a fastener goes through and into: ``through`` the whole part, ``skin`` the wood from its head to where the second part begins,
    ``room`` the wood of the second part along its way."""

    through: Length
    skin: Length
    room: Length
    sunk: Length = ZERO
    """How deep its head lies; the wood above it counts for the gauge alone."""

    @property
    def longest(self) -> Length:
        """The longest whose point stays inside."""
        return self.skin + self.room - POINT_COVER

    @property
    def wanted(self) -> Length:
        """As long as is of use."""
        through = self.through + self.sunk
        return through + max(through * 2, LEAST_REACH)


def gauge_for(hold: Hold) -> int:
    """#8, or #6 through stock under 1/2 in."""
    return 6 if hold.through + hold.sunk < THIN else 8


def choose(items: Iterable[HardwareItem], hold: Hold) -> HardwareItem | None:
    """The longest item that is of use and stays inside, None where none holds at least 1/4 in."""
    limit = min(hold.longest, hold.wanted)
    fitting = [
        item
        for item in items
        if item.length is not None and item.length <= limit and item.length - hold.skin >= LEAST_ENTRY
    ]
    return max(fitting, key=_by_length, default=None)


def enters(item: HardwareItem, hold: Hold) -> Length:
    """How far the point goes into the second part."""
    return (item.length or hold.skin) - hold.skin


def holds_well(item: HardwareItem, hold: Hold) -> bool:
    """Whether the point enters by most of the thickness that it fastens."""
    return enters(item, hold) >= min(hold.through, hold.skin) * SOUND_SHARE


def _by_length(item: HardwareItem) -> tuple[Fraction, str]:
    return (item.length.exact_mm if item.length else Fraction(0), item.id)
