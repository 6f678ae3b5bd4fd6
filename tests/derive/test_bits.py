"""Bits on the tool list, each with the size that the work asks for; what is small stays on its board; heads that stay in sight."""

from __future__ import annotations

from fractions import Fraction

import pytest
from tests.book.test_wording import plain, texts
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.compiler import Choice
from drawleaf.derive.shop.bits import straight_bit
from drawleaf.model.derived import Derived
from drawleaf.setting_out.sight import heads_in_sight
from drawleaf.units import Length

SHELF = """plan: {title: Peg shelf, number: T-3, date: 2026-11-20, author: A. Maker, lengths: in}
stock: {board: {material: pine board, size: 1x4}, ply: {material: birch plywood, nominal: 3/4, actual: 3/4}}
assemblies:
  shelf:
    parts:
      back: {stock: board, thickness: y, full_width: z, grain: x, left: 0, right: 20, back: 4, bottom: 0}
      ledge: {stock: ply, thickness: z, grain: x, left: 0, right: 20, front: 0, back: back.front, bottom: 2}
      end: {stock: board, thickness: x, grain: z, left: 2, deep: 2, back: back.front, bottom: 0, top: ledge.bottom, mirror: {x: 10}}
    joints:
      - {butt: ledge, to: back, with: [glue, {screws: {count: 3, through: back}}]}
      - {butt: end, to: ledge, with: [glue, {screws: {count: 1, through: ledge}}]}
    machining:
      - {in: back, bore: {face: front, at: {x: 5, z: 3}, diameter: 3/16}}
      - {in: ledge, bore: {face: top, at: {x: 5, y: 1-1/2}, diameter: 1}}
      - {in: ledge, round_over: {edges: [front-top], size: 1/4}}
      - {in: end, chamfer: {edges: [front-bottom], size: 3/4}}
finish:
  - {sand: [120], to: all}
"""


def sizes(derived: Derived, tool: str) -> str:
    return next((row.why for row in derived.tools if row.tool.id == tool), "")


def test_each_bit_with_its_size() -> None:
    """Number 8: pilots of 5/64 in in pine and 7/64 in in plywood, clearance holes of 11/64 in. One hole of 3/16, one of 1 in."""
    derived = derived_from(SHELF)
    assert sizes(derived, "drill bits") == "Diameters: 5/64 in, 7/64 in, 11/64 in and 3/16 in."
    assert sizes(derived, "forstner bits") == "Diameter: 1 in."
    assert sizes(derived, "round-over bit") == "Radius: 1/4 in."
    assert sizes(derived, "countersink bit") == "For screws: number 8."


def test_no_screw_head_behind_the_piece_is_in_sight() -> None:
    """The ledge is screwed on from behind; the ends from above, where one sees it."""
    assert heads_in_sight(derived_from(SHELF).plan) == ("shelf.ledge",)


@pytest.mark.parametrize("kit", ["full shop", "common power tools", "hand-held only"])
def test_small_ends_are_ripped_and_chamfered_on_the_board(kit: str) -> None:
    """Ends of 2 x 2 in: first the rip of a long piece, then the chamfer at its end, then the cut that frees the part."""
    derived = derived_from(SHELF, Choice(kit=kit))
    kinds = [op.kind for step in derived.steps for op in step.operations if "shelf.end" in op.parts]
    assert kinds[:3] == ["rip", "clip-on-board", "cut-off"]
    assert "clip-corner" not in kinds
    assert derived.audit.passed


@pytest.mark.parametrize(("width", "bit"), [("23/32", "1/2"), ("7/32", "3/16"), ("1/4", "1/4"), ("1/16", "1/8")])
def test_straight_bits_are_those_that_stores_keep(width: str, bit: str) -> None:
    plan = derived_from(SHELF).plan
    assert straight_bit(plan, Length.of_inches(Fraction(width))) == Length.of_inches(Fraction(bit))


def test_every_bit_of_the_example_plans_has_a_size() -> None:
    """Whatever turns in a drill or router and is cut for one size says which."""
    for name in ("key-ledge", "boot-bench"):
        derived = outcome_of(name).derived
        assert derived is not None
        for row in derived.tools:
            if " bit" in row.tool.name.lower() and "driver" not in row.tool.id and "jig" not in row.tool.id:
                assert any(digit.isdigit() for digit in row.why), row.tool.name


def test_rows_of_screws_where_the_author_wants_them() -> None:
    """The boot bench's drawer front: far enough above the drawer's bottom for a drill's chuck."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    plan = derived.plan
    front = next(part for part in plan.parts if part.id.endswith("box_front"))
    held = [
        f for joint in plan.joints for f in joint.fasteners if f.through == front.id and f.item.kind == "wood screw"
    ]
    heights = sorted({(f.at.z - front.body.z.low).inches for f in held})
    assert heights == [Fraction(7, 4), 3]


GAUGES = """plan: {title: Crate, number: T-4, date: 2026-11-20, author: A. Maker, lengths: UNITS}
stock: {board: {material: red oak board, size: 1x4}}
assemblies:
  crate:
    parts:
      side: {stock: board, thickness: x, grain: y, left: 0, front: 0, deep: 300 mm, bottom: 0, full_width: z, mirror: {x: 150 mm}}
      end: {stock: board, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, full_width: z}
    joints:
      - butt: end
        to: side
        with: [glue, {screws: {item: wood screw 8 x 1-1/2, count: 2, end_distance: 12 mm}}, {screws: {item: wood screw 6 x 1-1/4, count: 1}}]
"""


def told(derived: Derived) -> list[str]:
    """Every setting that is printed."""
    return [plain(line) for _, text in texts(derived) for line in text.setup]


def test_each_gauge_in_a_step_has_a_pilot_of_its_own() -> None:
    """Root two thirds of the shank (0.164 and 0.138 in), all of it in red oak: 0.109 and 0.092 in, 7/64 and 3/32 in by a pocket calculator."""
    derived = derived_from(GAUGES.replace("UNITS", "in"))
    pilots = [line for line in told(derived) if line.startswith("Pilot hole")]
    assert pilots[-1] == "Pilot hole 7/64 in for number 8 screws and 3/32 in for number 6 screws"
    assert "7/64 in" in sizes(derived, "drill bits")
    assert "3/32 in" in sizes(derived, "drill bits")


def test_a_clearance_hole_in_millimetres_is_no_tighter_than_the_screw() -> None:
    """Shanks of 4.17 and 3.51 mm go through 4.5 and 4 mm: the nearest half millimetre would bind on both."""
    derived = derived_from(GAUGES.replace("UNITS", "mm"))
    holes = {line.partition(" for ")[0] for line in told(derived) if line.startswith("Clearance hole")}
    assert holes == {"Clearance hole 4.5 mm", "Clearance hole 4 mm"}
