"""Small plans of plain parts for tests of solids and drawings: boxes in millimetres, with features cut into them."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

from drawleaf.model.catalogue import Catalogue, Form, Material, PriceBook, Stock
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import About, Bore, BoxCut, EdgeProfile, Feature, Fitting, Joint, Making, Part, Plan
from drawleaf.model.position import Position
from drawleaf.units import Length, LengthFormat

HERE = Position("plan.yaml", 7, 3)
Six = tuple[float, float, float, float, float, float]
_WOOD = Material("wood", "wood", Form.BOARD, "#c8a878", 600.0, True, True, None, None, None, (), (), "", "")
_STOCK = Stock("board", "board", _WOOD, "3/4", Length.of_mm(19), None, (), ())


def mm(value: float) -> Length:
    """Millimetres as an exact length."""
    return Length(Fraction(value).limit_denominator(10**9))


def box(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> Box:
    return Box(Span(mm(x0), mm(x1)), Span(mm(y0), mm(y1)), Span(mm(z0), mm(z1)))


def part(name: str, sides: Six, *features: Feature) -> Part:
    body = box(*sides)
    return Part(name, name, name.capitalize(), "all", _STOCK, Axis.Z, Axis.X, body, body, features, None, False, HERE)


def cut(sides: Six, into: Face, *opens: Face) -> BoxCut:
    return BoxCut("dado", box(*sides), into, (into, *opens), None, HERE)


def hole(face: Face, at: tuple[float, float, float], diameter: float, depth: float | None = None) -> Bore:
    direction = (-face.normal[0], -face.normal[1], -face.normal[2])
    return Bore("hole", face, Point(*map(mm, at)), direction, mm(diameter), mm(depth) if depth else None, None, HERE)


def edge(kind: str, one: Face, other: Face, size: float) -> EdgeProfile:
    return EdgeProfile(kind, (one, other), mm(size), HERE)


def plan(*parts: Part, joints: tuple[Joint, ...] = (), fittings: tuple[Fitting, ...] = ()) -> Plan:
    about = About("T", "", "T-1", "A", "", "", "", "", "", "", "beginner", (), (), None, ())
    making = Making(mm(3), mm(6), mm(12), "common power tools")
    catalogue = Catalogue({}, {}, {}, {}, {}, {}, PriceBook("$", "", ""))
    return Plan(
        "t", None, about, LengthFormat(), "a4", (), (_STOCK,), parts, (), joints, fittings, (), (), making, catalogue
    )


PLANS = ("key-ledge", "boot-bench")
ROOT = Path(__file__).resolve().parent.parent


@cache
def example(name: str, edition: str | None = None) -> Plan:
    """An example plan, resolved."""
    from drawleaf.resolve.resolver import resolve
    from drawleaf.source.library import load_library
    from drawleaf.source.reader import read_plan

    library, _ = load_library([ROOT / "shared"])
    resolved, found = resolve(read_plan(ROOT / "plans" / name, library), edition=edition)
    assert resolved is not None, found
    return resolved
