"""A back's rabbet that the plan wants cut when the case stands: a step of its own, in its place, with what stops the bit."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.shop.times import load_hours
from drawleaf.draw.sight.viewpoint import best_view, worked_faces
from drawleaf.model.derived import Derived
from drawleaf.model.place import Face
from drawleaf.model.steps import Step
from drawleaf.solids.build import build_solids

CASE = """plan: {title: Late rabbet, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 12, bottom: 0, top: 14, mirror: {x: 12}}
      foot: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 0}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: SHELF, bottom: 7}
      lid: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, top: 14}
      back: {stock: thin, thickness: y, grain: z, left: side.right, right: side.mirrored.left, back: 12, bottom: 0, top: 14}
    joints:
      - {butt: [foot, lid, shelf], to: side, with: [glue, {screws: {count: 3, through: side}}]}
      - {rabbet: back, in: side, depth: 3/8, WHEN with: [glue, {brads: {spacing: 5}}]}
finish:
  - {sand: [120], to: all}
"""


@cache
def derived(shelf: str = "back.front", when: str = "after_assembly: 'yes',") -> Derived:
    return derived_from(CASE.replace("SHELF", shelf).replace("WHEN", when))


def step(found: Derived, name: str) -> Step:
    return next(step for step in found.steps if step.id == name)


def words(found: Derived, name: str) -> str:
    text = step_text(step(found, name), found, Formatter.of(found.plan))
    return " ".join(str(action) for action in text.actions)


def test_the_rabbet_comes_after_the_glue_and_before_the_back() -> None:
    """Sides, foot, shelf and lid are joined and left to set; then the rabbet; then the back."""
    found = derived()
    ids = [step.id for step in found.steps]
    cut = step(found, "rabbet-for-back")
    before = found.steps[ids.index("rabbet-for-back") - 1]
    assert before.wait_hours == load_hours(found.plan.catalogue) >= 12
    assert [one.kind for one in before.operations if one.wait_hours == before.wait_hours] == ["square"]
    assert before.next_after_wait == cut.number
    assert cut.number < step(found, "assemble-case-back").number
    assert not any(step.id.startswith("rabbet-side") for step in found.steps)
    assert found.audit.passed


def test_no_step_before_tries_the_back_in_it() -> None:
    """The rehearsal leaves the back out where its rabbet is not there yet, and where it has not its last size; else it is tried."""
    assert "case.back" not in step(derived(), "dry-fit-case").parts
    assert "case.back" not in step(derived(when=""), "dry-fit-case").parts
    cut_to_size = CASE.replace(
        "back: 12, bottom: 0, top: 14}\n    joints", "back: 12, bottom: 0, top: 14, fitted: no}\n    joints"
    )
    whole = derived_from(cut_to_size.replace("SHELF", "back.front").replace("WHEN", ""))
    assert "case.back" in step(whole, "dry-fit-case").parts


@pytest.mark.parametrize(("shelf", "stops"), [("back.front", True), ("11", False)])
def test_what_stands_within_the_bearings_reach_is_named(shelf: str, stops: bool) -> None:
    """A shelf that comes up to the back stops the bearing; one that ends 3/4 in short of it does not."""
    told = words(derived(shelf), "rabbet-for-back")
    assert "foot" in told.lower()
    assert ("shelf" in told.lower()) is stops
    assert "chisel" in told


def test_without_the_key_it_is_cut_on_the_bench() -> None:
    found = derived(when="")
    assert not any(step.id == "rabbet-for-back" for step in found.steps)
    assert any(step.id.startswith("rabbet-side") for step in found.steps)


def test_its_picture_looks_at_the_open_edge_of_the_rabbet() -> None:
    """It is cut from the back of what stands, so that is the side to be seen."""
    found = derived()
    cut = step(found, "rabbet-for-back")
    assert cut.scene is not None
    faces = worked_faces(cut.operations, cut.scene.new)
    view = best_view(build_solids(found.plan), (*cut.scene.standing, *cut.scene.new), cut.scene.new, {}, faces)
    assert view.axes[2] @ np.array(Face.BACK.normal) > 0.3
