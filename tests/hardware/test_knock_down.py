"""Bolts, lag screws and brackets: holes where post and rail meet, an order in which they can be drawn up, room held against numbers."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.small_plans import derived_from, outcome_from, plan_from

from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, BoxCut

BED = (Path(__file__).parents[1] / "plans" / "bolted-bed" / "plan.yaml").read_text(encoding="utf-8")
HEAD = "{item: barrel bolt 1/4 x 6, on: head.post, carries: sides}"


def changed(old: str, new: str) -> str:
    assert BED.count(old) == 1, old
    return BED.replace(old, new)


def test_a_bolt_is_bored_for_through_the_post_into_the_rail_and_across_it() -> None:
    """A 6 in bolt through a post of 3-1/2 in reaches 2-1/2 in into the rail; its nut lies a little short of that, on the inside."""
    plan = plan_from(BED)
    post = [one for one in plan.part("head.post").features if isinstance(one, Bore)]
    assert [(one.depth, one.diameter.inches) for one in post] == [(None, 9 / 32)] * 2
    rail = [one for one in plan.part("sides.rail").features if isinstance(one, Bore)]
    at_head = [one for one in rail if one.face is Face.BACK]
    assert [one.depth.inches for one in at_head if one.depth] == [2.625] * 2
    nuts = [one for one in rail if one.face is Face.RIGHT]
    assert len(nuts) == 4
    end = plan.part("sides.rail").seen.y.high
    assert {(end - one.start.y).inches for one in nuts if one.start.y > end / 2} == {2.5 - 25 / 128 - 1 / 8}
    assert {one.start.z for one in nuts} == {one.start.z for one in at_head}


def test_rails_are_bolted_on_and_then_the_foot() -> None:
    """After the finish, each in a step of its own, the rails both at once."""
    steps = {step.id: step for step in derived_from(BED).steps}
    rails, foot = steps["bolt-sides"], steps["bolt-foot"]
    assert rails.title == "Bolt on the side rails"
    assert [use.count for use in rails.hardware] == [use.count for use in foot.hardware] == [4]
    assert rails.number < foot.number < steps["set-slats"].number


@pytest.mark.parametrize(
    ("line", "code", "words"),
    [
        (HEAD.replace("x 6", "x 4"), "hardware-screws", "it reaches only 1/2 in into “sides.rail”"),
        (HEAD.replace("head.post", "head.board"), "hardware-unmet", "no end of “sides” meets what it is fitted on"),
        (HEAD.replace("carries", "face: top, carries"), "hardware-unmet", "is not bored from its top for the nut"),
        (HEAD.replace("carries", "let_in: both, carries"), "unused-key", "“let_in” does nothing here"),
    ],
)
def test_what_cannot_be_is_told(line: str, code: str, words: str) -> None:
    found = [one for one in outcome_from(changed(HEAD, line)).diagnostics if one.is_error]
    assert {one.code for one in found} == {code}
    assert words in found[0].message


def test_lag_screws_take_a_pilot_in_the_end_and_no_nut() -> None:
    plan = plan_from(changed(HEAD, HEAD.replace("barrel bolt 1/4 x 6", "lag screw 5/16 x 6")))
    bores = [one for one in plan.part("sides.rail").features if isinstance(one, Bore) and one.face is Face.BACK]
    assert [one.diameter.inches for one in bores] == [7 / 32] * 2


def test_brackets_are_let_into_both() -> None:
    """A plate in the end of the rail, one in the post, as deep as they are thick."""
    plan = plan_from(changed(HEAD, HEAD.replace("barrel bolt 1/4 x 6", "bed-rail bracket 5 in")))
    for part, face in (("sides.rail", Face.BACK), ("head.post", Face.FRONT)):
        (cut,) = [one for one in plan.part(part).features if isinstance(one, BoxCut) and one.kind == "recess"]
        assert cut.into is face
        assert cut.box.y.extent.inches == 0.125
