"""Small hand-built values for the drawing tests: a few stocks, parts and layouts of our own."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.joinery import family_called
from drawleaf.model.catalogue import BoardSize, Catalogue, Form, Material, PriceBook, SheetSize, Stock
from drawleaf.model.derived import Derived
from drawleaf.model.lists import (
    Audit,
    BoardLayout,
    Cut,
    CutItem,
    CutList,
    Layouts,
    Offcut,
    Placed,
    SheetLayout,
    ShoppingList,
)
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import About, Assembly, Bore, BoxCut, Feature, Joint, Making, Part, Plan
from drawleaf.model.position import Position
from drawleaf.model.steps import Method, Move, Operation, Scene, Schedule, Step
from drawleaf.units import Length, LengthFormat, Units


def inches(text: str | int) -> Length:
    """``16-1/2`` as a length."""
    total = Fraction(0)
    for piece in str(text).split("-"):
        total += Fraction(piece)
    return Length.of_inches(total)


PLYWOOD = Material(
    "birch plywood", "Birch plywood", Form.SHEET, "", 680.0, False, False, None, None, None, (), (), "Sheet goods", ""
)
PINE = Material("pine board", "Pine board", Form.BOARD, "", 450.0, True, False, None, None, None, (), (), "Lumber", "")
SHEET = SheetSize("full sheet", inches(96), inches(48))
BOARD = BoardSize("1x4", inches("3/4"), inches("3-1/2"), (inches(96),), (None,))
CASE = Stock("case", "3/4 in birch plywood", PLYWOOD, "3/4", inches("23/32"), None, (SHEET,), ())
ONE_BY_FOUR = Stock("one_by_four", "1x4 pine", PINE, "1x4", inches("3/4"), inches("3-1/2"), (), (BOARD,))


def piece(number: int, label: str, x: str, y: str, length: str, width: str, strip: int | None = None) -> Placed:
    return Placed(f"p{number}", label, number, strip, inches(x), inches(y), inches(length), inches(width), turned=False)


def sheet_layout() -> SheetLayout:
    placed = (
        piece(1, "Side", "1/4", "1/4", "18-1/4", "15-1/2"),
        piece(1, "Side", "18-5/8", "1/4", "18-1/4", "15-1/2"),
        piece(2, "Bottom", "37", "1/4", "41-1/16", "15-1/4"),
        piece(5, "Front top rail", "1/4", "16", "40-9/16", "3-1/2"),
        piece(6, "Spacer", "41", "16", "12", "1-1/2"),
    )
    cuts = (
        Cut(1, "crosscut", inches("1/4"), (inches("1/4"), inches(0)), (inches("1/4"), inches(48)), "a true end"),
        Cut(2, "rip", inches("15-1/2"), (inches("1/4"), inches("15-3/4")), (inches(96), inches("15-3/4")), "the strip"),
        Cut(
            3,
            "crosscut",
            inches("18-1/4"),
            (inches("18-1/2"), inches("1/4")),
            (inches("18-1/2"), inches("15-3/4")),
            "one side",
        ),
        Cut(
            4,
            "crosscut",
            inches("18-1/4"),
            (inches("36-7/8"), inches("1/4")),
            (inches("36-7/8"), inches("15-3/4")),
            "one side",
        ),
        Cut(5, "rip", inches("3-1/2"), (inches("1/4"), inches("19-1/2")), (inches(96), inches("19-1/2")), "the rails"),
    )
    offcuts = (Offcut(inches("1/4"), inches("19-5/8"), inches("95-3/4"), inches("28-1/8")),)
    return SheetLayout(1, CASE, SHEET, placed, cuts, offcuts, Fraction(1, 3))


def board_layout() -> BoardLayout:
    placed = (
        piece(3, "Shelf", "1/2", "0", "24", "3-1/2"),
        piece(4, "End bracket", "24-5/8", "0", "3", "2-3/4"),
        piece(4, "End bracket", "27-3/4", "0", "3", "2-3/4"),
    )
    cuts = (
        Cut(1, "crosscut", inches("1/2"), (inches("1/2"), inches(0)), (inches("1/2"), inches("3-1/2")), "a true end"),
        Cut(
            2, "crosscut", inches("24"), (inches("24-1/2"), inches(0)), (inches("24-1/2"), inches("3-1/2")), "the shelf"
        ),
    )
    offcuts = (Offcut(inches("30-7/8"), inches(0), inches("65-1/8"), inches("3-1/2")),)
    return BoardLayout(1, ONE_BY_FOUR, BOARD, inches(96), placed, cuts, offcuts, Fraction(1, 3))


NOWHERE = Position("plan.yaml", 1, 1)


def box(x0: str, x1: str, y0: str, y1: str, z0: str, z1: str) -> Box:
    return Box(Span(inches(x0), inches(x1)), Span(inches(y0), inches(y1)), Span(inches(z0), inches(z1)))


def part(
    name: str,
    thickness: Axis,
    grain: Axis,
    body: Box,
    *features: Feature,
    seen: Box | None = None,
    mirrored: bool = False,
) -> Part:
    return Part(
        f"case.{name}",
        f"case.{name.split('_')[0]}",
        name.replace("_", " ").capitalize(),
        "case",
        CASE,
        thickness,
        grain,
        seen or body,
        body,
        features,
        None,
        mirrored,
        NOWHERE,
    )


def channel(kind: str, body: Box, into: Face, joint: str, *opened: Face) -> BoxCut:
    return BoxCut(kind, body, into, (into, *opened), joint, NOWHERE)


def pin_row(
    face: Face, x: str, y: str, heights: list[str], direction: tuple[float, float, float], row: str
) -> tuple[Bore, ...]:
    return tuple(
        Bore(
            "shelf pin",
            face,
            Point(inches(x), inches(y), inches(z)),
            direction,
            inches("1/4"),
            inches("3/8"),
            row,
            NOWHERE,
        )
        for z in heights
    )


HEIGHTS = ["6", "7-1/4", "8-1/2", "9-3/4", "11", "12-1/4", "13-1/2"]


def case_plan(units: Units = Units.INCH) -> Plan:
    """A small open case: two sides with dadoes, a notch and pin holes, a bottom, a top rail and a kick board."""
    left_pins = (
        *pin_row(Face.RIGHT, "23/32", "2", HEIGHTS, (-1.0, 0.0, 0.0), "a"),
        *pin_row(Face.RIGHT, "23/32", "8", HEIGHTS, (-1.0, 0.0, 0.0), "b"),
    )
    side = part(
        "side",
        Axis.X,
        Axis.Z,
        box("0", "23/32", "0", "10", "0", "16"),
        channel("dado", box("15/32", "23/32", "0", "10", "3", "3-23/32"), Face.RIGHT, "j1", Face.FRONT, Face.BACK),
        channel("notch", box("0", "23/32", "0", "2", "0", "2-1/2"), Face.FRONT, "", Face.BOTTOM, Face.LEFT, Face.RIGHT),
        *left_pins,
    )
    twin = part(
        "side_mirrored",
        Axis.X,
        Axis.Z,
        box("23-9/32", "24", "0", "10", "0", "16"),
        channel("dado", box("23-9/32", "23-17/32", "0", "10", "3", "3-23/32"), Face.LEFT, "j2", Face.FRONT, Face.BACK),
        channel(
            "notch", box("23-9/32", "24", "0", "2", "0", "2-1/2"), Face.FRONT, "", Face.BOTTOM, Face.LEFT, Face.RIGHT
        ),
        mirrored=True,
    )
    bottom = part(
        "bottom",
        Axis.Z,
        Axis.X,
        box("15/32", "23-17/32", "0", "10", "3", "3-23/32"),
        seen=box("23/32", "23-9/32", "0", "10", "3", "3-23/32"),
    )
    rail = part("rail", Axis.Z, Axis.X, box("23/32", "23-9/32", "0", "3-1/2", "15-9/32", "16"))
    kick = part("kick", Axis.Y, Axis.X, box("23/32", "23-9/32", "2", "2-23/32", "0", "3"))
    parts = (side, twin, bottom, rail, kick)
    joints = tuple(
        Joint(
            f"j{i}",
            f"l{i}",
            family_called(family).facts,
            insert.id,
            receiver.id,
            face,
            insert.seen.with_span(face.axis, Span(insert.seen.face(face), insert.seen.face(face))),
            inches("1/4") if family == "dado" else inches(0),
            inches("23/32"),
            True,
            (),
            NOWHERE,
        )
        for i, (family, insert, receiver, face) in enumerate(
            [
                ("dado", bottom, side, Face.LEFT),
                ("dado", bottom, twin, Face.RIGHT),
                ("butt", rail, side, Face.LEFT),
                ("butt", rail, twin, Face.RIGHT),
                ("butt", kick, side, Face.LEFT),
                ("butt", kick, twin, Face.RIGHT),
                ("butt", kick, bottom, Face.TOP),
            ],
            1,
        )
    )
    about = About(
        "Open case",
        "A test piece",
        "T-1",
        "A",
        "2026-11-20",
        "Fern Lane Workshop",
        "",
        "",
        "",
        "",
        "beginner",
        (),
        (),
        None,
        (),
    )
    case = Assembly("case", "Case", None, tuple(p.id for p in parts), (), False, NOWHERE)
    catalogue = Catalogue({}, {}, {}, {}, {}, {}, PriceBook("$", "", ""))
    making = Making(inches("1/8"), inches("1/4"), inches("1/2"), "common power tools")
    return Plan(
        "case",
        None,
        about,
        LengthFormat(units),
        "letter",
        (),
        (CASE,),
        parts,
        (case,),
        joints,
        (),
        (),
        (),
        making,
        catalogue,
    )


def case_derived(units: Units = Units.INCH) -> Derived:
    plan = case_plan(units)
    side, twin, bottom, rail, kick = plan.parts

    def item(number: int, mirror_of: int | None, *copies: Part) -> CutItem:
        length, width, thickness = copies[0].size
        return CutItem(
            number,
            copies[0].id,
            copies[0].name,
            copies,
            CASE,
            length,
            width,
            thickness,
            "with the length",
            mirror_of,
            None,
            "",
        )

    cut_list = CutList(
        (item(1, None, bottom), item(2, None, rail), item(3, None, kick), item(4, None, side), item(5, 4, twin))
    )
    scene = Scene((side.id,), (bottom.id, twin.id), (Move(twin.id, (-1.0, 0.0, 0.0)),), (), ())
    step = Step(
        1,
        "join-bottom",
        "Put it together",
        "Join the bottom to the sides",
        "case",
        (),
        (bottom.id, twin.id),
        (),
        (),
        (),
        scene,
    )
    bench = Step(
        2,
        "cut-dadoes",
        "Cut the joints",
        "Cut the dadoes",
        "case",
        (_machining(side),),
        (side.id,),
        (),
        (),
        (),
        Scene((), (side.id, twin.id), (), (), ()),
    )
    layouts = Layouts((sheet_layout(),), (board_layout(),), ())
    shopping = ShoppingList((), Fraction(0), 0, "$", "")
    return Derived(
        plan,
        cut_list,
        layouts,
        (),
        (),
        (),
        shopping,
        (),
        (step, bench),
        Schedule(1.0, 0.0, 1, ""),
        Audit(()),
        (609.6, 254.0, 406.4),
        8.0,
    )


def _machining(side: Part) -> Operation:
    method = Method("router", "with a router", (), ())
    dado = next(feature for feature in side.features if isinstance(feature, BoxCut) and feature.kind == "dado")
    return Operation(
        "dado", "cut dado", (side.id,), (), method, (), (), (), ((side.id, dado),), (), (), None, 10.0, 0.0
    )
