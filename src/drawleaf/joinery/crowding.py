"""Fasteners of one joint that stand too close to one another: heads that overlap, or too little wood between them to hold."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from typing import Literal

from drawleaf.joinery.clearing import Place, segment_distance
from drawleaf.joinery.planned import Planned, point_of
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.plan import Fastener, Part
from drawleaf.model.position import Position
from drawleaf.units import Length

# Apart in diameters: Eurocode 5 (EN 1995-1-1) Table 8.2 for predrilled nails and thin screws that are loaded across the grain: in a row
# along the grain 4, across it 3; from memory. A head is twice as wide as its shank (ASME B18.6.1: 0.332 in for the 0.164 in of a #8, from memory); a brad has none to
# speak of, but wood as thick as itself must stay between two.
ALONG_GRAIN, ACROSS_GRAIN = 4.0, 3.0
HEAD = 2.0
SLACK = 1e-6
Unit = Literal["in", "mm"]
_Pair = tuple[float, float, float]


def in_row(
    row: Sequence[Planned],
    parts: Sequence[Part],
    position: Position,
    unit: Unit,
    fits: Callable[[int], bool],
) -> Diagnostic | None:
    """What to report of the fasteners of one entry of ``with:`` at one meeting of two ``parts``; ``fits`` says whether so many would stand
    with the usual room."""
    pair = _closest(_lacking(combinations(map(_Placed.of, _driven(row)), 2), parts))
    if pair is None:
        return None
    usual = pair[2]
    most = next((count for count in range(len(row) - 1, 0, -1) if fits(count)), 1)
    item = row[0].fastener.item
    mend = f"Write “count: {most}”, the most that stand {_said(usual, unit)} apart there, or fewer."
    return _told(item, item, row[0].fastener, pair, position, unit, mend)


def between_rows(
    before: Sequence[Planned], after: Sequence[Planned], position: Position, unit: Unit
) -> Diagnostic | None:
    """What to report where a later entry sets fasteners into the heads of an earlier one, or pins into its pins."""
    for kind, room in ((_driven, HEAD), (_pins, 1.0)):
        first, second = list(kind(before)), list(kind(after))
        pair = _closest(_lacking(product(map(_Placed.of, first), map(_Placed.of, second)), (), room))
        if pair is not None and pair[0] < pair[1] - SLACK:
            mend = "Give one of them other “end_distance”, “rows” or another “count”, so that each has wood of its own."
            return _told(second[0].item, first[0].item, second[0], pair, position, unit, mend)
    return None


def is_crowded(row: Sequence[Planned], parts: Sequence[Part]) -> bool:
    """Whether any two stand closer than is usual."""
    return any(True for _ in _lacking(combinations(map(_Placed.of, _driven(row)), 2), parts))


def _driven(row: Iterable[Planned]) -> Iterator[Fastener]:
    """Those that are driven; dowels, pegs and loose tenons have checks of their own."""
    return (one.fastener for one in row if not one.fastener.item.pin and one.fastener.item.length is not None)


def _pins(row: Iterable[Planned]) -> Iterator[Fastener]:
    return (one.fastener for one in row if one.fastener.item.pin)


@dataclass(frozen=True, slots=True)
class _Placed:
    """A fastener in mm: its head, its point, how thick it is."""

    head: Place
    point: Place
    thick: float

    @staticmethod
    def of(fastener: Fastener) -> _Placed:
        return _Placed(fastener.at.mm, point_of(fastener), _diameter(fastener.item))


def _lacking(pairs: Iterable[tuple[_Placed, _Placed]], parts: Sequence[Part], room: float = HEAD) -> Iterator[_Pair]:
    """How far apart, how far at least (``room`` diameters) and how far usually, in mm, of each two that stand closer than is usual."""
    for a, b in pairs:
        wide = (a.thick + b.thick) / 2
        apart = segment_distance(a.head, a.point, b.head, b.point)
        usual = wide * (ALONG_GRAIN if _along_grain(a.head, b.head, parts) else ACROSS_GRAIN)
        if apart < usual - SLACK:
            yield apart, wide * room, usual


def _closest(found: Iterable[_Pair]) -> _Pair | None:
    """The two that lack most; None where all have room."""
    return min(found, key=lambda one: one[0] / one[2], default=None)


def _along_grain(one: Place, other: Place, parts: Sequence[Part]) -> bool:
    """Whether two heads stand in a row along the grain of a solid part that they go through or into."""
    way = [b - a for a, b in zip(one, other, strict=True)]
    size = math.hypot(*way) or 1.0
    return any(
        part.stock.material.solid and part.grain is not None and abs(way[part.grain.index]) > 0.7 * size
        for part in parts
    )


def _diameter(item: HardwareItem) -> float:
    return item.diameter.mm if item.diameter is not None else 1.0


def _told(
    item: HardwareItem,
    other: HardwareItem,
    fastener: Fastener,
    pair: _Pair,
    position: Position,
    unit: Unit,
    mend: str,
) -> Diagnostic:
    apart, least, usual = pair
    overlap = apart < least - SLACK
    what = f"Fasteners from “{fastener.through}” into “{fastener.into}” stand {_said(apart, unit)} apart"
    names = item.name if item is other else f"{item.name} and {other.name}"
    if overlap:
        return Diagnostic(
            "fasteners-crowded",
            what,
            position,
            f"{names}: nearer than {_said(least, unit)} their heads overlap or no wood is left between them.",
            mend,
        )
    return Diagnostic(
        "fasteners-close",
        what,
        position,
        f"{names}: usual is {_said(usual, unit)} or more, four diameters in a row along the grain and three across; nearer, the wood may split.",
        mend,
        Severity.ADVICE,
    )


def _said(value: float, unit: Unit) -> str:
    """Rounded to what an author would set: 1/32 in, or half a millimetre."""
    return say(
        Length.of_inches(Fraction(round(Length.of_mm(Fraction(value)).inches * 32), 32))
        if unit == "in"
        else Length.of_mm(Fraction(round(value * 2), 2)),
        unit,
    )
