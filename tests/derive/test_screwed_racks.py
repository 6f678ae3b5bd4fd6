"""A loose assembly that only screws hold together is built as one piece, whichever of its parts they go through."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.compiler import Choice, check_plan

RACK = """\
plan: {title: Rack, number: R-1, date: 2026-11-30, author: A. Maker, lengths: in}
shop: {tools: full shop}
stock: {b: {material: pine board, size: 1x8}}
assemblies:
  rack:
    loose: LOOSE
    parts:
      back: {stock: b, thickness: y, full_width: z, grain: x, left: 0, wide: 30, back: 8, bottom: 0}
      end: {stock: b, thickness: x, full_width: y, grain: z, right: 0, back: 8, bottom: 0, high: 7, mirror: {x: 15}}
      shelf: {stock: b, thickness: z, grain: x, left: 0, wide: 10, back: back.front, deep: 6, bottom: 3, mirror: {x: 15}}
    joints:
      - {butt: shelf, to: back, with: [{screws: {count: 2, through: back}}]}
      - {butt: shelf, to: end, with: [{screws: {count: 2, through: end}}]}
"""


@pytest.mark.parametrize("loose", ["true", "false"])
def test_every_part_is_joined_and_every_screw_driven(tmp_path: Path, loose: str) -> None:
    (tmp_path / "plan.yaml").write_text(RACK.replace("LOOSE", loose), encoding="utf-8")
    outcome = check_plan(tmp_path, Choice(), tidy=False)
    assert [one for one in outcome.diagnostics if one.is_error] == []
    assert outcome.derived is not None
    joined = {part for step in outcome.derived.steps for part in step.parts if step.operations}
    assert {part.id for part in outcome.derived.plan.parts} <= joined
