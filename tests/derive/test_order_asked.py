"""``after:`` and ``before:``: the steps keep the order that the author asks for, and what cannot be kept is refused with the reason."""

from __future__ import annotations

import pytest
from tests.small_plans import derived_from, outcome_from

from drawleaf.compiler import Choice
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step

FRAME = """\
plan: {title: Frame, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  board: {material: pine board, size: 1x4}
  ply: {material: birch plywood, nominal: 1/2, actual: 1/2}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: y, left: 0, front: 0, deep: 12, bottom: 0, high: 6, mirror: {x: 10}}
      end: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, high: 6, mirror: {y: 6}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: end.back, back: end.mirrored.front, bottom: 0}
      strip: {name: Runner, stock: board, thickness: x, grain: y, left: side.right, front: end.back, back: end.mirrored.front, bottom: 3, high: 1, mirror: {x: 10}}
    joints:
      - {butt: end, to: side, with: [glue, {screws: {count: 2, heads: filled}}]}
      - {butt: floor, to: [side, end], with: [glue, {screws: {count: 2, heads: filled}}]}
      - {butt: strip, to: side, with: [glue, {brads: {count: 2, through: strip}}]}
    machining:
      - {in: side, round_over: {edges: [front-top], size: 1/8}}
"""
STRIP = "{butt: strip, to: side,"
ROUND = "{in: side, round_over"


def changed(old: str, new: str, text: str = FRAME) -> str:
    assert text.count(old) == 1, old
    return text.replace(old, new)


def step_with(derived: Derived, part: str, joined: bool = True) -> Step:
    """The step that brings a part to others."""
    return next(
        step
        for step in derived.steps
        if any(one.kind == "join" for one in step.operations) is joined and step.scene and part in step.scene.new
    )


def test_strips_are_joined_to_the_loose_sides_before_the_box() -> None:
    """``before`` an assembly that holds the joint itself: its parts are joined by themselves, first."""
    derived = derived_from(changed(STRIP, "{butt: strip, to: side, before: box,"))
    for strip, side in (("box.strip", "box.side"), ("box.strip.mirrored", "box.side.mirrored")):
        step = step_with(derived, strip)
        assert step.scene is not None
        assert step.scene.standing == (side,)
        assert step.number < step_with(derived, "box.end").number


def test_what_is_joined_first_is_not_marked_from_what_comes_later() -> None:
    """By itself a runner between the ends is marked from them; joined before them it is cut to size at once."""
    assert any(part.fitted for part in derived_from(FRAME).plan.parts if part.id == "box.strip")
    derived = derived_from(changed(STRIP, "{butt: strip, to: side, before: box,"))
    assert not any(part.fitted for part in derived.plan.parts if part.id == "box.strip")


def test_without_a_word_they_come_when_the_box_stands() -> None:
    step = step_with(derived_from(FRAME), "box.strip.mirrored")
    assert step.scene is not None
    assert "box.end" in step.scene.standing


@pytest.mark.parametrize(("word", "earlier", "later"), [("after", "end", "floor"), ("before", "floor", "end")])
def test_a_part_comes_when_the_author_says(word: str, earlier: str, later: str) -> None:
    """The floor after both ends, or before the second of them."""
    derived = derived_from(changed("{butt: floor, to: [side, end],", f"{{butt: floor, to: side, {word}: end,"))
    came = [
        part.split(".")[1]
        for step in derived.steps
        if any(op.kind == "join" for op in step.operations)
        for part in step.scene.new
    ]  # type: ignore[union-attr]
    assert came.index(later) > came.index(earlier)


def test_edges_wait_for_the_glue_where_the_author_says() -> None:
    """The round-over comes after the last end, among the steps that put the box together, and its parts are whole before."""
    derived = derived_from(changed(ROUND, "{in: side, after: end, round_over"))
    cut = next(step for step in derived.steps if any(one.kind == "round-over" for one in step.operations))
    assert cut.number > step_with(derived, "box.end.mirrored").number
    assert cut.stage == "Put it together"
    before = next(
        step for step in derived_from(FRAME).steps if any(one.kind == "round-over" for one in step.operations)
    )
    assert before.stage == "Shape the parts"


