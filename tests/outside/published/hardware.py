"""Stability figures worked by hand, cautions' words, shop customs."""

from __future__ import annotations

from math import atan2, degrees, inf

from tests.outside.published import Published
from tests.outside.published.catalogue import catalogue

from drawleaf.checks import making, stability
from drawleaf.checks.stability import Weight, balance
from drawleaf.joinery.channel import STEP, TRENCH

GRAVITY, POUND, POUND_FORCE = 9.80665, 0.45359237, 4.4482216152605  # m/s2, kg, N: NIST SP 811
F2057 = "ASTM F2057-23"
CUSTOM = "trade custom"
MITRE_SAW = catalogue().tools["mitre saw"]


def hand_worked(lean: float = 0.0) -> float:
    """A chest of 40 kg, 380 mm deep, its centre of gravity 200 mm behind its front and 500 mm up; 27.2 kg hang on a drawer
    250 mm in front of it, 600 mm up. By hand, upright: 40 x 200 over 27.2 x 250 = 1.176."""
    return balance([Weight(40, 200, 500), Weight(27.2, -250, 600)], lean=lean)


def slide(name: str) -> float:
    return float(catalogue().hardware[name].clearances[0].room.inches)


FIGURES = (
    Published(
        "tallest piece that the rule leaves alone",
        27,
        "in",
        0.05,
        F2057,
        "1.1",
        "read",
        lambda: stability.SCOPE_HEIGHT / 25.4,
    ),
    Published(
        "heaviest piece that the rule leaves alone",
        30,
        "lb",
        0.05,
        F2057,
        "1.1",
        "read",
        lambda: stability.SCOPE_MASS / POUND,
    ),
    Published(
        "child that hangs on the drawer", 60, "lb", 1e-9, F2057, "9.2.3", "read", lambda: stability.CHILD / POUND
    ),
    Published(
        "carpet under the back feet", 0.43, "in", 0.001, F2057, "9.2.3", "memory", lambda: stability.CARPET / 25.4
    ),
    Published(
        "pull at the highest hand-hold", 10, "lb", 1e-9, F2057, "9.2.2", "memory", lambda: stability.PULL / POUND_FORCE
    ),
    Published("highest pull", 56, "in", 0.02, F2057, "9.2.2", "memory", lambda: stability.PULL_HIGHEST / 25.4),
    Published(
        "sitter on a front edge",
        600,
        "N",
        1e-9,
        "EN 1022",
        "forward overbalancing",
        "memory",
        lambda: stability.SITTING * GRAVITY,
    ),
    Published(
        "a chest with a child on its drawer, upright, by hand: 40 × 200 / (27.2 × 250)",
        1.1765,
        "×",
        0.0001,
        "moment balance",
        "worked by hand",
        "arithmetic",
        hand_worked,
    ),
    # cos 1.64° = 0.99959, sin 1.64° = 0.02862: 40 (199.92 - 14.31) / 27.2 (249.90 + 17.17) = 7424.4 / 7264.3
    Published(
        "the same leaning by 1.64°, by hand",
        1.0220,
        "×",
        0.0005,
        "moment balance",
        "worked by hand",
        "arithmetic",
        lambda: hand_worked(1.64 * 3.141592653589793 / 180),
    ),
    Published(
        "how far a 15 in base leans on 0.43 in of carpet",
        1.64,
        "°",
        0.005,
        F2057,
        "9.2.3 and plane geometry",
        "arithmetic",
        lambda: degrees(atan2(stability.CARPET, 15 * 25.4)),
    ),
    Published(
        "nothing tips a piece that nobody touches",
        inf,
        "×",
        0.0,
        "moment balance",
        "worked by hand",
        "arithmetic",
        lambda: balance([Weight(20, 100, 300)]),
    ),
    Published(
        "most that one person should lift",
        51,
        "lb",
        0.5,
        "NIOSH lifting equation (1994)",
        "load constant",
        "memory",
        lambda: making.LIFT_ALONE / POUND,
    ),
    Published(
        "room beside a side-mounted slide",
        0.5,
        "in",
        0.0,
        CUSTOM,
        "slides",
        "custom",
        lambda: slide("side-mount slides 12 in"),
    ),
    Published(
        "deepest sound dado, of the thickness: half, and a shade for thin stock",
        0.5,
        "",
        0.051,
        CUSTOM,
        "dadoes",
        "custom",
        lambda: float(TRENCH.high),
    ),
    Published(
        "deepest sound rabbet: two thirds, and a shade",
        2 / 3,
        "",
        0.06,
        CUSTOM,
        "rabbets",
        "custom",
        lambda: float(STEP.high),
    ),
    Published(
        "hand's distance from a mitre saw's blade",
        6,
        "in",
        0.02,
        CUSTOM,
        "mitre saws",
        "custom",
        lambda: MITRE_SAW.least_piece.long.inches,  # type: ignore[union-attr],
    ),
)
