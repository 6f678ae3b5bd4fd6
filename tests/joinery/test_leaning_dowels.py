"""Dowels where a part leans: square to the splayed face, covered in both parts, drawn, bored and told as the trade does it."""

from __future__ import annotations

from math import acos, degrees

import numpy as np
import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice, read_and_resolve
from drawleaf.draw.joint.kinds import best_cut, run_axis
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, Joint

TRESTLE = """\
plan: {title: Saw trestle, number: T-3, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  leg: {material: construction lumber, size: 2x4}
  rail: {material: construction lumber, size: 2x4}
assemblies:
  trestle:
    parts:
      leg: {stock: leg, thickness: x, full_width: y, grain: z, left: 100, front: 0, bottom: 0, top: 600, lean: {right: 12 deg}, pivot: top, level_ends: {bottom: 0, top: 600}, mirror: {x: 400}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 26, top: 560}
    joints:
      - {butt: rail, to: leg, with: [glue, {dowels: {count: 2}}]}
"""


@pytest.fixture(scope="module")
def trestle() -> Derived:
    return derived_from(TRESTLE)


def stool() -> Derived:
    derived = outcome_of("step-stool").derived
    assert derived is not None
    return derived


def pinned(derived: Derived) -> list[Joint]:
    return [
        joint for joint in derived.plan.joints if any(one.item.kind == FastenerKind.DOWEL for one in joint.fasteners)
    ]


def off_length(part, hole: Bore) -> float:
    return degrees(acos(abs(np.dot(hole.direction, part.length_axis.high.normal))))


@pytest.mark.parametrize("name", ["trestle", "stool"])
def test_dowels_stand_square_to_the_splayed_face(name: str, trestle: Derived) -> None:
    derived = trestle if name == "trestle" else stool()
    joints = pinned(derived)
    assert len(joints) == (2 if name == "trestle" else 16)
    for joint in joints:
        assert joint.normal is not None
        for pin in joint.fasteners:
            assert pin.direction == pytest.approx(joint.normal)


def test_the_hole_in_the_rail_runs_off_its_length_by_the_splay(trestle: Derived) -> None:
    """12 degrees, less what the blank's rounding does; in the leg, which is bored upright, it is square."""
    rail, leg = trestle.plan.part("trestle.rail"), trestle.plan.part("trestle.leg")
    mine = [one for one in rail.features if isinstance(one, Bore)]
    theirs = [one for one in leg.features if isinstance(one, Bore)]
    assert [round(off_length(rail, one), 6) for one in mine] == [12.0] * 4
    assert [one.direction for one in theirs] == [(-1.0, 0.0, 0.0)] * 2
    assert {one.face for one in theirs} == {Face.RIGHT}


def test_both_holes_hold_the_dowel_with_room_for_glue(trestle: Derived) -> None:
    (joint, _) = pinned(trestle)
    pin = joint.fasteners[0]
    holes = [
        one
        for part in (joint.insert, joint.receiver)
        for one in trestle.plan.part(part).features
        if isinstance(one, Bore) and one.row == f"{joint.id}-dowels"
    ]
    deep = sum(one.depth.mm for one in holes) / 2
    assert pin.item.length is not None
    assert deep == pytest.approx(pin.item.length.mm + 4)


def test_the_step_names_the_sawn_end_and_the_angle(trestle: Derived) -> None:
    step = next(one for one in trestle.steps if any(op.kind == "dowel-holes" for op in one.operations))
    told = step_text(step, trestle, Formatter.of(trestle.plan))
    text = " ".join(str(line) for line in told.actions).lower()
    assert "square to the end" in text
    assert "12° off the length of" in text
    assert "jig flat on the sawn end" in text


def test_the_detail_is_cut_through_the_dowel(trestle: Derived) -> None:
    """In the plane that it slants in: the section shows the splay and the dowel whole."""
    (joint, _) = pinned(trestle)
    assert run_axis(joint) is Axis.Y
    assert best_cut(trestle.plan, joint)[1] is not None


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ("{dowels: {count: 2, end_distance: 2}}", "no-dowel-fits"),
        ("{dowels: {count: 2, item: dowel 3/8 x 2, end_distance: 7}}", "no-dowel-fits"),
        ("{dowels: {count: 2, item: dowel 3/8 x 2, end_distance: 20}}", ""),
        ("{pocket_screws: {count: 2}}", "leaning-drive"),
    ],
)
def test_what_has_no_room_is_told(change: str, code: str, tmp_path) -> None:
    """No hole so near to an edge that it opens at the side: 7 mm at the mouth, but it drifts by 4 mm on its way."""
    (tmp_path / "plan.yaml").write_text(TRESTLE.replace("{dowels: {count: 2}}", change), encoding="utf-8")
    outcome, plan = read_and_resolve(tmp_path, Choice())
    assert (code in [one.code for one in outcome.diagnostics]) is bool(code), outcome.diagnostics
    assert (plan is None) is bool(code)


def test_the_legs_come_to_the_rail_along_their_dowels(trestle: Derived) -> None:
    """The legs are set on from the left and the right: from no other side do slanting dowels let them."""
    ways = [move.direction for step in trestle.steps for move in (step.scene.moves if step.scene else ())]
    assert ways
    assert all(abs(way[0]) == 1.0 for way in ways)
