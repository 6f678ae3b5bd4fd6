"""Round ends of parts that lean: a hole at the rod's own slant, equal legs, and how the bench sets it out."""

from __future__ import annotations

from math import atan, degrees, radians, sin, tan

import pytest
from tests.small_plans import derived_from, outcome_from, plan_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.plan import Bore
from drawleaf.setting_out.slants import off_square
from drawleaf.units import Length

STOOL = """
plan: {title: Stool, number: S-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock: {top: {material: red oak lumber, size: 8/4}, rod: {material: hardwood dowel rod, size: 1-1/4 rod}}
assemblies:
  stool:
    parts:
      top: {stock: top, thickness: z, grain: x, left: -7, right: 7, front: -7, back: 7, bottom: 16, glue_up: {widest_strip: 5}}
      leg: {stock: rod, thickness: x, grain: z, left: -5/8, front: -4, deep: 1-1/4, bottom: 0, top: top.bottom, pivot: top, lean: {LEAN}, level_ends: {ENDS}COPIES}
    joints:
      - {round_tenon: leg, in: top, depth: DEPTH, with: [glue]}
"""


def stool(
    depth: str = "1-1/4", ends: str = "bottom: 0", lean: str = "back: 10 deg", copies: str = ", around: {count: 3}"
) -> str:
    source = STOOL.replace("DEPTH", depth).replace("ENDS", ends).replace("LEAN", lean)
    return source.replace("COPIES", copies)


def test_holes_run_as_the_legs_lean() -> None:
    """Three holes 10 degrees off square, 1-1/4 in deep along the rod; nothing of the legs is in the way of the top."""
    outcome = outcome_from(stool())
    assert not outcome.failed, outcome.diagnostics
    assert outcome.derived is not None
    plan = outcome.derived.plan
    holes = [one for one in plan.part("stool.top").features if isinstance(one, Bore)]
    assert [off_square(one) for one in holes] == [10, 10, 10]
    assert {one.depth for one in holes} == {Length.of_inches(5) / 4}
    for leg, hole in zip(("stool.leg.1", "stool.leg.2", "stool.leg.3"), holes, strict=True):
        tilt = plan.part(leg).tilt
        assert tilt is not None
        assert hole.direction == pytest.approx(tilt.out_direction((0.0, 0.0, 1.0)), abs=1e-6)
        assert hole.start.mm[:2] == pytest.approx(tilt.about.mm[:2], abs=1e-3)


def test_legs_round_a_centre_are_equal() -> None:
    """However they lean: as long, by themselves and as copies."""
    derived = derived_from(stool())
    legs = [part for part in derived.plan.parts if part.kind == "stool.leg"]
    assert len({part.size for part in legs}) == 1
    assert len(derived.cut_list.item_of("stool.leg.1").parts) == 3


def test_a_round_leg_is_as_long_as_its_rim_reaches() -> None:
    """Leaning 10 degrees either way alone or as a resultant of both: the blank is that of a leg that leans so far straight."""
    both = degrees(atan(tan(radians(10)) * sin(radians(45))))
    straight = plan_from(stool(copies="")).part("stool.leg")
    slanting = plan_from(stool(lean=f"back: {both:.6f} deg, left: {both:.6f} deg", copies="")).part("stool.leg")
    assert slanting.body.z.extent.mm == pytest.approx(straight.body.z.extent.mm, abs=0.01)


def test_the_step_tells_sight_line_and_gauge() -> None:
    """The gauge is set to the resultant angle and stands on the sight line; the legs are knocked home, no clamp presses along them."""
    derived = derived_from(stool())
    texts = {step.id: step_text(step, derived, Formatter.of(derived.plan)) for step in derived.steps}
    boring = " ".join(texts["bore-top"].actions)
    assert "straight toward the front edge" in boring
    assert "toward the right end, turned 30° toward the back edge" in boring
    assert "Set the bevel gauge to 80° (10° off square)" in boring
    assert "square to the face" not in boring
    joining = next(step for step in derived.steps if step.operations[0].joints)
    assert "Knock it home" in " ".join(texts[joining.id].actions)
    assert not joining.clamps


@pytest.mark.parametrize(
    ("written", "code", "cure"),
    [
        ({"depth": "1-3/4"}, "slant-through", "depth"),
        ({"depth": "0"}, "no-depth", "depth"),
        ({"depth": "0", "lean": "back: 35 deg"}, "no-depth", "depth"),
        ({"ends": "bottom: 0, top: top.bottom"}, "round-end-cut", "ends"),
    ],
)
def test_what_cannot_be_bored_is_told_with_its_cure(written: dict[str, str], code: str, cure: str) -> None:
    (found, *_) = [one for one in outcome_from(stool(**written)).diagnostics if one.is_error]
    assert found.code == code
    if cure == "depth":
        depth = found.mend.split("“depth: ")[1].split("”")[0]
        assert not outcome_from(stool(**{**written, "depth": depth})).failed
    else:
        assert found.mend == "Take “top” out of its “level_ends”."
        assert not outcome_from(stool()).failed


def test_one_leg_alone_has_one_sight_line() -> None:
    derived = derived_from(stool(copies=""))
    (step,) = (step for step in derived.steps if step.id == "bore-top")
    assert "from the mark straight toward the front edge" in " ".join(
        step_text(step, derived, Formatter.of(derived.plan)).actions
    )
