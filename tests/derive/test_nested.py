"""An assembly inside another is built first and then comes as one."""

from __future__ import annotations

from pathlib import Path

from drawleaf.compiler import Choice, check_plan

STAND = """plan: {title: N, number: N-1, revision: A, date: 2026-01-01, author: T, lengths: in, round_to: 1/32}
stock:
  b: {material: pine board, size: 1x4}
assemblies:
  stand:
    name: Stand
    parts:
      top: {stock: b, thickness: z, full_width: y, grain: x, left: 0, right: 20, front: 0, bottom: 10}
    assemblies:
      legs:
        name: Leg frame
        parts:
          leg: {stock: b, thickness: x, full_width: y, grain: z, left: 2, front: 0, bottom: 0, top: 10, mirror: {x: 10}}
          rail: {stock: b, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 1, top: 10}
        joints:
          - {butt: rail, to: leg, with: [glue, {screws: {count: 2}}]}
    joints:
      - {butt: legs.leg, to: top, with: [glue, {screws: {count: 2, through: top}}]}
"""


def test_a_leg_frame_is_built_before_it_meets_the_top(tmp_path: Path) -> None:
    folder = tmp_path / "stand"
    folder.mkdir()
    (folder / "plan.yaml").write_text(STAND, encoding="utf-8")
    outcome = check_plan(folder, Choice())
    assert outcome.derived is not None, outcome.diagnostics
    steps = {step.id: step for step in outcome.derived.steps}
    frame, whole = steps["assemble-legs-rail"], steps["assemble-stand-leg"]
    assert frame.number < whole.number
    assert frame.assembly == "stand.legs"
    moves = [move.direction for move in whole.scene.moves] if whole.scene else []
    assert len(moves) == 3
    assert len(set(moves)) == 1
    assert outcome.derived.audit.passed
