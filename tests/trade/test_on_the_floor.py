"""What stands on the floor: legs that must not rock, treads that must not be smooth, cases that must be level. Each on two plans."""

from __future__ import annotations

from functools import cache

import pytest
from tests.shape_trials import words_in
from tests.small_plans import derived_from
from tests.trade.rule import HEAD

from drawleaf.model.derived import Derived

TABLE = """
stock:
  leg: {{material: beech board, size: 45x70}}
  rail: {{material: beech board, size: 20x120}}
assemblies:
  base:
    parts:
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: {low}, mirror: {{x: 250}}}}
      back_leg: {{like: leg, back: 400, top: 300}}
      rail: {{stock: rail, thickness: y, grain: x, between: leg, front: 10, top: 300, high: 80}}
      back_rail: {{stock: rail, thickness: y, grain: x, between: back_leg, back: 390, top: 300, high: 80}}
      end: {{stock: rail, thickness: x, grain: y, front: leg.back, back: back_leg.front, left: 10, top: 300, high: 80, mirror: {{x: 250}}}}
    joints:
      - {{butt: rail, to: leg, with: [glue, {{dowels: 2}}]}}
      - {{butt: back_rail, to: back_leg, with: [glue, {{dowels: 2}}]}}
      - {{butt: end, to: [leg, back_leg], with: [glue, {{dowels: 2}}]}}
"""
LEVEL, POSTS = {"low": 300}, {"low": 340}
TREAD = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  step:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: tread.bottom, mirror: {{x: 200}}}}
      tread: {{stock: ply, thickness: z, grain: x, left: 0, right: 400, front: 0, back: 300, top: 250}}
      back: {{stock: ply, thickness: y, grain: x, between: side, back: 300, bottom: 60, top: tread.bottom}}
    joints:
      - {{butt: tread, to: side, with: [glue, {{screws: {{count: 3, heads: filled}}}}]}}
      - {{butt: back, to: side, with: [glue, {{dowels: 2}}]}}
finish: [{{apply: {finish}, coats: 2, to: all}}]
checks: {{loads: [{{on: step.tread, load: {load}}}]}}
"""
FILM, OIL = "water-based polyurethane satin", "danish oil"
CASE = """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 1200, mirror: {x: 300}}
      back: {stock: ply, thickness: y, grain: x, between: side, back: 300, bottom: 60, top: 1200}
    joints:
      - {butt: back, to: side, with: [glue, {dowels: 4}]}
    hardware:
      - {item: anti-tip strap, on: back, face: back, at: {x: 300, z: 1150}}
"""
FEET = "      - {item: leveller, on: side, at: {x: 9, y: 40}, repeat: {along: y, at: [0, 200]}}\n"


@cache
def made(text: str) -> Derived:
    return derived_from(HEAD + text)


def said(text: str) -> str:
    derived = made(text)
    return " ".join(line for step in derived.steps for line in words_in(derived, step.id))


@pytest.mark.parametrize("legs", [LEVEL, POSTS], ids=["level", "posts"])
def test_legs_are_set_on_a_flat_place_while_the_glue_is_wet(legs: dict[str, int]) -> None:
    """Once, in the step that brings the last of them. They are glued upside down where all ends level at the top."""
    words = said(TABLE.format(**legs))
    assert words.count("press it down until all of them touch") == 1
    assert ("upside down on a flat bench" in words) is (legs is LEVEL)
    assert ("Turn it onto its feet" in words) is (legs is LEVEL)
    assert "on its feet" not in said(CASE)


@pytest.mark.parametrize(
    ("finish", "load", "taped"), [(FILM, "standing", True), (OIL, "standing", False), (FILM, "books", False)]
)
def test_a_tread_under_a_film_gets_a_grip(finish: str, load: str, taped: bool) -> None:
    text = TREAD.format(finish=finish, load=load)
    assert ("anti-slip tape on the tread" in said(text)) is taped
    assert ("Anti-slip tape, clear" in [row.item.name for row in made(text).consumables]) is taped


@pytest.mark.parametrize(("text", "shimmed"), [(CASE, True), (CASE + FEET, False)], ids=["bare", "on feet"])
def test_a_case_on_its_own_wood_is_levelled_before_it_is_fastened(text: str, shimmed: bool) -> None:
    words = said(text)
    assert ("push cedar shims under the low side" in words) is shimmed
    assert ("Cedar shims" in [row.item.name for row in made(text).consumables]) is shimmed
    assert "raw the strap tight" in words


def test_a_back_with_many_brads_is_held_at_its_corners_first() -> None:
    """A small one is not: all its brads are in before the glue skins."""
    back = "      thin: {{stock: thin, thickness: y, grain: z, left: 0, right: 600, front: 300, bottom: 60, top: {top}}}\n    joints:\n      - {{butt: thin, to: [side, back], with: [glue, {{brads: every {every}}}]}}\n"
    text = (
        CASE.split("    hardware")[0]
        .replace("    joints:\n", "{thin}")
        .replace("assemblies:", "  thin: {material: birch plywood, nominal: 6 mm, actual: 6 mm}\nassemblies:")
    )
    large, small = (
        text.replace("{thin}", back.format(top=top, every=every)) for top, every in ((1200, 60), (200, 200))
    )
    hint = "One near each corner comes first"
    assert (hint in said(large), hint in said(small)) == (True, False)
