"""A small plan by hand, so that the booklet can be tested without the rooms before it: a stool of three parts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from drawleaf.draw.paper.svg import Sketch, TextRun, rectangle, write
from drawleaf.model import catalogue as c
from drawleaf.model import lists as li
from drawleaf.model import plan as pl
from drawleaf.model import steps as st
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Drawings
from drawleaf.model.place import Axis, Box, Point, Span
from drawleaf.model.position import Position
from drawleaf.model.settings import NO_SETTINGS
from drawleaf.units import ZERO, Length, LengthFormat, Units

AT = Position("plan.yaml", 1, 1)


def inches(value: str | int) -> Length:
    return Length.of_inches(Fraction(value))


SHEET = c.SheetSize("full sheet", inches(96), inches(48), Fraction(62))
PLYWOOD = c.Material(
    "birch plywood",
    "birch plywood",
    c.Form.SHEET,
    "#eedfc4",
    680,
    False,
    True,
    9000,
    None,
    None,
    (),
    (),
    "Wood",
    "test",
)
STOCK = c.Stock("case", "birch plywood 3/4", PLYWOOD, "3/4", inches("23/32"), None, (SHEET,), ())
SCREW = c.HardwareItem(
    "screw 8 x 1-1/4", "wood screw #8 x 1-1/4", "wood screws #8 x 1-1/4", "wood screw", inches("5/4"), 8, None, None, None,
    (), (), 100, "box of 100", Fraction(9), "Fasteners", "", "test",
)  # fmt: skip
KICKBACK = c.Caution(
    "kickback", "WARNING", "The saw can throw the work back at you.", "It can hit you with great force.",
    ("Use the riving knife.", "Stand out of the line of the blade."), "Kickback: riving knife on, stand aside.", "test",
)  # fmt: skip
DUST = c.Caution(
    "dust", "CAUTION", "Wood dust harms lungs.", "It can make you ill.", ("Wear a mask.",), "Dust: wear a mask.", "test"
)
SAW = c.Tool("circular saw", "circular saw", True, "power tools", ("kickback", "dust"), ("hand saw",), "")
HAND_SAW = c.Tool("hand saw", "hand saw", False, "hand tools", (), (), "")
OIL = c.FinishProduct(
    "danish oil", "danish oil", c.FinishKind.OIL, c.PutOn.WIPE, 12, 8, 72, "", (("1 pint", 0.473, Fraction(14)),), (), "spirits",
    "", "test",
)  # fmt: skip


def part(name: str, box: Box, thickness: Axis) -> pl.Part:
    return pl.Part(
        f"stool.{name}",
        f"stool.{name}",
        name.capitalize(),
        "stool",
        STOCK,
        thickness,
        None,
        box,
        box,
        (),
        None,
        False,
        AT,
    )


def box(*ends: str | int) -> Box:
    x0, x1, y0, y1, z0, z1 = (inches(end) for end in ends)
    return Box(Span(x0, x1), Span(y0, y1), Span(z0, z1))


SEAT = part("seat", box(0, 16, 0, 12, "377/32", "25/2"), Axis.Z)
LEFT_LEG = part("leg", box(1, "55/32", 1, 11, 0, "377/32"), Axis.X)
PARTS = (SEAT, LEFT_LEG)
FASTENER = pl.Fastener(SCREW, Point(inches(2), inches(4), inches("25/2")), (0, 0, -1), "stool.seat", "stool.leg", None)


def make_plan(units: Units = Units.INCH, paper: str = "letter") -> pl.Plan:
    about = pl.About(
        "Test stool", "A seat & two legs", "T-01", "B", "2026-02-03", "Test maker", "a@b.example", "© 2026", "Share it.",
        "A stool for *testing* <b>pages</b>.", "beginner", ("Cutting square.",), ("Keep it dry.",), None,
        (pl.Revision("A", "2026-01-01", "First."), pl.Revision("B", "2026-02-03", "Seat wider.")),
    )  # fmt: skip
    shelf = c.Catalogue({}, {}, {}, {}, {}, {}, c.PriceBook("$", "2026-01-15", ""))
    coats = (
        pl.FinishCoat(None, (120, 180), 1, ("stool.seat",), "all parts", False, "", AT),
        pl.FinishCoat(OIL, (), 2, ("stool.seat",), "all parts", False, "", AT),
    )
    notes = (
        pl.Note("part", "stool.leg", "Legs are **alike**.", None, AT),
        pl.Note("step", "assemble", "Take your time. ![no](missing.png)", None, AT),
    )
    return pl.Plan(
        "test-stool", None, about, LengthFormat(units), paper,
        (pl.NamedLength("width", inches(16), AT), pl.NamedLength("legs", Fraction(2), AT)), (STOCK,), PARTS,
        (pl.Assembly("stool", "Stool", None, tuple(p.id for p in PARTS), (), False, AT),), (), (), coats, notes,
        pl.Making(inches("1/8"), inches("1/4"), inches("1/2"), "common power tools"), shelf,
    )  # fmt: skip


def drawing(name: str, kind: str, width: float, height: float, scale: str | None = None) -> Drawing:
    alt = f"Drawing “{name}” of the stool"
    sketch = Sketch()
    sketch.fill("#f1f2f3", rectangle(1.0, 1.0, width - 1.0, height - 1.0))
    sketch.texts.append(TextRun(name, (5.0, 8.0), 3.8, 400, "#1a1a1a"))
    svg = write(sketch, width, height, name, alt)
    return Drawing(name, kind, name.capitalize(), svg, alt, width, height, scale)


def make_drawings() -> Drawings:
    return Drawings(
        drawing("cover", "cover", 150, 110),
        (drawing("exploded", "exploded", 160, 140),),
        (drawing("front", "elevation", 120, 80, "1 : 5"), drawing("side", "elevation", 90, 80, "1 : 5")),
        {1: drawing("part-01", "part", 120, 60, "1 : 5"), 2: drawing("part-02", "part", 100, 70, "1 : 5")},
        {
            1: drawing("step-01", "step", 120, 60),
            2: drawing("step-02", "step", 130, 90),
            3: drawing("step-03", "step", 130, 80),
        },
        {1: drawing("sheet-1", "sheet", 165, 85, "1 : 20")},
        {},
    )


def _operation(name: str, kind: str, parts: tuple[str, ...], **more: object) -> st.Operation:
    method = st.Method("saw", "with a circular saw", (SAW,), (KICKBACK, DUST))
    plain = st.Operation(name, kind, parts, (), method, (), NO_SETTINGS, (), (), (), (), None, 15, 0)
    return replace(plain, **more)  # type: ignore[arg-type]


def make_derived(units: Units = Units.INCH, paper: str = "letter") -> Derived:
    plan = make_plan(units, paper)
    items = (
        li.CutItem(1, "stool.seat", "Seat", (SEAT,), STOCK, inches(16), inches(12), inches("23/32"), "lengthwise", None, "Fence at 12", ""),
        li.CutItem(2, "stool.leg", "Leg", (LEFT_LEG,), STOCK, inches("377/32"), inches(10), inches("23/32"), "upright", None, None, "=cut last"),
    )  # fmt: skip
    layout = li.SheetLayout(
        1, STOCK, SHEET, (li.Placed("stool.seat", "Seat", 1, None, ZERO, ZERO, inches(16), inches(12), False),),
        (li.Cut(1, "rip", inches(12), (ZERO, inches(12)), (inches(96), inches(12)), "strip A"),),
        (li.Offcut(ZERO, inches(13), inches(96), inches(35)),), Fraction(1, 3),
    )  # fmt: skip
    scene = st.Scene((), ("stool.seat",), (), (), (), "sheet 1")
    joining = st.Scene(("stool.leg",), ("stool.seat",), (st.Move("stool.seat", (0, 0, -1)),), (FASTENER,), ())
    steps = (
        st.Step(1, "cut-case", "Cut the parts", "Cut the sheet", None, (_operation("cut", "cut", ("stool.seat", "stool.leg")),), ("stool.seat", "stool.leg"), (), (SAW,), (DUST, KICKBACK), scene),
        st.Step(2, "assemble", "Put it together", "Screw on the seat", "stool", (_operation("join", "assemble", ("stool.seat",), fasteners=(FASTENER,)),), ("stool.leg", "stool.seat"), (st.HardwareUse(SCREW, 8),), (SAW,), (KICKBACK,), joining),
        st.Step(3, "trim", "Put it together", "Trim the edge", "stool", (_operation("trim", "cut", ("stool.seat",)),), ("stool.seat",), (), (SAW,), (KICKBACK,), None),
    )  # fmt: skip
    shopping = li.ShoppingList(
        (
            li.ShoppingRow("Wood", "birch plywood 3/4", "full sheet", 1, "sheet", Fraction(62), Fraction(62), "", (("actual", inches("23/32")),)),
            li.ShoppingRow("Fasteners", "@screws, \"long\"", "box of 100", 1, "box", None, None, "92 to spare"),
        ), Fraction(62), 1, "$", "2026-01-15",
    )  # fmt: skip
    return Derived(
        plan, li.CutList(items), li.Layouts((layout,), (), (li.StockNeed(STOCK, ((SHEET, None, 1),), 1, None),)),
        (li.HardwareRow(SCREW, 8, 1, (("seat to legs", 8),)),),
        (li.ConsumableRow(c.Consumable("glue", "wood glue", "bottle", 3, Fraction(7), "Glue", "test"), Fraction(1, 4), 1, "joints"),),
        (li.FinishRow(OIL, 2, 1.2, 0.2, (("1 pint", 1, Fraction(14)),)),), shopping,
        (li.ToolRow(SAW, (1, 2, 3), (HAND_SAW,), ""),), steps, st.Schedule(2.5, 80, 4, "two hours a day"),
        li.Audit((li.AuditLine("parts on the cut list", "2", "2", True, ""),)),
        (406.4, 304.8, 317.5), 6.5,
    )  # fmt: skip


@pytest.fixture
def derived() -> Derived:
    """The stool in inches on Letter paper."""
    return make_derived()


@pytest.fixture
def derive_stool():
    """The stool in other units or on other paper: ``derive_stool(Units.MM, "a4")``."""
    return make_derived


@pytest.fixture
def drawings() -> Drawings:
    """Plain frames in place of drawings."""
    return make_drawings()


@pytest.fixture
def plain_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Steps worded by hand: these tests are about pages, not about the wording of a step."""
    from markupsafe import Markup

    from drawleaf.book.chapters import context
    from drawleaf.book.words.wording import StepText

    def words(step: st.Step, derived: Derived, formatter: object, plan_folder: object) -> StepText:
        fence = Markup(formatter.length(inches("467/32")))  # type: ignore[attr-defined]
        return StepText(
            title=Markup(step.title),
            actions=(Markup("Set the fence to ") + fence + ".", Markup("Drive the screws.")),
            check=Markup("The diagonals are equal."),
            if_not=Markup("Push the long corner in."),
            setup=(Markup("fence ") + fence,),
            another_way=(Markup("With a hand saw."),),
            why=None,
        )

    monkeypatch.setattr(context, "step_text", words)
