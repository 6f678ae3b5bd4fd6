"""Screws, brads and how they hold."""

from __future__ import annotations

from fractions import Fraction

from tests.outside.published import Published
from tests.outside.published.catalogue import catalogue

from drawleaf.checks.context import WEIGHT_OF_KG
from drawleaf.checks.screws import SIX_DIAMETERS
from drawleaf.checks.splay import pull_on_lowest
from drawleaf.checks.wall_hanging import withdrawal_design, withdrawal_ultimate
from drawleaf.joinery.pockets import pocket_length
from drawleaf.model.screw_sizes import shank
from drawleaf.resolve.checking import NAMED_LOADS
from drawleaf.setting_out.screws import clearance_hole, pilot_hole
from drawleaf.units import Length

INCH = 25.4
POUND_FORCE = 4.4482216152605  # N, NIST SP 811
B18 = "ASME B18.6.1"
NDS = "NDS-2018"
# Screw number, basic diameter, root diameter, both in inches.
SCREWS = ((6, 0.138, 0.113), (7, 0.151, 0.122), (8, 0.164, 0.131), (10, 0.190, 0.152))
# Pilot hole by specific gravity: share of the root diameter.
PILOTS = ((0.55, 0.70, "0.5 to 0.6"),)
HARD_PILOTS = ((4, 0.112), (6, 0.138), (8, 0.164), (10, 0.190))
POCKETS = ((0.5, 1.0), (0.75, 1.25), (1.5, 2.5))


def standing_load() -> float:
    """What ``standing`` stands for, in newtons."""
    return float(NAMED_LOADS["standing"][1])


def diameter(item: str) -> float:
    found = catalogue().hardware[item].diameter
    return float(found.inches) if found else 0.0


FIGURES = (
    *(
        Published(
            f"outside of a #{number} flat washer, type A",
            wide,
            "in",
            0.01,
            "ASME B18.21.1",
            "type A plain washers",
            "memory",
            lambda n=number: diameter(f"washer {n}"),
        )
        for number, wide in ((6, 0.375), (8, 0.438))
    ),
    Published(
        "load on the top of a step stool when it is tested",
        150.0,
        "kg",
        0.01,
        "EN 14183",
        "greatest load",
        "memory",
        lambda: standing_load() / WEIGHT_OF_KG,
    ),
    Published(
        "pull on the lowest dowel of a leg that splays by 8°, 300 mm under the top of its rail, dowel 100 mm down, 150 kg on two legs",
        310.1,
        "N",
        0.5,
        "moment balance",
        "1471 N / 2 x tan 8° x 300 / 100",
        "arithmetic",
        lambda: pull_on_lowest(150 * WEIGHT_OF_KG, 8.0, 300.0, 100.0),
    ),
    *(
        Published(
            f"shank of a #{number} screw, 0.060 + 0.013 n",
            wide,
            "in",
            0.0005,
            B18,
            "basic diameter",
            "read" if number in (8, 10) else "memory",
            lambda n=number: float(shank(n).inches),
        )
        for number, wide, _ in SCREWS
    ),
    *(
        Published(
            f"shank of the #{number} wood screws in the catalogue",
            wide,
            "in",
            0.0005,
            B18,
            "basic diameter",
            "read" if number in (8, 10) else "memory",
            lambda n=number: diameter(f"wood screw {n} x 1-1/2"),
        )
        for number, wide, _ in SCREWS
        if number != 7
    ),
    *(
        Published(
            f"root of a #{number} screw: two thirds of its shank on average",
            root,
            "in",
            root * 0.25,
            "USDA FPL Wood Handbook",
            "ch. 8, and NDS Table L3 for the root (memory)",
            "read",
            lambda n=number: float(shank(n).inches) * 2 / 3,
        )
        for number, _, root in SCREWS
    ),
    *(
        Published(
            f"pilot for a #8 screw where specific gravity is {words}: {share:.0%} of the root, to the next 1/64 in",
            share * 0.164 * 2 / 3,
            "in",
            1 / 128,
            NDS,
            "12.1.5 (withdrawal)",
            "read",
            lambda g=gravity: float(pilot_hole(8, g).inches),
        )
        for gravity, share, words in PILOTS
    ),
    *(
        Published(
            f"pilot for a #{gauge} screw where specific gravity is over 0.6: the root, to the next 1/64 in",
            wide * 2 / 3,
            "in",
            1 / 128,
            NDS,
            "12.1.5.3 (side loads)",
            "memory",
            lambda n=gauge: float(pilot_hole(n, 0.63).inches),
        )
        for gauge, wide in HARD_PILOTS
    ),
    Published(
        "clearance hole for a #8 screw: its shank or a shade more",
        0.168,
        "in",
        1 / 64,
        B18,
        "largest body diameter",
        "read",
        lambda: float(clearance_hole(8).inches),
    ),
    Published(
        "least penetration, in diameters",
        6,
        "D",
        0.0,
        NDS,
        "12.1.5.6",
        "memory",
        lambda: SIX_DIAMETERS,
    ),
    Published(
        "least penetration of a #8 screw",
        0.984,
        "in",
        0.0005,
        NDS,
        "12.1.5.6",
        "read",
        lambda: float((shank(8) * SIX_DIAMETERS).inches),
    ),
    Published(
        "design withdrawal of a #10 screw where G is 0.45 (printed 109, exact 109.65)",
        109.65,
        "lb/in",
        0.01,
        NDS,
        "eq. 12.2-2",
        "read",
        lambda: withdrawal_design(0.45, 0.190 * INCH, INCH) / POUND_FORCE,
    ),
    Published(
        "ultimate withdrawal of a #8 screw, 1 in of thread in red oak",
        1022,
        "lb",
        1.5,
        "USDA FPL Wood Handbook",
        "GTR-190 eq. 8-10b",
        "arithmetic",
        lambda: withdrawal_ultimate(0.63, 0.164 * INCH, INCH) / POUND_FORCE,
    ),
    Published(
        "ultimate over design withdrawal at equal G",
        15700 / 2850,
        "×",
        0.01,
        "USDA FPL Wood Handbook",
        "GTR-190 eq. 8-10b and NDS eq. 12.2-2",
        "arithmetic",
        lambda: withdrawal_ultimate(0.5, 4.0, 20.0) / withdrawal_design(0.5, 4.0, 20.0),
    ),
    Published(
        "wire of an 18 gauge brad",
        0.0475,
        "in",
        0.0,
        "Steel Wire Gauge, ASTM A510",
        "18 gauge",
        "memory",
        lambda: diameter("brad 18 x 1"),
    ),
    *(
        Published(
            f"pocket screw for stock {thick} in thick",
            long,
            "in",
            1e-9,
            "trade custom",
            "pocket-screw lengths",
            "custom",
            lambda t=thick: float((pocket_length(Length.of_inches(Fraction(t))) or Length.of_mm(0)).inches),
        )
        for thick, long in POCKETS
    ),
)
