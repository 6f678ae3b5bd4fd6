"""Shelf loads, spans and sags."""

from __future__ import annotations

from math import floor

from tests.outside.published import Published

from drawleaf.checks import beams
from drawleaf.checks.shelf_sag import DRAWER_DENSITY, LIMIT_RATIO, MOST_ON_A_SHELF
from drawleaf.resolve.checking import NAMED_LOADS

AWS = "Architectural Woodwork Standards, ed. 1 (2009)"
FOOT, POUND_FORCE = 0.3048, 4.4482216152605  # m, N: NIST SP 811
PSI = 0.006894757293168361  # MPa, NIST SP 811
INCH = 25.4
# Stiffness in million psi, thickness in inches, load in lb a square foot, longest span in inches as the table prints it.
SPANS = (
    (0.95, 0.75, 40, 40),
    (0.95, 0.75, 50, 37),
    (0.95, 1.0, 40, 53),
    (0.95, 1.0, 50, 49),
    (1.80, 0.75, 40, 49),
    (1.80, 1.0, 40, 66),
    (1.80, 1.0, 50, 61),
    (1.82, 0.75, 40, 49),
    (1.82, 0.75, 50, 46),
    (1.82, 1.0, 40, 66),
    (1.82, 1.0, 50, 61),
)


def longest_inches(million_psi: float, thick: float, load: float) -> float:
    """Longest span by our beam formula for a shelf a foot deep, in inches."""
    strip = beams.Strip(FOOT * 1000, thick * INCH, 0.0, million_psi * 1e6 * PSI)
    per_mm = load * POUND_FORCE / (FOOT * 1000)
    return beams.longest_span(beams.UNIFORM_SIMPLE, per_mm, beams.bending_stiffness(strip), LIMIT_RATIO) / INCH


def oak_sag(constant: float) -> float:
    """A red oak shelf 3/4 x 11-1/4 in over 36 in with 60 lb on it, in inches."""
    strip = beams.Strip(11.25 * INCH, 0.75 * INCH, 0.0, 1.82e6 * PSI)
    return beams.sag(constant, 60 * POUND_FORCE, 36 * INCH, beams.bending_stiffness(strip)) / INCH


FIGURES = (
    *(
        Published(
            f"longest span of a shelf of {million} million psi, {thick} in thick, under {load} lb a square foot",
            span,
            "in",
            0.0,
            AWS,
            "4.4.14.10.11 to .13",
            "read",
            lambda m=million, t=thick, q=load: floor(longest_inches(m, t, q)),
        )
        for million, thick, load, span in SPANS
    ),
    Published(
        "the same for 1.80 million psi, 3/4 in, 50 lb a square foot (45.97: the table rounds up here)",
        46,
        "in",
        0.1,
        AWS,
        "4.4.14.10.11 to .13",
        "read",
        lambda: longest_inches(1.80, 0.75, 50),
    ),
    Published("limit for sag: span over", 144, "", 0.0, AWS, "1.2.21.3.1.1", "read", lambda: LIMIT_RATIO),
    Published(
        "load of books, school and library shelving",
        50,
        "lb/sq ft",
        1e-9,
        AWS,
        "1.2.21.2.1",
        "read",
        lambda: NAMED_LOADS["books"][1] / POUND_FORCE * FOOT**2,
    ),
    Published(
        "load of other shelving",
        40,
        "lb/sq ft",
        1e-9,
        AWS,
        "1.2.21.2.2",
        "read",
        lambda: NAMED_LOADS["ordinary"][1] / POUND_FORCE * FOOT**2,
    ),
    Published("most on one shelf", 200, "lb", 1e-9, AWS, "1.2.21.2", "read", lambda: MOST_ON_A_SHELF / POUND_FORCE),
    Published(
        "what a cubic foot of drawer holds",
        8.5,
        "lb",
        1e-9,
        "CPSC clothing storage unit rule (2022), 87 FR 72598",
        "loaded test",
        "read",
        lambda: DRAWER_DENSITY * FOOT**3 / 0.45359237,
    ),
    *(
        Published(
            f"sag of a red oak shelf, 36 in, 60 lb: {how}",
            value,
            "in",
            0.00006,
            "USDA FPL Wood Handbook",
            "GTR-190 eq. 9-2, Table 9-1",
            "arithmetic",
            lambda c=constant: oak_sag(c),
        )
        for how, constant, value in (
            ("spread, simple ends", beams.UNIFORM_SIMPLE, 0.0506),
            ("at midspan, simple ends", beams.POINT_SIMPLE, 0.0810),
        )
    ),
    Published(
        "creep of seasoned lumber that stays loaded and dry",
        1.5,
        "×",
        0.0,
        "NDS-2018",
        "3.5.2 (Kcr)",
        "read",
        lambda: _creep("red oak board"),
    ),
    Published(
        "creep of wood panels that stay loaded and dry",
        2.0,
        "×",
        0.0,
        "NDS-2018",
        "3.5.2 (Kcr)",
        "memory",
        lambda: _creep("birch plywood"),
    ),
    Published(
        "creep of MDF in a dry room, 1 + kdef",
        3.25,
        "×",
        0.0,
        "Eurocode 5, EN 1995-1-1",
        "Table 3.2, service class 1",
        "memory",
        lambda: _creep("MDF"),
    ),
)


def _creep(name: str) -> float:
    from tests.outside.published.catalogue import catalogue

    return beams.creep_factor(catalogue().materials[name])
