"""Small hand-built plans for the tests of lists and layouts."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from drawleaf.model.catalogue import BoardSize, Catalogue, Form, Material, PriceBook, SheetSize, Stock
from drawleaf.model.place import Axis, Box, Span
from drawleaf.model.plan import About, Feature, GlueUp, Making, Part, Plan
from drawleaf.model.position import Position
from drawleaf.units import Length, LengthFormat

HERE = Position("plan.yaml", 1, 1)


def inches(value: int | str | Fraction) -> Length:
    return Length.of_inches(Fraction(value))


def material(form: Form) -> Material:
    return Material(
        "wood",
        "test wood",
        form,
        "#c8a878",
        600.0,
        form is Form.BOARD,
        False,
        None,
        None,
        None,
        (),
        (),
        "Lumber",
        "invented",
    )


PLY = Stock(
    "ply",
    "3/4 test plywood",
    material(Form.SHEET),
    "3/4",
    inches("23/32"),
    None,
    (
        SheetSize("full sheet", inches(96), inches(48), Fraction(60)),
        SheetSize("half sheet", inches(48), inches(48), Fraction(36)),
        SheetSize("quarter sheet", inches(48), inches(24), Fraction(22)),
    ),
    (),
)


def board_stock(name: str, width: str, lengths: tuple[tuple[int, int], ...] = ((72, 6), (96, 8))) -> Stock:
    sizes = BoardSize(
        name,
        inches("3/4"),
        inches(width),
        tuple(inches(length) for length, _ in lengths),
        tuple(Fraction(price) for _, price in lengths),
    )
    return Stock(
        f"board_{name}", f"{name} board", material(Form.BOARD), name, inches("3/4"), inches(width), (), (sizes,)
    )


ONE_BY_FOUR = board_stock("1x4", "7/2")
ONE_BY_TWO = board_stock("1x2", "3/2")


def part(
    name: str,
    size: tuple[str | int, str | int],
    *,
    stock: Stock = PLY,
    features: tuple[Feature, ...] = (),
    axes: tuple[Axis, Axis, Axis] = (Axis.X, Axis.Y, Axis.Z),
    at: tuple[int, int, int] = (0, 0, 0),
    grain: bool = True,
    glue_up: GlueUp | None = None,
    mirrored: bool = False,
    kind: str | None = None,
    label: str | None = None,
) -> Part:
    """A part with its length, width and thickness along the given axes, its low corner at ``at`` inches."""
    extents = dict(zip(axes, (inches(size[0]), inches(size[1]), stock.thickness), strict=True))
    spans = {axis: Span(inches(low), inches(low) + extents[axis]) for axis, low in zip(Axis, at, strict=True)}
    box = Box(spans[Axis.X], spans[Axis.Y], spans[Axis.Z])
    return Part(
        name,
        kind or name,
        label or name.rsplit(".", 1)[-1].replace("_", " ").capitalize(),
        "case",
        stock,
        axes[2],
        axes[0] if grain else None,
        box,
        box,
        features,
        glue_up,
        mirrored,
        HERE,
    )


def plan_of(*parts: Part, **changes: object) -> Plan:
    values: dict[str, object] = {
        "name": "test",
        "edition": None,
        "about": About("Test", "", "T-1", "A", "", "", "", "", "", "", "beginner", (), (), None, ()),
        "lengths": LengthFormat(),
        "paper": "letter",
        "dimensions": (),
        "stocks": tuple({one.stock.id: one.stock for one in parts}.values()),
        "parts": parts,
        "assemblies": (),
        "joints": (),
        "fittings": (),
        "finish": (),
        "notes": (),
        "making": Making(inches("1/8"), inches("1/4"), inches("1/2"), "common power tools"),
        "catalogue": Catalogue({}, {}, {}, {}, {}, {}, PriceBook("$", "2026-11-20", "invented")),
    }
    return Plan(**{**values, **changes})  # type: ignore[arg-type]


@pytest.fixture
def shop() -> dict[str, Callable | Stock]:
    """The builders above, for tests (test folders are no packages)."""
    return {
        "inches": inches,
        "part": part,
        "plan_of": plan_of,
        "board_stock": board_stock,
        "PLY": PLY,
        "ONE_BY_FOUR": ONE_BY_FOUR,
        "ONE_BY_TWO": ONE_BY_TWO,
        "HERE": HERE,
    }
