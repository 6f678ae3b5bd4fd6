"""Bits that a metric shop sells. A hole or a rounded edge given in inches takes the nearest of them where millimetres are printed, a
chamfer the nearest whole millimetre.

A hole is as wide as its bit, so the part itself changes: drawings, steps and tools say 25 mm, and none says 25.4. Holes for pins and
hardware keep their width, as what goes into them does.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from drawleaf.model.plan import Bore, EdgeProfile, Feature
from drawleaf.units import Length

# Sizes in store: common practice, no source.
TWIST_STEP = Fraction(1, 2)
"""Twist drills and brad-point bits come in half millimetres up to the widest."""
WIDEST_TWIST = Fraction(13)
FORSTNER = (14, 15, 16, 18, 20, 22, 24, 25, 26, 28, 30, 32, 34, 35, 38, 40, 45, 50, 55, 60)
RADII = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 18, 20, 25)
WIDEST_CHAMFER = 100
PLAIN_HOLES = ("hole", "finger hole")
ROUNDED_EDGES = ("round over", "cove")


def with_sold_bit(feature: Feature) -> Feature:
    """The feature as a metric bit makes it. One given in whole or half millimetres was meant so and stays."""
    match feature:
        case Bore() if feature.kind in PLAIN_HOLES:
            return replace(feature, diameter=_bored(feature.diameter))
        case EdgeProfile() if feature.kind in ROUNDED_EDGES:
            return replace(feature, size=_nearest(feature.size, [Fraction(radius) for radius in RADII]))
        case EdgeProfile() if feature.kind == "chamfer":
            # Set by a fence or a line: whole millimetres, which one can read off a rule.
            return replace(feature, size=_nearest(feature.size, [Fraction(size) for size in range(1, WIDEST_CHAMFER)]))
        case _:
            return feature


def _bored(diameter: Length) -> Length:
    if diameter.exact_mm > WIDEST_TWIST:
        return _nearest(diameter, [Fraction(size) for size in FORSTNER])
    return _nearest(diameter, [TWIST_STEP * step for step in range(2, int(WIDEST_TWIST / TWIST_STEP) + 1)])


def _nearest(given: Length, sizes: Sequence[Fraction]) -> Length:
    """The size nearest to the one given, and that itself where it is in whole or half millimetres or beyond all sizes."""
    size = given.exact_mm
    if (size / TWIST_STEP).denominator == 1 or size > sizes[-1]:
        return given
    return Length.of_mm(min(sizes, key=lambda sold: (abs(sold - size), sold)))
