"""Laps of unequal stock: each loses half of what the two share, and what holds them fits the wood that is left."""

from __future__ import annotations

import pytest
from tests.small_plans import outcome_from, plan_from

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, Part
from drawleaf.units import Length

GATE = """
plan: {title: Gate, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  post: {material: construction lumber, size: 2x4}
  rail: {material: pine board, size: 1x3}
assemblies:
  gate:
    parts:
      post: {stock: post, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, high: 30, mirror: {x: 15}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: 30, front: 0, bottom: 4}
    joints:
      - {half_lap: rail, in: post, on: front, with: [glue, {screws: 2}]}
"""


def test_each_loses_half_of_what_they_share() -> None:
    """3/8 in out of the rail, 3/8 in out of the post, flush in front."""
    parts = {one.id: one for one in plan_from(GATE).parts}
    for part in ("gate.rail", "gate.post", "gate.post.mirrored"):
        cuts = [one for one in parts[part].features if isinstance(one, BoxCut)]
        assert {one.box.y.extent for one in cuts} == {Length.of_inches(3) / 8}, part


def test_screws_are_chosen_by_the_wood_that_a_lap_leaves() -> None:
    """Through 3/8 in of rail into 1-1/8 in of post: no longer than 1-3/8 in, so that no point comes out behind."""
    outcome = outcome_from(GATE)
    assert not [one.message for one in outcome.diagnostics if one.is_error and "fasten" in one.code]
    lengths = {two.item.length for one in plan_from(GATE).joints for two in one.fasteners}
    assert lengths
    assert all(one is not None and Length.of_inches(3) / 4 <= one <= Length.of_inches(11) / 8 for one in lengths)


FRAME = """
plan: {title: Frame, number: X-2, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  leg: {material: construction lumber, size: 4x4}
  rail: {material: construction lumber, size: 2x4}
assemblies:
  base:
    parts:
      leg: {stock: leg, thickness: AXIS, full_width: WIDTH, grain: z, left: 0, front: 0, bottom: 0, top: 30, mirror: {WIDTH: 20}}
      rail: {stock: rail, thickness: AXIS, full_width: z, grain: WIDTH, LOW: 0, HIGH: 40, PLACE, bottom: 6}
    joints: [{half_lap: rail, in: leg, ONwith: [glue, {screws: {count: 2, heads: filled}}]}]
"""


def framed(axis: str, place: str, on: str = "") -> str:
    width, low, high = ("x", "left", "right") if axis == "y" else ("y", "front", "back")
    source = FRAME.replace("AXIS", axis).replace("WIDTH", width).replace("LOW", low).replace("HIGH", high)
    return source.replace("PLACE", place).replace("ON", on)


@pytest.mark.parametrize(
    ("axis", "place"), [("y", "front: 0"), ("y", "back: leg.back"), ("x", "left: 0"), ("x", "right: leg.right")]
)
def test_a_rail_is_let_in_on_the_side_where_it_is_flush(axis: str, place: str) -> None:
    """A 2x4 in a 4x4: each loses 3/4 in, whichever face of the leg the rail is flush with."""
    parts = {one.id: one for one in plan_from(framed(axis, place)).parts}
    for part in ("base.rail", "base.leg", "base.leg.mirrored"):
        cuts = [one for one in parts[part].features if isinstance(one, BoxCut)]
        assert {one.box.extent(Axis(axis)) for one in cuts} == {Length.of_inches(3) / 4}, part


def test_a_sunk_head_over_a_lap_is_judged_by_the_wood_that_the_lap_leaves() -> None:
    """3/4 in of rail less 1/16 in under filler: plenty under the head. A head 5/8 in deep leaves 1/8 in, and that is told."""
    source = framed("y", "front: 0")
    told = {one.code for one in outcome_from(source).diagnostics}
    assert "screws" not in told
    deep = source.replace("heads: filled", "heads: filled, counterbore: 5/8")
    (found,) = [one for one in outcome_from(deep).diagnostics if one.code == "screws"]
    assert "leaves 1/8 in under it" in found.message


def test_a_lap_on_the_wrong_side_is_told_which_word_to_leave_out() -> None:
    wrong = framed("y", "back: leg.back", "on: front, ")
    (found,) = [one for one in outcome_from(wrong).diagnostics if one.code == "joint-proportions"]
    assert found.mend.startswith("Leave out “on”")
    told = {one.code for one in outcome_from(wrong.replace("on: front, ", "")).diagnostics}
    assert "joint-proportions" not in told


TWINS = """
plan: {title: Two frames, number: X-3, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  leg: {material: construction lumber, size: 4x4}
  rail: {material: construction lumber, size: 2x4}
  apron: {material: pine board, size: 1x4}
assemblies:
  base:
    parts:
      leg: {stock: leg, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 30, mirror: {x: 20}}
      rail: {stock: rail, thickness: x, full_width: z, grain: y, left: 0, front: 0, back: 30, bottom: 6, mirror: {x: 20}}
      apron: {stock: apron, thickness: y, full_width: z, grain: x, left: rail.right, right: rail.mirrored.left, front: 8, bottom: 6, mirror: {y: 15}}
    joints:
      - {half_lap: LAPPED, in: LEG, on: SIDE, with: [glue]}
      - {butt: APRON, to: rail, with: [glue, 2 pocket screws on POCKETS]}
"""


def twins(
    lapped: str = "rail", leg: str = "leg", side: str = "left", apron: str = "apron", pockets: str = "back"
) -> dict[str, Part]:
    named = {"LAPPED": lapped, "LEG": leg, "SIDE": side, "APRON": apron, "POCKETS": pockets}
    source = TWINS
    for word, value in named.items():
        source = source.replace(word, value)
    return {one.id: one for one in plan_from(source).parts}


def test_a_twin_is_let_in_on_the_mirror_image_of_the_side() -> None:
    """`on: left` is the outside of the left frame, and the outside of its twin is on the right: each leg is cut 3/4 in deep there."""
    parts = twins()
    for leg, into in (("base.leg", Face.LEFT), ("base.leg.mirrored", Face.RIGHT)):
        (cut,) = [one for one in parts[leg].features if isinstance(one, BoxCut)]
        assert (cut.into, cut.box.x.extent) == (into, Length.of_inches(3) / 4)


def test_a_twin_that_a_line_names_is_let_in_on_the_side_as_written() -> None:
    parts = twins("rail.mirrored", "leg.mirrored", "right")
    (cut,) = [one for one in parts["base.leg.mirrored"].features if isinstance(one, BoxCut)]
    assert cut.into is Face.RIGHT


def test_pockets_of_a_twin_are_on_the_mirror_image_of_the_face() -> None:
    """Bored in the inside of the front apron, and so in the inside of the rear one; a twin that is named as it says."""

    def faces(parts: dict[str, Part], part: str) -> set[Face]:
        return {one.face for one in parts[part].features if isinstance(one, Bore)}

    parts = twins()
    assert (faces(parts, "base.apron"), faces(parts, "base.apron.mirrored")) == ({Face.BACK}, {Face.FRONT})
    assert faces(twins(apron="apron.mirrored"), "base.apron.mirrored") == {Face.BACK}
