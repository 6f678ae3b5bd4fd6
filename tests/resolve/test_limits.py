"""Plans too large: counted before anything is searched, the three heaviest named, never told at a component's file."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import outcome_of
from tests.small_plans import plan_from

from drawleaf.compiler import Choice, check_plan
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.parts import limits
from drawleaf.resolve.parts.limits import Limits

WALL = """plan: {{title: T, number: T-1, date: 2026-11-20, author: A, lengths: mm}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
{bays}
"""
BAY = """  bay_{n}:
    parts:
      side: {{stock: ply, name: Side, thickness: x, grain: z, left: {x} mm, front: 0, back: 300 mm, bottom: 0, top: 2000 mm}}
      back: {{stock: ply, name: Back, thickness: y, grain: z, left: side.right, wide: 300 mm, front: 0, bottom: 0, top: 2000 mm}}
    joints:
      - {{butt: back, to: side, with: [{{brads: {{count: {brads}}}}}]}}
    machining:
      - {{in: side, shelf_pins: {{face: right, rows: {{front: 60 mm, back: 60 mm}}, start: 100 mm, spacing: 20 mm, count: {pins}}}}}
"""


@pytest.fixture
def tight(monkeypatch: pytest.MonkeyPatch) -> None:
    """Small limits, so that small walls are too large."""
    monkeypatch.setattr(limits, "MOST_PARTS", 20)
    monkeypatch.setattr(limits, "MOST_HOLES", 400)


def told(tmp_path: Path, bays: int, *, pins: int, brads: int) -> Diagnostic:
    text = WALL.format(bays="".join(BAY.format(n=n, x=n * 1000, pins=pins, brads=brads) for n in range(bays)))
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    outcome = check_plan(tmp_path, Choice())
    return next(one for one in outcome.diagnostics if one.code in ("too-many-holes", "too-many-parts"))


@pytest.mark.usefixtures("tight")
def test_the_heaviest_are_named_over_all_bays(tmp_path: Path) -> None:
    """5 bays of 2 rows of 40 pin holes are 400, and 12 brads each 60: 460 in all."""
    found = told(tmp_path, 5, pins=40, brads=12)
    assert found.message == "The plan has 460 holes and fasteners; up to 400 make sense"
    assert found.cause == "Most are shelf pin holes in the side: 400, brads in the side: 60."


@pytest.mark.usefixtures("tight")
def test_parts_are_summed_by_what_they_are(tmp_path: Path) -> None:
    """11 bays of two parts are 22."""
    found = told(tmp_path, 11, pins=1, brads=1)
    assert found.message == "The plan has 22 parts; up to 20 make a booklet"
    assert found.cause == "Most are “Side”: 11, “Back”: 11."


def test_a_long_wall_is_within_the_limits() -> None:
    """Thirty bays of fourteen parts are 420, with 5,400 holes: more than a booklet took when every bay had steps of its own."""
    rows = "".join(
        f"      {{in: side, shelf_pins: {{face: right, rows: {{front: {y} mm}}, start: 100 mm, spacing: 20 mm, count: 90}}}},\n"
        for y in (60, 240)
    )
    wall = f"""  bay:
    loose: yes
    repeat: {{along: x, count: 30, spacing: 400 mm}}
    parts:
      side: {{stock: ply, name: Side, thickness: x, grain: z, left: 0, front: 0, back: 300 mm, bottom: 0, top: 2000 mm}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, wide: 300 mm, front: 0, deep: 300 mm, bottom: 0, repeat: {{along: z, count: 13, spacing: 100 mm}}}}
    machining: [
{rows}    ]
"""
    plan = plan_from(WALL.format(bays=wall))
    assert len(plan.parts) == 420
    assert sum(len(part.features) for part in plan.parts) == 30 * 180


def test_no_component_s_file_is_told_of() -> None:
    """All holes stand in files that are not the plan's own, as a component's do: told where the plan lists its assemblies."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    own, findings = Position("mine/plan.yaml", 7, 1), Findings()
    assert not Limits(own, findings).few_enough_holes(derived.plan.parts * 2000, derived.plan.joints * 2000)
    (found,) = findings.diagnostics
    assert found.position == own
