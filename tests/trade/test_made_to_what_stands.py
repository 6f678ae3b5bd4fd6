"""What is cut to the piece, what is cut before, and with which parts a case is begun: each rule on two plans."""

from __future__ import annotations

from functools import cache

import pytest
from tests.derive.test_wooden_drawers import CHEST as PLAIN_CHEST
from tests.shape_trials import words_in
from tests.small_plans import FRAMES, derived_from
from tests.trade.rule import HEAD
from tests.trade.test_read_again import BORED, case

from drawleaf.model.derived import Derived
from drawleaf.model.fitted import FittedAs

RAILED = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  box: {{material: birch plywood, nominal: 12 mm, actual: 12 mm}}
  thin: {{material: birch plywood, nominal: 6 mm, actual: 6 mm}}
  rail: {{material: maple board, size: 1x2}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: {top}, mirror: {{x: 200}}}}
      deck: {{stock: ply, thickness: z, grain: x, between: side, front: 0, back: 300, bottom: 30}}
      rail: {{stock: rail, thickness: z, full_width: y, grain: x, between: side, front: 0, bottom: 140}}
      runner: {{stock: rail, thickness: z, full_width: x, grain: y, left: side.right, front: rail.back, back: 300, bottom: 140, mirror: {{x: 200}}}}
      lid: {{stock: ply, thickness: z, grain: x, between: side, front: 0, back: 300, top: {top}}}
    joints:
      - {{dado: deck, in: side, depth: 6, with: [glue, {{brads: {{count: 3}}}}]}}
      - {{butt: rail, to: side, with: [glue, {{dowels: 2}}]}}
      - {{rabbet: lid, in: side, depth: 9, with: [glue, {{brads: {{count: 3}}}}]}}
      - {{butt: runner, to: side, with: [glue, {{screws: {{count: 2, through: side, heads: filled}}}}]}}
  drawer:
    loose: yes
    component: drawer box
    with: {{wide: 362, deep: 280, high: {high}, box: box, floor: thin}}
    at: {{x: 19, y: 0, z: {up}}}
finish:
  - {{sand: [120, 180], to: all}}
