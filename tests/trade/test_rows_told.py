"""Parts that come in a row are told where each stands; parts of one number on two parts of one name are told as one."""

from __future__ import annotations

import pytest
from tests.shape_trials import words_in
from tests.small_plans import derived_from
from tests.trade.rule import HEAD

from drawleaf.english import plural

TRAY = """
stock:
  rail: {material: pine board, size: 1x3}
  slat: {material: pine board, size: 1x2}
assemblies:
  base:
    parts:
      end: {stock: rail, thickness: x, full_width: z, grain: y, left: 0, front: rail.back, back: rail.mirrored.front, bottom: 0, mirror: {x: 250}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: 500, front: 0, bottom: 0, mirror: {y: 150}}
    joints: [{butt: end, to: rail, with: [glue, {screws: {count: 2, through: rail, heads: filled}}]}]
  floor:
    parts:
      slat: {stock: slat, thickness: z, full_width: x, grain: y, left: %s, front: 0, back: 300, bottom: base.rail.top, repeat: {along: x, count: %s, spacing: %s}}
    joints: [{butt: slat, to: base.rail, with: [glue, {brads: 1}]}]
"""


def said_of(*figures: int, source: str = TRAY) -> str:
    derived = derived_from(HEAD + source % figures)
    steps = [
        step
        for step in derived.steps
        if any(op.joints and any("slat" in one for one in op.parts) for op in step.operations)
    ]
    return " ".join(line for step in steps for line in words_in(derived, step.id)).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("figures", "told"),
    [((80, 4, 100), "80 mm, then every 100 mm to 380 mm"), ((100, 2, 150), "100 mm and 250 mm")],
)
def test_where_each_of_a_row_stands(figures: tuple[int, ...], told: str) -> None:
    said = said_of(*figures)
    assert f"Their left edges are {told} from the left end of" in said, said


def test_brads_into_two_rails_of_one_name_are_counted_together() -> None:
    """Front and back rail stand in two assemblies and share number and name."""
    one = "  back: {parts: {rail: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: 500, front: 281, bottom: 0}}}\n"
    source = TRAY.replace(", mirror: {y: 150}}", "}").replace("rail.mirrored.front", "back.rail.front")
    source = source.replace("butt: end, to: rail", "butt: end, to: [rail, back.rail]").replace(
        "through: rail, heads", "heads"
    )
    source = source.replace("to: base.rail, with", "to: [base.rail, back.rail], with").replace(
        "  floor:\n", one + "  floor:\n"
    )
    said = said_of(100, 2, 150, source=source)
    assert "4 through both slats" in said or "through both slats 2, 4 into" in said, said
    assert "into the rail" not in said, said


@pytest.mark.parametrize(("one", "many"), [("Post, left", "Posts, left"), ("Shelf, upper", "Shelves, upper")])
def test_what_follows_a_comma_stays_as_it_is(one: str, many: str) -> None:
    assert plural(one) == many
