"""Hanging cleats: ripped at 45 degrees, the lower half screwed to the wall, the piece lifted on in the last step."""

from __future__ import annotations

from pathlib import Path

from tests.small_plans import derived_from, outcome_from

CABINET = (Path(__file__).parents[1] / "plans" / "tool-cabinet" / "plan.yaml").read_text(encoding="utf-8")


def changed(old: str, new: str) -> str:
    assert CABINET.count(old) == 1, old
    return CABINET.replace(old, new)


def test_the_piece_is_lifted_onto_its_cleat_last() -> None:
    """Both bevels are ripped in one step; the wall's half never comes to the piece, and goes to the wall in the last step."""
    derived = derived_from(CABINET)
    kinds = [operation.kind for step in derived.steps for operation in step.operations]
    assert kinds[-1] == "hang-on-cleat"
    ripped = [operation for step in derived.steps for operation in step.operations if operation.kind == "rip-bevel"]
    assert {part for operation in ripped for part in operation.parts} == {"case.cleat", "wall.cleat"}
    brought = [
        step for step in derived.steps[:-1] if step.scene and "wall.cleat" in step.scene.new and step.scene.moves
    ]
    assert brought == []
    scene = derived.steps[-1].scene
    assert scene is not None
    assert scene.standing == ("wall.cleat",)
    assert {move.direction for move in scene.moves} == {(0.0, 0.0, -1.0)}
    assert [(use.item.id, use.count) for use in derived.steps[-1].hardware] == [("cleat screw", 4)]


def test_a_bevel_the_wrong_way_round_is_an_error() -> None:
    """The mend is the line as it should be."""
    found = outcome_from(changed("edges: [back-top], size: 3/4", "edges: [front-top], size: 3/4")).diagnostics
    (error,) = [one for one in found if one.is_error]
    assert error.code == "hardware-unmet"
    assert "“wall.cleat” has no bevel through its thickness at its back top edge" in error.message
    assert "chamfer: {edges: [back-top], size: 3/4 in}" in error.mend


def test_a_small_chamfer_is_run_with_a_bit() -> None:
    text = changed(
        "    machining:\n      - {in: cleat, chamfer: {edges: [front-bottom], size: 3/4}}\n",
        "    machining:\n      - {in: cleat, chamfer: {edges: [front-bottom], size: 3/4}}\n      - {in: spacer, chamfer: {edges: [front-top], size: 1/8}}\n",
    )
    kinds = {op.kind for step in derived_from(text).steps for op in step.operations if "case.spacer" in op.parts}
    assert "chamfer" in kinds
    assert "rip-bevel" not in kinds
