"""A measure that a text of ours has in both systems reads in the booklet's own: ``1/4 in (6 mm)`` is ``6 mm`` where sizes are in millimetres."""

from __future__ import annotations

import re
from functools import lru_cache

from drawleaf.units import Units

_FIGURE = r"\d[\d./-]*"
_FIGURES = rf"{_FIGURE}(?: [x×] {_FIGURE})*"
_INCH = rf"{_FIGURES} (?:in|ft|lb|°F)\b"
_METRIC = rf"{_FIGURES} (?:mm|m|kg|°C)\b"
_BOTH = re.compile(
    rf"(?P<inch>{_INCH}) \((?P<metric>{_METRIC})\)|(?P<metric_first>{_METRIC}) \((?P<inch_after>{_INCH})\)"
)


@lru_cache(maxsize=8192)
def in_units(text: str, units: Units) -> str:
    """The text with such measures in one system; as it is written where a booklet prints both."""
    match units:
        case Units.BOTH:
            return text
        case Units.INCH:
            return _BOTH.sub(lambda found: found["inch"] or found["inch_after"], text)
        case Units.MM:
            return _BOTH.sub(lambda found: found["metric"] or found["metric_first"], text)
