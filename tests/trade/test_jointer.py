"""Panels glued from strips. A kit with a jointer makes the seams of a panel there, a kit without one by hand; strips too short for it by hand as well."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.shape_trials import words_in
from tests.small_plans import outcome_from
from tests.trade.rule import HEAD

from drawleaf.compiler import Choice
from drawleaf.model.derived import Derived

TOP = """
stock:
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  top:
    parts:
      board: {{stock: oak, thickness: z, grain: x, left: 0, right: {long}, front: 0, back: 300, bottom: 0, glue_up: {{strips: 3}}}}
"""
SEAT = """
stock:
  pine: {{material: pine board, size: 1x4}}
  leg: {{material: beech board, size: 45x70}}
assemblies:
  seat:
    parts:
      board: {{stock: pine, thickness: z, grain: x, left: 0, right: {long}, front: 0, back: 300, top: 400, glue_up: {{strips: 4}}}}
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: 40, front: 40, bottom: 0, top: board.bottom, mirror: {{x: {long} / 2}}}}
    joints: [{{butt: leg, to: board, with: [glue, {{dowels: 1}}]}}]
"""


@pytest.fixture
def kit(tmp_path: Path) -> Choice:
    file = tmp_path / "jointed.yaml"
    file.write_text(
        "jointed:\n  name: jointed\n  summary: A jointer as well.\n  like: common power tools\n  tools: [jointer]\n"
    )
    return Choice(kit_file=file)


def glued(text: str, choice: Choice) -> tuple[Derived, str]:
    derived = outcome_from(HEAD + text, choice).derived
    assert derived is not None
    step = next(step for step in derived.steps if any(op.kind == "glue-up" for op in step.operations))
    return derived, " ".join(words_in(derived, step.id))


@pytest.mark.parametrize("text", [TOP, SEAT], ids=["top", "seat"])
def test_seams_are_made_at_the_jointer_where_there_is_one(text: str, kit: Choice) -> None:
    derived, words = glued(text.format(long=700), kit)
    assert "Turn every second strip face out" in words
    assert "on edge, face to face" not in words
    step = next(step for step in derived.steps if any(op.kind == "glue-up" for op in step.operations))
    assert "jointer" in {caution.id for caution in step.cautions}
    _, by_hand = glued(text.format(long=700), Choice())
    assert "jointer" not in by_hand


def test_strips_too_short_for_it_are_planed_by_hand(kit: Choice) -> None:
    """No strip under 12 in goes over the knives; it is cut half an inch longer at each end than the panel."""
    words = {long: glued(TOP.format(long=long), kit)[1] for long in (240, 320)}
    assert "on edge, face to face" in words[240]
    assert "jointer" in words[320]


@pytest.mark.parametrize("text", [TOP, SEAT], ids=["top", "seat"])
def test_a_saw_meets_the_strips_of_a_panel_and_not_the_panel(text: str) -> None:
    """A mitre saw does not cross 300 mm, but it crosses each strip."""
    derived, _ = glued(text.format(long=240), Choice())
    cut = [step.id for step in derived.steps if any(op.kind in ("crosscut", "cut-off") for op in step.operations)]
    assert cut
    assert not [one for one in derived.checks if one.check == "tool-reach" and set(cut) & set(one.steps)]
