"""Steps of like assemblies are one step that says how often, whatever the assemblies are called; what is unlike has a step of its own."""

from __future__ import annotations

from functools import cache

from tests.book.test_wording import transcript
from tests.small_plans import derived_from

from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step

FRAMES = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x2}
assemblies:
  first: {component: face frame, with: {wide: 300, high: 500, frame: oak}}
  tall: {component: face frame, with: {wide: 300, high: 600, frame: oak}, at: {x: 400}}
  bay_2: {component: face frame, with: {wide: 300, high: 500, frame: oak}, at: {x: 800}}
  bay_3: {component: face frame, with: {wide: 300, high: 500, frame: oak}, at: {x: 1200}}
checks: {waive: [{check: tip-over, reason: They hang in a case.}]}
"""


@cache
def _frames() -> Derived:
    return derived_from(FRAMES)


def _assembling(derived: Derived) -> list[Step]:
    return [step for step in derived.steps if any(op.kind == "join" for op in step.operations)]


def test_three_frames_of_one_size_are_one_step() -> None:
    """Four frames, three of one size: two steps put them together, one three times over and the other once."""
    three, one = _assembling(_frames())
    assert [copy.assembly for copy in three.copies] == ["first", "bay_2", "bay_3"]
    assert three.title == "Glue and screw the first together, and square it: 3 alike"
    assert (one.assembly, one.copies) == ("tall", ())


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
