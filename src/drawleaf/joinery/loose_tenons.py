"""Loose tenons: flat pieces with round edges that the maker cuts off a strip. Free in thickness, width and length.

What is left out follows the rule of the trade: a third of the wood, three times as wide as thick, five times as long, in steps that straight
bits come in (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from drawleaf.joinery.family import LooseTenon, Terms
from drawleaf.model.catalogue import FastenerKind, HardwareItem, Stock
from drawleaf.units import Length

STEP = {"in": Length.of_inches(Fraction(1, 8)), "mm": Length.of_mm(2)}
"""Straight bits come in steps of this; a tenon's other sizes are whole multiples of it too."""
WIDTH, LENGTH = 3, 5
"""So many times as wide and as long as thick."""
SHARE = Fraction(4, 5)
"""So much of its part of the joint a tenon takes in width at most: wood stays beside every mortise."""


def made_tenon(terms: Terms, stock: Stock, wood: Length, span: Length, fits: Callable[[Length], bool]) -> HardwareItem:
    """The tenon of a joint whose parts meet over ``wood`` across and ``span`` along; ``fits`` says whether one so long stays inside both."""
    given, step = terms.tenon or LooseTenon(), STEP[terms.unit]
    thick = given.thickness or terms.thickness or max(step, step * round((wood / 3).ratio(step)))
    room = span * SHARE / (terms.count or 1)
    wide = given.width or min(thick * WIDTH, max(thick, step * int(room.ratio(step))))
    long = given.length or thick * LENGTH
    while given.length is None and long > thick and not fits(long):
        long = long - step
    size = _size(terms.unit, thick, wide, long)
    metric = "" if terms.unit == "mm" else _size("mm", thick, wide, long)
    return HardwareItem(
        id=f"loose tenon {size}",
        name=f"{size} loose tenon",
        plural=f"{size} loose tenons",
        kind=FastenerKind.LOOSE_TENON,
        length=long,
        gauge=None,
        diameter=None,
        body=None,
        hole=None,
        clearances=(),
        screws=(),
        per_pack=1,
        pack="",
        price=None,
        aisle="",
        note=f"Cut off a strip that you mill of the {stock.name}.",
        source="common practice, no source",
        metric=metric,
        measures=(("thick", thick), ("wide", wide)),
        made_of=stock,
    )


def _size(unit: str, *lengths: Length) -> str:
    """``3/8 x 1-1/8 x 1-7/8 in``, ``10 x 30 x 50 mm``."""
    return f"{' x '.join(_inches(one) if unit == 'in' else _millimeters(one) for one in lengths)} {unit}"


def _millimeters(length: Length) -> str:
    return f"{round(float(length.exact_mm), 1):g}"


def _inches(length: Length) -> str:
    whole, rest = divmod(length.inches, 1)
    return f"{whole}" if not rest else f"{rest}" if not whole else f"{whole}-{rest}"
