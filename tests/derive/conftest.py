"""Small hand-built plans for the tests of lists and layouts."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from drawleaf.model.catalogue import BoardSize, Catalogue, Form, Material, PriceBook, SheetSize, Stock
from drawleaf.model.lists import BoardLayout, Cut, CutList, Layouts, SheetLayout
from drawleaf.model.place import Axis, Box, Span
from drawleaf.model.plan import About, Feature, GlueUp, Making, Part, Plan
from drawleaf.model.position import Position
from drawleaf.units import ZERO, Length, LengthFormat

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


class Replay:
    """Cuts a blank by the printed cuts, one after another, knowing nothing of how they were found. Exact fractions of a millimetre."""

    def __init__(self, length: Length, width: Length, kerf: Length) -> None:
        self.kerf = kerf.exact_mm
        self.blanks = [(Fraction(0), Fraction(0), length.exact_mm, width.exact_mm)]

    def cut(self, cut: Cut) -> None:
        """Saw along the cut's line, which must run from edge to edge of one blank; the kerf is lost on the side of the waste."""
        (x1, y1), (x2, y2) = ((x.exact_mm, y.exact_mm) for x, y in (cut.start, cut.end))
        rip = cut.kind == "rip"
        assert (y1 == y2) if rip else (x1 == x2), f"cut {cut.order} runs askew"
        crossed = [
            blank
            for blank in self.blanks
            if (
                (blank[0], blank[2]) == (x1, x2) and blank[1] < y1 < blank[3]
                if rip
                else (blank[1], blank[3]) == (y1, y2) and blank[0] < x1 < blank[2]
            )
        ]
        assert len(crossed) == 1, f"cut {cut.order} does not run from edge to edge of a blank"
        (blank,) = crossed
        low, high, at = (blank[1], blank[3], y1) if rip else (blank[0], blank[2], x1)
        assert cut.setting.exact_mm == at - low, f"cut {cut.order} is set wrong"
        # A trim keeps what lies beyond the line, so its kerf falls before it.
        near, far = (at - self.kerf, at) if cut.frees.startswith("the rough") else (at, at + self.kerf)
        self.blanks.remove(blank)
        for start, end in ((low, near), (far, high)):
            if start < end:
                self.blanks.append((blank[0], start, blank[2], end) if rip else (start, blank[1], end, blank[3]))

    def take(self, x: Fraction, y: Fraction, length: Fraction, width: Fraction) -> None:
        """Take a finished piece off the bench: there must be one of exactly that size at that place."""
        piece = (x, y, x + length, y + width)
        assert piece in self.blanks, f"no piece lies at {piece}"
        self.blanks.remove(piece)

    def holds(self, x: Fraction, y: Fraction, length: Fraction, width: Fraction) -> bool:
        """Whether what is left over holds such a piece."""
        return any(a <= x and b <= y and x + length <= c and y + width <= d for a, b, c, d in self.blanks)


def replay_layout(layout: SheetLayout | BoardLayout, plan: Plan) -> None:
    """Saw a layout and take off each placed piece; offcuts must be there too, and nothing may reach into a trim."""
    board = isinstance(layout, BoardLayout)
    length, width = (layout.length, layout.board.width) if board else (layout.sheet.length, layout.sheet.width)
    end, edge = (plan.making.end_trim, Length.of_mm(0)) if board else (plan.making.sheet_trim, plan.making.sheet_trim)
    saw = Replay(length, width, plan.making.kerf)
    assert [cut.order for cut in layout.cuts] == list(range(1, len(layout.cuts) + 1))
    for cut in layout.cuts:
        saw.cut(cut)
    area = Fraction(0)
    for one in layout.placed:
        assert end <= one.x, f"{one.label} lies in the trim"
        assert one.x + one.length <= length - end
        assert edge <= one.y
        assert one.y + one.width <= width - edge
        saw.take(one.x.exact_mm, one.y.exact_mm, one.length.exact_mm, one.width.exact_mm)
        area += one.length.exact_mm * one.width.exact_mm
    for offcut in layout.offcuts:
        assert saw.holds(offcut.x.exact_mm, offcut.y.exact_mm, offcut.length.exact_mm, offcut.width.exact_mm)
    assert layout.used == area / (length.exact_mm * width.exact_mm)


def check_layouts(plan: Plan, cut_list: CutList, layouts: Layouts) -> None:
    """Every layout replays, every part lies exactly once at its size and grain, and what is to be bought is what is laid out."""
    pieces: list[tuple[str, int | None]] = []
    for layout in (*layouts.sheets, *layouts.boards):
        replay_layout(layout, plan)
        for one in layout.placed:
            part, item = plan.part(one.part), cut_list.item_of(one.part)
            own, laid = part.stock, layout.stock
            assert (own.material, own.nominal, own.thickness) == (laid.material, laid.nominal, laid.thickness)
            assert (one.number, one.label) == (item.number, item.name)
            if part.glue_up is None:
                more = dict(part.fitted.over) if part.fitted else {}
                size = tuple(
                    part.body.extent(axis) + part.oversize * 2 + more.get(axis, ZERO)
                    for axis in (part.length_axis, part.width_axis)
                )
            else:
                size = part.size[0] + part.glue_up.extra * 2, part.glue_up.strip_width
            assert (one.length, one.width) == (size[::-1] if one.turned else size)
            assert not (one.turned and part.grain is not None), f"{one.label} lies across the grain"
            pieces.append((one.part, one.strip))
    expected: list[tuple[str, int | None]] = []
    for part in plan.parts:
        strips = [None] if part.glue_up is None else range(1, part.glue_up.strips + 1)
        expected += [(part.id, strip) for strip in strips]
    assert sorted(pieces, key=str) == sorted(expected, key=str)
    bought = sum(count for need in layouts.needs for _, _, count in need.buy)
    assert bought == len(layouts.sheets) + sum(board.leaf == 1 for board in layouts.boards)
    for need in layouts.needs:
        assert need.least is None or need.least <= sum(count for _, _, count in need.buy)


@pytest.fixture
def check() -> Callable[[Plan, CutList, Layouts], None]:
    return check_layouts
