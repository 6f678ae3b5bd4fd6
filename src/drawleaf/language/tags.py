"""The languages by their tags (BCP 47, RFC 5646)."""

from __future__ import annotations

from drawleaf.units import Units

BASE = "en-US"
"""The language in which our own words are written."""
BRITISH = "en-GB"
ENGLISHES = (BASE, BRITISH)
MARKED = "x-marked"
"""A made-up language for trials: each of our words stands between marks, so that what bears none is seen. See docs/translating.md."""


def usual_language(units: Units) -> str:
    """The English of a booklet whose plan names none: American where lengths are in inches, British where they are in millimetres alone."""
    return BRITISH if units is Units.MM else BASE
