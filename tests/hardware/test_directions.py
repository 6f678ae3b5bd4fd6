"""Drawers run the way that their slides run, out at any side; what bars that way is found."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.small_plans import outcome_from, plan_from

from drawleaf.model.place import Axis, Face
from drawleaf.model.run import Run, run_of

BENCH = (Path(__file__).parents[1] / "plans" / "side-drawer" / "plan.yaml").read_text(encoding="utf-8")
SLIDES = "side-mount slides 18 in, on: [case.wall.original, case.wall.mirrored], carries: drawer, opens: right"


def changed(old: str, new: str) -> str:
    assert BENCH.count(old) == 1, old
    return BENCH.replace(old, new)


def test_slides_between_front_and_back_carry_a_drawer_out_of_the_side() -> None:
    """They lie along x, from the end at which the drawer comes out."""
    plan = plan_from(BENCH)
    slides = [fitting for fitting in plan.fittings if fitting.item.kind == "slides"]
    assert [run_of(one) for one in slides] == [Run(Face.RIGHT, Axis.Y)] * 2
    for one in slides:
        assert one.body is not None
        assert (one.body.x.low.inches, one.body.x.high.inches) == (14, 32)
        assert one.body.y.extent.inches == 0.5


@pytest.mark.parametrize("opens", ["", ", opens: front", ", opens: back"])
def test_a_drawer_cannot_come_out_where_its_slides_stand(opens: str) -> None:
    """The cure names both sides that are left, and works as it is typed."""
    outcome = outcome_from(changed(", opens: right", opens))
    (found,) = [one for one in outcome.diagnostics if one.is_error]
    assert found.code == "slides-opens"
    assert found.mend == "Write “opens: left” or “opens: right”."


def test_what_is_fastened_before_the_drawer_bars_its_way() -> None:
    """The end panel lifts off; screwed to the case it is a stop, though the piece can still be put together."""
    fixed = changed("    name: End panel\n    loose: yes\n", "    name: End panel\n").replace(
        "    hardware:\n      - {item: inset magnet 1/2 in, on: case.stop, face: right, at: {y: case.wall.back + 3/4, z: case.deck.top + 3/4}, other_half_on: panel}\n",
        "    joints:\n      - {butt: panel, to: case.stop, with: [{screws: {count: 1, through: panel}}]}\n",
    )
    found = [one for one in outcome_from(fixed).diagnostics if one.code == "drawer-fit"]
    assert [one.message for one in found] == [
        "The drawer with the front drawer side cannot come out at the right: the end panel is fastened in its way."
    ]


def test_the_closed_end_bars_a_drawer_that_is_said_to_come_out_there() -> None:
    found = outcome_from(
        changed("opens: right, at: {x: box_side.right, z: 3}", "opens: left, at: {x: box_side.left, z: 3}")
    ).diagnostics
    assert any("cannot come out at the left: the closed end is fastened in its way" in one.message for one in found)


def test_a_drawer_out_of_the_side_tips_the_piece_to_that_side() -> None:
    """Without its strap the bench is held against falling over its right feet."""
    strap = "      - {item: anti-tip strap, on: wall.mirrored, face: back, at: {x: width - 4, z: height - 2}}\n"
    (found,) = [
        one for one in outcome_from(changed(f"    hardware:\n{strap}", "")).diagnostics if one.code == "tip-over"
    ]
    assert "stands on a base 36 in wide" in found.message
    assert "hangs on an open drawer at its right" in found.message


@pytest.mark.parametrize(
    ("key", "line"), [("count", "count: 3"), ("set_below", "set_below: 1/8"), ("face", "face: left")]
)
def test_a_key_that_slides_do_not_read_is_refused(key: str, line: str) -> None:
    (found,) = [
        one
        for one in outcome_from(changed("opens: right, at", f"opens: right, {line}, at")).diagnostics
        if one.is_error
    ]
    assert found.code == "unused-key"
    assert found.message.endswith(f"“{key}” does nothing here")
    assert found.position is not None


def test_hardware_waits_for_what_the_author_names() -> None:
    """The pull goes on before the drawer is hung, or after it where the line says so."""
    pull = "{item: cup pull, on: box_front,"
    for line, order in ((pull, ["pull", "hang"]), (f"{pull} after: plinth,", ["hang", "pull"])):
        derived = outcome_from(changed(pull, line)).derived
        assert derived is not None
        kinds = [op.kind for step in derived.steps for op in step.operations]
        place = {"pull": kinds.index("fit-pull"), "hang": kinds.index("set-panel")}
        assert sorted(place, key=lambda one: place[one]) == order


def test_slides_cannot_go_on_after_the_drawer_that_they_carry() -> None:
    (found,) = [
        one
        for one in outcome_from(changed("opens: right, at", "opens: right, after: drawer, at")).diagnostics
        if one.is_error
    ]
    assert found.code == "order-itself"
