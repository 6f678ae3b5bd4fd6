"""What every shop does and nobody printed as a figure: trade customs, and sums worked by hand, beside what drawleaf makes of them."""

from __future__ import annotations

import re
from fractions import Fraction
from math import atan, degrees
from typing import Any

import yaml
from tests.conftest import ROOT
from tests.outside.published import Published
from tests.outside.published.catalogue import catalogue

from drawleaf.checks import standing
from drawleaf.checks.standing import lean_of
from drawleaf.joinery import family_called
from drawleaf.joinery.family import Meeting, Terms
from drawleaf.joinery.moisture import change_over
from drawleaf.model.catalogue import Stock
from drawleaf.model.checks import CheckSettings
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.units import Length

CUSTOM = "trade custom"
MITRE_SAW = catalogue().tools["mitre saw"]
HERE = Position("plan.yaml", 1, 1)


def plan(name: str) -> dict[str, Any]:
    return yaml.safe_load((ROOT / "plans" / name / "plan.yaml").read_text(encoding="utf-8"))


def _part(name: str, thickness: Axis, *spans: tuple[float, float]) -> Part:
    box = Box(
        *(Span(Length.of_inches(1) * int(low * 4) / 4, Length.of_inches(1) * int(high * 4) / 4) for low, high in spans)
    )
    ply = catalogue().materials["birch plywood"]
    stock = Stock("ply", "Ply", ply, "", box.extent(thickness), None, (), ())
    return Part(name, name, name, "case", stock, thickness, None, box, box, (), None, False, HERE)


def rabbet_for_a_half_inch_back() -> float:
    """Width in inches of the rabbet that is cut for a back 1/2 in thick, flush with the back of a 3/4 in side."""
    side = _part("side", Axis.X, (0, 0.75), (0, 12), (0, 30))
    back = _part("back", Axis.Y, (0.75, 20), (11.5, 12), (0, 30))
    contact = back.seen.with_span(Axis.X, Span(side.seen.x.high, side.seen.x.high))
    meeting = Meeting(back, side, Face.LEFT, contact, HERE)
    ((_, cut),) = family_called("rabbet").cuts(meeting, Terms(Length.of_inches(1) * 3 / 8), "j")
    return float(cut.box.y.extent.inches)


def grit_between_coats(finish: str) -> float:
    found = re.match(r"(\d+) grit", catalogue().finishes[finish].sand_between)
    return float(found.group(1)) if found else 0.0


def topcoats() -> float:
    """Coats of the varnish on the bench, which is sat on."""
    return float(
        next(line["coats"] for line in plan("boot-bench")["finish"] if "polyurethane" in str(line.get("apply")))
    )


def pin_pitch() -> float:
    """Pitch of the bench's shelf pins, in mm: the plan says whole and fraction of an inch."""
    whole, _, fraction = str(plan("boot-bench")["dimensions"]["shelf_pitch"]).partition("-")
    return float(Fraction(whole) + Fraction(fraction or 0)) * 25.4


def top_moves(inches: float) -> float:
    """Seasonal change in mm of that much flat-sawn red oak in a heated home."""
    return change_over(Length.of_inches(1) * int(inches), catalogue().materials["red oak board"], CheckSettings()).mm


FIGURES = (
    Published(
        "rabbet for a half-inch back is a half inch wide",
        0.5,
        "in",
        0.0,
        CUSTOM,
        "backs",
        "custom",
        rabbet_for_a_half_inch_back,
    ),
    Published(
        "grit between coats of a varnish",
        220,
        "",
        0.0,
        CUSTOM,
        "finishing",
        "custom",
        lambda: grit_between_coats("water-based polyurethane satin"),
    ),
    Published("topcoats on what is sat on", 3, "", 0.0, CUSTOM, "finishing", "custom", topcoats),
    Published("pitch of rows of shelf pins, or 1-1/4 in", 32, "mm", 0.25, CUSTOM, "32 mm system", "custom", pin_pitch),
    Published(
        "bore of a hinge's cup",
        35,
        "mm",
        0.0,
        CUSTOM,
        "concealed hinges",
        "custom",
        lambda: (catalogue().hardware["concealed hinge full overlay"].measure("cup") or Length.of_mm(0)).mm,
    ),
    Published(
        "holes of a hinge's plate behind the front edge",
        37,
        "mm",
        0.0,
        CUSTOM,
        "32 mm system",
        "custom",
        lambda: (catalogue().hardware["concealed hinge full overlay"].measure("setback") or Length.of_mm(0)).mm,
    ),
    Published(
        "a 10 in mitre saw crosses a 1x6",
        5.5,
        "in",
        0.3,
        CUSTOM,
        "mitre saws",
        "custom",
        lambda: MITRE_SAW.reach.wide.inches,  # type: ignore[union-attr],
    ),
    Published(
        "tilt that a household appliance must stand",
        10,
        "°",
        0.0,
        "IEC 60335-1",
        "clause 20.1",
        "memory",
        lambda: standing.LEAN,
    ),
    Published(
        "a block 100 deep with its weight 300 up leans before it falls by, by hand: atan(50/300)",
        9.462,
        "°",
        0.001,
        "plane geometry",
        "worked by hand",
        "arithmetic",
        lambda: lean_of([(0, 0), (200, 0), (200, 100), (0, 100)], (100, 50), 300),
    ),
    Published(
        "a face frame 3/4 in deep with its weight 24 in up, by hand: atan(0.375/24)",
        degrees(atan(0.015625)),
        "°",
        0.001,
        "plane geometry",
        "worked by hand",
        "arithmetic",
        lambda: lean_of([(0, 0), (600, 0), (600, 19.05), (0, 19.05)], (300, 9.525), 609.6),
    ),
    # 18 in is 457.2 mm; from 30% air (6.17% moisture) to 60% air (10.96%): 457.2 x 0.00369 x 4.79 = 8.08.
    Published(
        "a red oak top 18 in wide moves in a year, 30% to 60% air, by hand",
        8.08,
        "mm",
        0.05,
        "Wood Handbook eq. 13-2 and 4-5",
        "worked by hand",
        "arithmetic",
        lambda: top_moves(18),
    ),
)
