"""What holds, and for how long one has: pilot holes and withdrawal by species, glue, loads, drawers and hinges as their makers print them."""

from __future__ import annotations

from tests.outside.published import Known, Published
from tests.outside.published.catalogue import catalogue

from drawleaf.checks.context import WEIGHT_OF_KG
from drawleaf.checks.wall_hanging import withdrawal_design, withdrawal_ultimate
from drawleaf.derive.shop.times import clamp_hours, open_minutes
from drawleaf.joinery.moisture import change_over
from drawleaf.model.checks import CheckSettings
from drawleaf.model.screw_sizes import shank
from drawleaf.resolve.checking import NAMED_LOADS
from drawleaf.setting_out.screws import clearance_hole, pilot_hole
from drawleaf.units import Length

INCH, POUND, POUND_FORCE = 25.4, 0.45359237, 4.4482216152605  # mm, kg, N: NIST SP 811
AT_TWELVE = 1120.0
"""Kilograms of a cubic metre at 12% moisture for a specific gravity of one: Wood Handbook, equation 4-7."""
B18, NDS, HANDBOOK = "ASME B18.6.1", "NDS-2018", "USDA FPL Wood Handbook"
PVA, UNDERMOUNT, CUP = (
    "data sheet of a PVA wood glue",
    "planning sheet of undermount slides",
    "planning sheet of a concealed hinge",
)
# Material, species, specific gravity at 12% moisture; the share of the root that NDS 12.1.5 bores for it.
SPECIES = (
    ("red oak board", "northern red oak", 0.63, 1.0),
    ("white oak board", "white oak", 0.68, 1.0),
    ("maple board", "sugar maple", 0.63, 1.0),
    ("beech board", "American beech", 0.64, 1.0),
    ("poplar board", "yellow-poplar", 0.42, 0.7),
    ("construction lumber", "coast Douglas-fir", 0.48, 0.7),
)  # fmt: skip
ROOT = {6: 0.138 * 2 / 3, 8: 0.164 * 2 / 3, 10: 0.190 * 2 / 3}
"""Root diameters in inches, two thirds of the shank: Wood Handbook, chapter 8."""
GAUGES = ((4, 0.112), (5, 0.125), (9, 0.177), (12, 0.216), (14, 0.242))
# Specific gravity, gauge, shank in inches, pounds for each inch of thread: 2850 G^2 D.
WITHDRAWAL = ((0.42, 6, 0.138, 69), (0.42, 8, 0.164, 82), (0.50, 8, 0.164, 117), (0.50, 10, 0.190, 135), (0.55, 8, 0.164, 141), (0.67, 8, 0.164, 210))  # fmt: skip


def gravity(material: str) -> float:
    """Specific gravity of a catalogue's board, from its density."""
    return catalogue().materials[material].density / AT_TWELVE


def hardware(item: str, name: str) -> float:
    """A measure of a piece of hardware, in mm."""
    length = catalogue().hardware[item].measure(name)
    return length.mm if length is not None else 0.0


def load(name: str) -> float:
    """What the word stands for, in pounds."""
    return float(NAMED_LOADS[name][1]) / WEIGHT_OF_KG / POUND


def glue_covers() -> float:
    """Square feet to a gallon (128 fl oz) of wood glue; the catalogue's bottle holds 8."""
    return (catalogue().consumables["wood glue"].covers or 0.0) / 0.09290304 * 16


def _pilots() -> list[Published]:
    return [
        Published(
            f"pilot for a #{gauge} screw in {species}: {share:.0%} of the root, to the next 1/64 in",
            share * ROOT[gauge],
            "in",
            1 / 128,
            NDS,
            "12.1.5, with the specific gravity of Wood Handbook GTR-282 Table 5-3b",
            "memory" if share == 1.0 else "read",
            lambda g=gauge, m=material: float(pilot_hole(g, gravity(m)).inches),
        )
        for material, species, _, share in SPECIES
        for gauge in (6, 8, 10)
        if gauge == 8 or material in ("maple board", "poplar board")
    ]


def _pulls() -> list[Published]:
    """Withdrawal of a #8 screw, 15700 G^2 D L, worked by hand for each species: in white oak 15700 x 0.68^2 x 0.164 = 1191."""
    return [
        Published(
            f"ultimate withdrawal of a #8 screw, 1 in of thread in {species}, by hand",
            15700 * specific**2 * 0.164,
            "lb",
            4.0,
            HANDBOOK,
            "GTR-190 eq. 8-10b",
            "arithmetic",
            lambda m=material: withdrawal_ultimate(gravity(m), 0.164 * INCH, INCH) / POUND_FORCE,
        )
        for material, species, specific, _ in SPECIES[1:]
    ]


