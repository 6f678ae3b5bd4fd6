"""Units: exact lengths (``lengths``), how they are printed (``formats``), and every other quantity (``measures``, through Pint).

``measures`` is imported by its own name, as few need it.
"""

from drawleaf.units.formats import LengthFormat, Mixed, Units, trimmed
from drawleaf.units.lengths import MM_PER_INCH, MM_PER_UNIT, ZERO, Length, Number, round_to

__all__ = [
    "MM_PER_INCH",
    "MM_PER_UNIT",
    "ZERO",
    "Length",
    "LengthFormat",
    "Mixed",
    "Number",
    "Units",
    "round_to",
    "trimmed",
]
