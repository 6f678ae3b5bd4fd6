"""Steps of like assemblies are one step that says how often, whatever the assemblies are called; what is unlike has a step of its own."""

from __future__ import annotations

from functools import cache

from tests.book.test_wording import transcript
from tests.small_plans import FRAMES, derived_from

from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step


@cache
def _frames() -> Derived:
    return derived_from(FRAMES)


def _assembling(derived: Derived) -> list[Step]:
    """The steps that put frames together, that of several first."""
    found = [step for step in derived.steps if any(op.kind == "join" for op in step.operations)]
    return sorted(found, key=lambda step: -len(step.copies))


def test_three_frames_of_one_size_are_one_step() -> None:
    """Four frames, three of one size: two steps put them together, one three times over and the other once."""
    three, one = _assembling(_frames())
    assert [copy.assembly for copy in three.copies] == ["first", "bay_2", "bay_3"]
    assert three.title == "Glue and screw the first together, and square the corners: 3 alike"
    assert (one.assembly, one.copies) == ("tall", ())


def test_a_title_does_not_list_four_frames() -> None:
    """One step drills for all of them; "You need" says which parts."""
    (step,) = [step for step in _frames().steps if any(op.kind == "pocket-holes" for op in step.operations)]
    assert len({part.split(".")[0] for part in step.parts}) == 4
    assert step.title == "Drill the pocket holes"


def test_all_joints_are_closed_and_all_screws_counted() -> None:
    """A frame has four corners, so the step of three closes twelve; what is drawn and told is the first frame's four."""
    three, one = _assembling(_frames())
    joined = [joint.id for op in three.operations for joint in op.joints]
    assert len(joined) == len(set(joined)) == 12
    assert len([joint for op in three.once.operations for joint in op.joints]) == 4
    assert sum(use.count for use in three.hardware) == 3 * sum(use.count for use in one.hardware)
    assert three.scene is not None
    assert {part.split(".")[0] for part in (*three.scene.standing, *three.scene.new)} == {"first"}


def test_the_step_says_how_often_and_for_what() -> None:
    words = transcript(_frames())
    assert "Do all of this three times: for the first, bay 2 and bay 3. The drawing shows the first." in words


def test_clamps_are_for_one_at_a_time() -> None:
    """Three frames one after the other need no more clamps than one."""
    three, one = _assembling(_frames())
    assert sum(use.count for use in three.clamps) == sum(use.count for use in one.clamps)


CHAIN = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x4}
assemblies:
  one:
    parts: {post: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 300}}
  two:
    at: {x: one.post.right}
    parts: {post: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 300}}
    joints: [{butt: post, to: one.post, with: [glue]}]
  three:
    at: {x: two.post.right}
    parts: {post: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 300}}
    joints: [{butt: post, to: two.post, with: [glue]}]
checks: {waive: [{check: tip-over, reason: It hangs in a case.}]}
"""


def test_a_chain_is_one_step_in_its_order() -> None:
    """The second post is glued to the first, the third to the second: one step, and each comes to what stands by then."""
    (step,) = [step for step in derived_from(CHAIN).steps if any(op.kind == "join-body" for op in step.operations)]
    assert [copy.assembly for copy in step.copies] == ["two", "three"]
    ends = [(joint.insert, joint.receiver) for op in step.operations for joint in op.joints]
    assert ends == [("two.post", "one.post"), ("three.post", "two.post")]
    assert step.title.endswith("; the three likewise")


CASES = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x4}
assemblies:
  case_1:
    parts:
      side: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 400, mirror: {x: 200}}
      floor: {stock: oak, thickness: z, full_width: y, grain: x, between: side, front: 0, bottom: 50}
    joints: [{dado: floor, in: side, depth: 6, with: [glue]}]
  box:
    at: {x: 1000}
    parts:
      wall: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 300}
      cleat: {stock: oak, thickness: z, full_width: y, grain: x, left: wall.right, wide: 300, front: 0, bottom: 0}
    joints: [{butt: cleat, to: wall, with: [glue]}]
  case_2:
    at: {x: 500}
    parts:
      side: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 400, mirror: {x: 200}}
      floor: {stock: oak, thickness: z, full_width: y, grain: x, between: side, front: 0, bottom: 50}
      stop: {stock: oak, thickness: y, full_width: z, grain: x, between: side, front: 0, bottom: floor.top}
    joints:
      - {dado: floor, in: side, depth: 6, with: [glue]}
      - {butt: stop, to: floor, with: [{screws: 2}]}
    machining: [{in: side.original, bore: {face: left, at: {y: 40, z: 300}, diameter: 10}}]
checks: {waive: [{check: tip-over, reason: They hang in a case.}]}
"""


@cache
def _cases() -> Derived:
    return derived_from(CASES)


def test_the_parts_that_are_cut_alike_are_named() -> None:
    """The bored side of the second case has a row of its own on the cut list, and the same dado as the others: one step cuts them all."""
    (step,) = [step for step in _cases().steps if any(op.kind == "channel" for op in step.operations)]
    cut = sorted(part for op in step.operations for part in op.parts)
    assert cut == ["case_1.side", "case_1.side.mirrored", "case_2.side", "case_2.side.mirrored"]
    assert "Do all of this to the left side [" in transcript(_cases())


def test_the_machine_is_set_up_once_for_them() -> None:
    """Two dadoes in each case: four cut at one setting, as if they were in one case. A frame that is glued takes its time each time."""
    (step,) = [step for step in _cases().steps if any(op.kind == "channel" for op in step.operations)]
    assert len(step.copies) == 2
    work = _cases().plan.catalogue.methods["dado"]
    assert step.minutes == (work.once + 4 * work.each) * work.ways[0].pace
    three, one = _assembling(_frames())
    assert step.operations[0].set_up > 0
    assert three.minutes == 3 * one.minutes


def test_steps_of_one_heading_stand_together() -> None:
    """The second case has a stop of its own, and a box is written between the two: each heading has its steps in one run."""
    headings = [step.stage for step in _cases().steps]
    runs = [one for place, one in enumerate(headings) if place == 0 or headings[place - 1] != one]
    assert len(runs) == len(set(runs))
    assert "Build the case 2" not in runs
