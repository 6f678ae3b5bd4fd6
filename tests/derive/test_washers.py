"""A head that slides in a slot lies on a washer: bought, listed and told in the step."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.catalogue import WASHER, FastenerKind
from drawleaf.model.derived import Derived

TABLE = """\
plan: {title: Top, number: T-4, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  pine: {material: pine board, size: 1x12}
  rail: {material: pine board, size: 1x3}
assemblies:
  base:
    parts:
      rail: {stock: rail, thickness: z, full_width: x, grain: y, left: 50, front: 0, back: 280, top: 400, repeat: {along: x, at: [0, 300]}}
      tie: {stock: rail, thickness: z, full_width: y, grain: x, left: rail.1.right, right: rail.2.left, front: 100, top: 400}
    joints: [{butt: tie, to: rail, with: [glue, {dowels: {count: 2}}]}]
  seat:
    parts:
      top: {stock: pine, thickness: z, full_width: y, grain: x, left: 0, right: 460, front: 0, bottom: 400}
    joints:
      - {butt: top, to: base.rail, with: [{screws: {count: 2, through: base.rail, slots: yes, item: pan-head screw 8 x 1-1/4}}, {screws: {count: 1, through: base.rail}}]}
"""


def sliding(derived: Derived) -> int:
    return sum(
        one.slotted and one.item.kind == FastenerKind.PAN_HEAD_SCREW
        for joint in derived.plan.joints
        for one in joint.fasteners
    )


def table() -> Derived:
    return derived_from(TABLE)


def example(name: str) -> Derived:
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


@pytest.mark.parametrize(("name", "count"), [("table", 4), ("step-stool", 4), ("boot-bench", 4)])
def test_a_washer_is_bought_for_each_head_that_slides(name: str, count: int) -> None:
    derived = table() if name == "table" else example(name)
    rows = [row for row in derived.hardware if row.item.kind == WASHER]
    assert [row.count for row in rows] == [count] == [sliding(derived)]
    assert sum(use.count for step in derived.steps for use in step.hardware if use.item.kind == WASHER) == count


def test_the_step_tells_it() -> None:
    derived = table()
    (step,) = [one for one in derived.steps if any(use.item.kind == WASHER for use in one.hardware)]
    text = " ".join(map(str, step_text(step, derived, Formatter.of(derived.plan)).actions))
    assert "a washer under its head" in text