def test_a_cut_stands_between_two_joints() -> None:
    """The hole is bored when the ends are on, and before the runner that would be in its way."""
    text = changed(
        "machining:\n",
        "machining:\n      - {in: side.original, after: end, before: strip, bore: {face: left, at: {y: 6, z: 2}, diameter: 1}}\n",
    )
    derived = derived_from(text)
    bored = next(step for step in derived.steps if any(one.kind == "bore" for one in step.operations))
    assert step_with(derived, "box.end.mirrored").number < bored.number < step_with(derived, "box.strip").number


@pytest.mark.parametrize(
    ("old", "new", "code", "words"),
    [
        (STRIP, "{butt: strip, to: side, after: strip,", "order-itself", "“strip” cannot come before or after itself"),
        (ROUND, "{in: side, after: lid, round_over", "unknown-part", "There is no part or assembly “lid”"),
        (
            ROUND,
            "{in: side, after: end, shape: {face: left, outline: [{y: 0, z: 0}, {y: 12, z: 0}, {y: 12, z: 6}]}}\n      - {in: side, round_over",
            "order-loose-work",
            "“shape” is done on the loose part, and cannot wait for others",
        ),
    ],
)
def test_an_order_that_makes_no_sense_is_refused(old: str, new: str, code: str, words: str) -> None:
    (found,) = [one for one in outcome_from(changed(old, new)).diagnostics if one.is_error]
    assert (found.code, found.message) == (code, words)


def test_a_ring_of_orders_is_told_by_its_names() -> None:
    text = changed(STRIP, "{butt: strip, to: side, after: floor,")
    text = changed("{butt: floor, to: [side, end],", "{butt: floor, to: [side, end], after: strip,", text)
    (found,) = [one for one in outcome_from(text).diagnostics if one.is_error]
    assert found.code == "order-cycle"
    assert "“box.floor” waits for “box.strip”" in found.message
    assert "“box.strip” waits for “box.floor”" in found.message


def test_an_order_that_the_parts_do_not_allow_is_refused_with_what_is_in_the_way() -> None:
    """A floor in grooves all round cannot come when the second side is on."""
    text = changed(
        "{butt: floor, to: [side, end], with: [glue, {screws: {count: 2, heads: filled}}]}",
        "{groove: floor, in: [side, end], depth: 1/4}",
    )
    text = text.replace("bottom: 0}\n      strip", "bottom: 1/2}\n      strip")
    assert not [one for one in outcome_from(text).diagnostics if one.code in ("order-impossible", "cannot-assemble")]
    text = changed("{groove: floor, in: [side, end],", "{groove: floor, in: [side, end], after: [side, end],", text)
    (found,) = [one for one in outcome_from(text).diagnostics if one.is_error]
    assert found.code == "order-impossible"
    assert "“box.floor” would come last, and is then held on all sides by “box.side”" in found.cause


def test_an_order_for_what_an_edition_leaves_out_goes_with_it() -> None:
    text = changed(
        ROUND, "{in: lid.panel, after: end, bore: {face: top, at: {x: 6, y: 6}, diameter: 1}}\n      - " + ROUND
    )
    text = changed(STRIP, "{butt: lid.panel, to: side, after: end, with: [glue]}\n      - " + STRIP, text)
    text += (
        "  lid:\n    parts:\n"
        "      panel: {stock: ply, thickness: z, grain: x, left: box.side.left, right: box.side.mirrored.right, front: 0, deep: 12, bottom: 6}\n"
        "editions:\n  open: {without: [lid]}\n"
    )
    outcome = outcome_from(text, Choice(edition="open"))
    assert [one.message for one in outcome.diagnostics if one.is_error] == []
    assert outcome.derived is not None
    assert outcome.derived.plan.order == derived_from(FRAME).plan.order
