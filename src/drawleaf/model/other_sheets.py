"""What changes in a plan where a sheet is not as thick as its caliper said."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class SizeChange:
    """How a part's length and width follow the thickness of a sheet: millimetres more for each millimetre that the sheet is thinner."""

    part: str
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True)
class OtherSheet:
    """The parts whose sizes follow the thickness of a stock of sheets, in the order of the plan."""

    stock: str
    changes: tuple[SizeChange, ...]