def _hinged() -> list[Published]:
    door = "concealed hinge full overlay"
    rows: tuple[tuple[str, str, float, float], ...] = (
        ("depth of the bore for a hinge's cup", "cup deep", 13.0, 0.5),
        ("least wood between a hinge's cup and the edge of its door", "least boring", 3.0, 0.0),
        ("most wood between a hinge's cup and the edge of its door", "most boring", 6.0, 0.0),
    )
    return [
        Published(what, value, "mm", within, CUP, "drilling pattern", "memory", lambda n=name: hardware(door, n))
        for what, name, value, within in rows
    ]


def _drawers() -> list[Published]:
    slides = "undermount slides 18 in"
    rows: tuple[tuple[str, str, float, float], ...] = (
        ("how much narrower a drawer on undermount slides is inside than its opening", "narrower", 42.0, 0.0),
        ("thickest side of a drawer on undermount slides", "thickest side", 16.0, 0.0),
        ("how far the floor of such a drawer lies above its lower edge", "recess", 13.0, 0.5),
        ("room under such a drawer", "under", 14.0, 0.5),
        ("hole for the hook in its back", "hook", 6.0, 0.0),
        ("depth of that hole", "hook deep", 10.0, 0.0),
        ("height of that hole above the floor of the drawer", "hook up", 11.0, 0.0),
    )
    return [
        Published(what, value, "mm", within, UNDERMOUNT, "drawer preparation", "memory", lambda n=name: hardware(slides, n))
        for what, name, value, within in rows
    ]  # fmt: skip


def _one(what: str, value: float, unit: str, within: float, source: str, table: str, known: Known, ours) -> Published:
    return Published(what, value, unit, within, source, table, known, ours)


FIGURES = (
    *_pilots(),
    *_pulls(),
    *(
        Published(
            f"design withdrawal of a #{gauge} screw where G is {specific}: 2850 G² D, as the table rounds it",
            pounds,
            "lb/in",
            0.5,
            NDS,
            "Table 12.2B",
            "memory",
            lambda s=specific, d=wide: withdrawal_design(s, d * INCH, INCH) / POUND_FORCE,
        )
        for specific, gauge, wide, pounds in WITHDRAWAL
    ),
    *(
        Published(
            f"shank of a #{gauge} screw", wide, "in", 0.0005, B18, "basic diameter", "memory",
            lambda n=gauge: float(shank(n).inches),
        )
        for gauge, wide in GAUGES
    ),
    *(
        Published(
            f"clearance hole for a #{gauge} screw: its largest body or a shade more", wide, "in", 1 / 64, B18, "largest body diameter",
            "memory", lambda n=gauge: float(clearance_hole(n).inches),
        )
        for gauge, wide in ((6, 0.142), (10, 0.194))
    ),
    _one("how long the glue stays open once it is spread (4 to 6 printed)", 5.0, "min", 1.0, PVA, "open assembly time", "memory",
         lambda: open_minutes(catalogue())),
    _one("how long the glue is clamped (30 to 60 printed for an unstressed joint)", 1.0, "h", 0.0, PVA, "clamp time", "memory",
         lambda: clamp_hours(catalogue())),
    _one("how far a gallon of the glue goes", 250.0, "sq ft", 15.0, PVA, "required spread, 6 mils", "memory", glue_covers),
    _one("share of a Type IA ladder's rating, 300 lb, that someone who stands on a stool is reckoned at, at least", 1.0, "×", 0.0,
         "ANSI A14.2", "duty ratings", "memory", lambda: min(1.0, load("standing") / 300)),
    _one("share of a chair's drop test, 225 lb, that someone who sits is reckoned at, at least", 1.0, "×", 0.0,
         "ANSI/BIFMA X5.1", "seat durability", "memory", lambda: min(1.0, load("sitting") / 225)),
    _one("room beside a full-extension side-mounted slide of 0.50 in", 0.5, "in", 0.0, "data sheet of a side-mounted slide", "side space", "memory",
         lambda: float(catalogue().hardware["side-mount slides 16 in"].clearances[0].room.inches)),
    *_drawers(),
    *_hinged(),
    # 6 in of sugar maple, 30% to 60% air: 152.4 x 0.00353 x 4.79 = 2.577.
    _one("a maple drawer side 6 in high moves in a year, 30% to 60% air, by hand", 2.577, "mm", 0.02,
         "Wood Handbook eq. 13-2 and 4-5", "worked by hand", "arithmetic",
         lambda: change_over(Length.of_inches(6), catalogue().materials["maple board"], CheckSettings()).mm),
)  # fmt: skip
