"""A sloping shelf in its sides: the channel lies as the shelf leans, the shelf grows into it, and the step says how to mark it."""

from __future__ import annotations

from math import cos, radians
from pathlib import Path

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice, check_plan
from drawleaf.joinery.housing.bench import housing_of
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import Length

PLAN = """\
plan: {title: Rack, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
dimensions: {width: 20}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  rack:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 12, bottom: 0, top: 24, mirror: {x: width / 2}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 12, bottom: 1}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 1, back: 11, bottom: 12, lean: {front: 20 deg}}
    joints:
      - {dado: floor, in: side, depth: 1/4, with: [glue]}
      - {housing: shelf, in: side, depth: 1/4, with: [glue]}
"""


@pytest.fixture(scope="module")
def rack(tmp_path_factory: pytest.TempPathFactory):
    folder: Path = tmp_path_factory.mktemp("rack")
    (folder / "plan.yaml").write_text(PLAN, encoding="utf-8")
    outcome = check_plan(folder, Choice())
    assert not outcome.failed, outcome.diagnostics
    return outcome.derived


def test_the_shelf_is_longer_by_both_housings(rack) -> None:
    """20 less two sides of 3/4, plus 1/4 at each end."""
    assert rack.plan.part("rack.shelf").size[0] == Length.of_inches(19)


def test_the_channel_is_as_wide_as_the_shelf_and_rises_as_it_leans(rack) -> None:
    side = rack.plan.part("rack.side")
    cut = next(feature for feature in side.features if isinstance(feature, OutlineCut))
    one = housing_of(side, cut)
    assert one.width.mm == pytest.approx(19.05, abs=0.01)
    assert one.angle == 20
    assert one.stopped
    (near, low), (far, high) = one.marks
    assert (far - near).mm == pytest.approx(254.0 * cos(radians(20)), abs=0.01)
    assert high > low


def test_the_step_marks_it_by_two_points(rack) -> None:
    step = next(step for step in rack.steps if step.id.startswith("housing"))
    text = step_text(step, rack, Formatter.of(rack.plan))
    assert any("from the front edge" in action for action in text.actions)
    assert "20°" in text.setup[0]


def test_dado_and_housing_are_two_words_for_one_joint(rack, tmp_path: Path) -> None:
    """Which channel is cut follows from whether the part leans, not from the word."""
    other = PLAN.replace("{dado: floor", "{old: floor").replace("{housing: ", "{dado: ").replace("{old: ", "{housing: ")
    (tmp_path / "plan.yaml").write_text(other, encoding="utf-8")
    swapped = check_plan(tmp_path, Choice()).derived
    assert swapped is not None
    cut, before = ([[one.kind for one in part.features] for part in one.plan.parts] for one in (swapped, rack))
    assert cut == before
    assert swapped.plan.part("rack.shelf").size == rack.plan.part("rack.shelf").size
