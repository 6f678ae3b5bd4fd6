"""Small plans written on the spot, checked to the end."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from drawleaf.compiler import Choice, Outcome, check_plan
from drawleaf.model.checks import CheckResult

HEAD = """plan: {title: T, number: T-1, date: 2026-11-20, author: A, lengths: mm}
shop: {kerf: 3 mm, sheet_trim: 6 mm, end_trim: 12 mm}
"""
CASE = """
dimensions: {{span: {span}, deep: {deep}, high: {high}}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  board: {{material: {material}, nominal: 18 mm, actual: {thick} mm}}
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: deep, bottom: 0, top: high, mirror: {{x: span / 2 + 18 mm}}}}
      shelf: {{stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: deep, bottom: 200 mm}}
{parts}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
{joints}
{more}
"""


@pytest.fixture
def checked(tmp_path: Path) -> Callable[[str], Outcome]:
    """The outcome of checking a plan given as text after its head."""

    def work(text: str, choice: Choice | None = None) -> Outcome:
        (tmp_path / "plan.yaml").write_text(HEAD + text, encoding="utf-8")
        return check_plan(tmp_path, choice or Choice())

    return work


@pytest.fixture
def case(checked) -> Callable[..., Outcome]:
    """A shelf between two sides, with what a test adds or changes."""

    def work(
        *,
        span: float = 600,
        deep: float = 250,
        high: float = 400,
        thick: float = 18,
        material: str = "birch plywood",
        parts: str = "",
        joints: str = "",
        more: str = "",
    ) -> Outcome:
        return checked(
            CASE.format(
                span=span, deep=deep, high=high, thick=thick, material=material, parts=parts, joints=joints, more=more
            )
        )

    return work


def found(outcome: Outcome, check: str, part: str = "") -> CheckResult:
    """The gravest result of a check, about a part if one is named."""
    assert outcome.derived is not None, outcome.diagnostics
    results = [one for one in outcome.derived.checks if one.check == check and (not part or part in one.parts)]
    assert results, [one.check for one in outcome.derived.checks]
    order = ["pass", "advice", "stop"]
    return max(results, key=lambda one: order.index(one.verdict.value))


def figure(result: CheckResult, name: str) -> float:
    """A figure of a result: lengths in millimetres, quantities in their own unit."""
    value = {one.name: one.value for one in result.figures}[name]
    length = getattr(value, "length", value)
    return float(getattr(length, "mm", getattr(value, "value", 0.0)))