"""
LOWER, UPPER = {"high": 90, "up": 48, "top": 300}, {"high": 120, "up": 160, "top": 300}
ON_TOP = {"high": 90, "up": 300, "top": 300}


@cache
def railed(**place: int) -> Derived:
    """A case with a rail that two runners continue, and a drawer below it, above it or on top of all."""
    return derived_from(HEAD + RAILED.format(**place))


def fitted(derived: Derived) -> set[str]:
    return {part.name for part in derived.plan.parts if part.fitted_as is FittedAs.OPENING}


@pytest.mark.parametrize("place", [LOWER, UPPER], ids=["lower", "upper"])
def test_a_drawer_on_wood_is_made_to_its_opening(place: dict[str, int]) -> None:
    """Its front and back are longer and all its walls wider at first; the sums start from the opening, and nothing is worked before."""
    derived = railed(**place)
    walls = {"Drawer box front", "Drawer box back", "Left drawer side", "Right drawer side"}
    assert fitted(derived) == {*walls, "Drawer bottom"}
    fit = next(step for step in derived.steps if any(op.kind == "fit-opening" for op in step.operations))
    said = " ".join(words_in(derived, fit.id))
    assert "left and right sides" in said
    assert "for the gaps" in said
    assert "for the slides" not in said
    grooves = [
        step
        for step in derived.steps
        for op in step.operations
        if op.kind == "channel" and "drawer.box_side" in op.parts
    ]
    assert grooves
    assert all(step.number > fit.number for step in grooves)


def test_so_is_one_in_a_plain_case() -> None:
    assert "Drawer box front" in fitted(derived_from(PLAIN_CHEST))


def test_a_tray_that_stands_free_has_no_opening() -> None:
    assert not fitted(railed(**ON_TOP))


def test_late_parts_are_sanded_in_one_lot() -> None:
    """The lot comes once, and is told once."""
    plan = HEAD + RAILED.format(high=90, up=48, top=269).replace(
        "finish:", "  second:\n    like: drawer\n    at: {z: 160}\nfinish:"
    )
    derived = derived_from(plan)
    steps = [step for step in derived.steps if all(op.kind == "sand-parts" for op in step.operations)]
    assert len(steps) == 2
    said = words_in(derived, steps[1].id)
    assert sum("as for the other parts" in line for line in said) == 1
    assert {part.split(".")[0] for part in steps[1].parts} == {"drawer", "second"}


MORE = "    machining: [{in: board, bore: {face: front, at: {x: 60, z: 20}, diameter: 8, depth: 6}}]\n"


@pytest.mark.parametrize("more", [BORED, MORE], ids=["recess", "hole"])
def test_a_moulding_is_run_before_it_is_mitred_whatever_is_bored_into_it_later(more: str) -> None:
    """A plain corner cannot be tried against a moulded one."""
    derived = derived_from(case(more))
    run = {
        part: step.number
        for step in derived.steps
        for op in step.operations
        if op.kind == "run-moulding"
        for part in op.parts
    }
    cut = next(step.number for step in derived.steps if step.id == "cut-boards")
    assert run["cover.board"] == run["ends.end"] < cut


@pytest.mark.parametrize("place", [LOWER, ON_TOP], ids=["drawer in", "drawer on top"])
def test_a_case_is_begun_with_its_bottom_and_no_part_slides_along_a_glued_dado(place: dict[str, int]) -> None:
    """The bottom goes into its dado from the end. The rail waits for the other side instead of an hour in a clamp."""
    derived = railed(**place)
    steps = [step for step in derived.steps if any(op.kind == "join" and "case" in step.id for op in step.operations)]
    came = [move for step in steps for move in (step.scene.moves if step.scene else ())]
    first = next(move for move in came if move.part == "case.deck")
    assert abs(first.direction[0]) == 1
    assert came.index(first) == 0
    rail = next(step for step in steps if "case.rail" in (step.scene.new if step.scene else ()))
    assert rail.scene is not None
    assert "case.side.mirrored" in rail.scene.new
    assert not any(op.wait_hours for op in rail.operations if "case.rail" in op.parts)


def test_dowels_beside_other_fasteners_go_in_first_and_through_no_pockets() -> None:
    derived = railed(**LOWER)
    said = [line for step in derived.steps for line in words_in(derived, step.id)]
    assert not any("dowels through the pockets" in line for line in said)
    told = next(line for line in said if "dowels into the ends" in line)
    assert said.index(told) < next(
        n for n, line in enumerate(said) if "right end of the drawer rail" in line or "end of the rail" in line
    )


BACK = "      back: {stock: thin, thickness: y, grain: z, left: 0, right: side.mirrored.right, front: 300, bottom: 0, top: 300}\n"
NAILED = "      - {butt: back, to: [side, deck, lid], with: [glue, {brads: every 60}]}\n"


def test_a_corner_whose_glue_sets_before_the_diagonals_is_squared_by_itself() -> None:
    """Screws and brads take their time: the square is held into the corner at once, and the step names that which measures later."""
    text = HEAD + RAILED.format(**LOWER).replace("    joints:\n", BACK + "    joints:\n").replace(
        "  drawer:", NAILED + "  drawer:"
    )
    derived = derived_from(text)
    square = next(
        step for step in derived.steps if any(op.kind == "square" for op in step.operations) and step.assembly == "case"
    )
    told = {step.number: " ".join(words_in(derived, step.id)) for step in derived.steps}
    early = [number for number, words in told.items() if "Hold a square into each new corner" in words]
    assert early
    assert all(
        number < square.number and f"step {square.number} measures the diagonals" in told[number] for number in early
    )


def test_a_frame_that_is_squared_in_its_own_step_needs_no_more() -> None:
    derived = derived_from(FRAMES)
    words = [line for step in derived.steps for line in words_in(derived, step.id)]
    assert any("diagonals" in line for line in words)
    assert not any("Hold a square into each new corner" in line for line in words)
