"""What a screw or brad holds that is loaded across its length: the yield limit equations of NDS-2018 12.3.1, single shear, from memory."""

from __future__ import annotations

from math import sqrt

from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.plan import Fastener, Part
from drawleaf.model.screw_sizes import thickness_of
from drawleaf.units import MM_PER_INCH
from drawleaf.units.measures import convert

INCH = float(MM_PER_INCH)
SOURCE = "NDS-2018 12.3.1, yield limit equations in single shear, with the root of a screw and Fe = 16600 G^1.84 (from memory)"
THIN_WIRE = 1.2
"""Millimetres: a brad of 18 gauge, where its item names no thickness."""
ROOT = 2 / 3
"""Of a screw's shank: Wood Handbook, chapter 8."""


def bearing(gravity: float) -> float:
    """Dowel bearing strength, in pounds to the square inch, of wood of that specific gravity, under a fastener thinner than 1/4 in."""
    return 16600 * gravity**1.84


def bending_yield(diameter: float) -> float:
    """Bending yield strength in psi of a nail or screw of that diameter in inches: NDS-2018 Table I1."""
    return 100_000.0 if diameter <= 0.142 else 90_000.0 if diameter <= 0.177 else 80_000.0


def reduction(diameter: float) -> float:
    """The reduction term of a fastener of that diameter in inches: 2.2, over 0.17 in 10 D + 0.5."""
    return 2.2 if diameter <= 0.17 else 10 * diameter + 0.5


def design_shear(diameter: float, side: float, main: float, side_gravity: float, main_gravity: float) -> float:
    """Design value in newtons of one fastener in single shear; ``diameter`` (of the root), the thickness of the ``side`` member and the
    length in the ``main`` one in mm. The least of the six ways in which it yields."""
    wire, side, main = diameter / INCH, side / INCH, main / INCH
    if wire <= 0 or side <= 0 or main <= 0:
        return 0.0
    loads = yield_loads(wire, side, main, bearing(side_gravity), bearing(main_gravity), bending_yield(wire))
    return convert(min(loads) / reduction(wire), "lbf", "N")


def yield_loads(
    wire: float, side: float, main: float, fe_side: float, fe_main: float, fyb: float
) -> tuple[float, float, float, float, float, float]:
    """Pounds at which a fastener yields in single shear in the six ways Im, Is, II, IIIm, IIIs and IV, before any reduction. Lengths in inches,
    bearing and bending yield strengths in psi."""
    ratio, reach = fe_main / fe_side, main / side
    k1 = (sqrt(ratio + 2 * ratio**2 * (1 + reach + reach**2) + reach**2 * ratio**3) - ratio * (1 + reach)) / (1 + ratio)
    k2 = -1 + sqrt(2 * (1 + ratio) + 2 * fyb * (1 + 2 * ratio) * wire**2 / (3 * fe_main * main**2))
    k3 = -1 + sqrt(2 * (1 + ratio) / ratio + 2 * fyb * (2 + ratio) * wire**2 / (3 * fe_main * side**2))
    return (
        wire * main * fe_main,
        wire * side * fe_side,
        k1 * wire * side * fe_side,
        k2 * wire * main * fe_main / (1 + 2 * ratio),
        k3 * wire * side * fe_main / (2 + ratio),
        wire**2 * sqrt(2 * fe_main * fyb / (3 * (1 + ratio))),
    )


def held_across(fastener: Fastener, through: Part, into: Part) -> float:
    """Design value in newtons of a fastener in its place, loaded across it; nothing of one that slides or is taken out again."""
    item = fastener.item
    if fastener.slotted or fastener.temporary or item.pin or item.length is None:
        return 0.0
    thick = thickness_of(item)
    wire = THIN_WIRE if thick is None else thick.mm
    if item.kind != FastenerKind.BRAD:
        wire *= ROOT
    way = max(range(3), key=lambda index: abs(fastener.direction[index]))
    side = min(
        (through.body.x.extent, through.body.y.extent, through.body.z.extent)[way].mm - fastener.sunk.mm,
        item.length.mm / 2 if item.kind == FastenerKind.POCKET_SCREW else float("inf"),
    )
    return design_shear(
        wire,
        side,
        item.length.mm - side,
        through.stock.material.specific_gravity,
        into.stock.material.specific_gravity,
    )
