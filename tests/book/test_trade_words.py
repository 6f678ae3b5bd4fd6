"""Words of the trade that were once wrong: the bit for a rabbet, when a frame is squared, how tight a strap is."""

from __future__ import annotations

from functools import cache

import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import StepText, step_text
from drawleaf.derive.shop.bits import wider_bit
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from drawleaf.units import Length

TRAY = """
plan: {title: Tray, number: T-1, revision: A, date: 2026-11-20, author: A, contact: a@b.example, copyright: c, terms: t, summary: s, lengths: in}
stock:
  board: {material: maple board, size: 1x4}
  thin: {material: birch plywood, nominal: 1/4, actual: 5.2 mm}
assemblies:
  tray:
    parts:
      long: {stock: board, thickness: y, full_width: z, grain: x, left: 0, right: 18, front: 0, bottom: 0, mirror: {y: 6}}
      short: {stock: board, thickness: x, full_width: z, grain: y, left: 0, front: long.back, back: long.mirrored.front, bottom: 0, mirror: {x: 9}}
      base: {name: Base, stock: thin, thickness: z, grain: x, left: short.right, right: short.mirrored.left, front: long.back, back: long.mirrored.front, bottom: 0}
    joints:
      - {rabbet: short, in: long, depth: 3/8, with: [glue]}
      - {rabbet: base, in: [long, short], depth: 1/4, with: [glue, {brads: {spacing: 5}}]}
"""


@cache
def derived_of(name: str) -> Derived:
    if name == "tray":
        return derived_from(TRAY)
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


def texts(name: str) -> list[tuple[Step, StepText]]:
    derived = derived_of(name)
    formatter = Formatter.of(derived.plan)
    return [(step, step_text(step, derived, formatter, None)) for step in derived.steps]


@pytest.mark.parametrize("name", ["tray", "record-cabinet", "boot-bench"])
def test_a_rabbet_is_cut_by_a_bit_wider_than_itself(name: str) -> None:
    routed = 0
    plan = derived_of(name).plan
    for step, text in texts(name):
        for op in step.operations:
            if ("kind", "rabbet") not in op.settings.named() or op.method.tools[0].id != "router":
                continue
            if "rabbeting bit" in {tool.id for tool in op.method.tools}:
                continue
            (width,) = [value for name, value in op.settings.named() if name == "width"]
            assert isinstance(width, Length)
            wide = wider_bit(plan, width) > width  # stores keep none wider than 3/4 in
            assert any("any wider than the rabbet" in str(line) for line in text.setup) == wide
            assert any("hangs over the edge" in str(line) for line in text.actions) == wide
            routed += wide
    assert routed


@pytest.mark.parametrize("name", ["tray", "tool-tote", "trestle-table"])
def test_no_glue_sets_before_the_corners_are_squared(name: str) -> None:
    """Clamps stay on until the diagonals agree; the one wait comes after."""
    found = texts(name)
    squared = 0
    for place, (step, text) in enumerate(found):
        squares = [place for place, op in enumerate(step.operations) if op.kind == "square"]
        if not squares:
            continue
        squared += 1
        words = [str(line) for line in text.actions]
        first = next(place for place, line in enumerate(words) if "diagonals" in line)
        assert "before the glue sets" in words[first]
        joined = words[:first] if squares[0] else [str(line) for line in found[place - 1][1].actions]
        assert not any(" on for " in line and "Leave" in line for line in joined), step.id
    assert squared


def test_a_molding_that_comes_off_again_is_fitted_with_room() -> None:
    """Its coats need a card's thickness in each miter, and no floor is flat; a cornice that stays on is fitted tight."""
    said = {step.id: " ".join(map(str, text.actions)) for step, text in texts("record-cabinet")}
    plinth, cornice = said["mitre-plinth-front"], said["mitre-cornice-return"]
    assert "strip of card" in plinth
    assert "off its bottom edge first" in plinth
    assert "strip of card" not in cornice
    assert "bottom edge" not in cornice


def test_a_strap_has_no_slack() -> None:
    (words,) = [" ".join(text.actions) for step, text in texts("record-cabinet") if "anchor" in step.id]
    assert "no slack is left" in words
    assert "hand" not in words.replace("by hand", "")
