"""The way that a step tells is the way of its tools: no jigsaw where a fenced saw stands, spraying where it is sprayed."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.shop.methods import owned_by, ways_for
from drawleaf.model.derived import Derived
from drawleaf.model.tools import PutOn
from drawleaf.resources import product_folder
from drawleaf.source.library import load_library
from shape_trials import HEAD
from small_plans import derived_from

TABLE = (
    HEAD
    + """\
assemblies:
  bench:
    parts:
      top: {stock: board, thickness: z, grain: x, left: 0, right: 30, front: 0, back: BACK, bottom: 16, glue_up: {strips: 3}}
      leg: {stock: board, thickness: x, full_width: y, grain: z, left: 3, front: 2, bottom: 0, top: 16, mirror: {x: 15}}
    joints: [{butt: top, to: leg, with: [{screws: {count: 2}}]}]
finish:
  - {apply: water-based polyurethane satin, coats: 2, to: all}
"""
)


def words(derived: Derived, kind: str) -> str:
    step = next(step for step in derived.steps if any(op.kind == kind for op in step.operations))
    text = step_text(step, derived, Formatter.of(derived.plan))
    return re.sub(r"<[^>]+>", "", " ".join([str(text.title), *text.actions])).replace("\u00a0", " ")


@pytest.mark.parametrize("work", ["rip", "rip-narrow", "rip-thin", "rip-short"])
def test_a_jigsaw_rips_nothing_where_a_saw_with_a_fence_stands(work: str) -> None:
    catalogue = load_library((product_folder("shared"),))[0].catalogue
    for kit in catalogue.kits.values():
        owned = owned_by(kit, catalogue)
        way, _ = ways_for(work, catalogue, owned)
        if {"table saw", "bandsaw"} & owned:
            assert "jigsaw" not in way.tools, kit.id


@pytest.mark.parametrize(("back", "milled"), [("16-1/2", True), ("12", False)])
def test_seams_are_milled_edges_or_planed_in_pairs(back: str, milled: bool) -> None:
    """Three 1x6 of 5-1/2 in make 16-1/2 in without a rip; for 12 in they are ripped, and a sawn edge is planed."""
    derived = derived_from(
        TABLE.replace("BACK", back)
        .replace("glue_up: {strips: 3}", "glue_up: {strips: 3, extra: EXTRA}")
        .replace("EXTRA", "0 in" if milled else "1/2 in")
    )
    said = words(derived, "glue-up")
    assert ("milled edges are the seams" in said) is milled
    assert ("A sawn edge is no seam" in said) is not milled
    assert "cauls" in said
    assert "grain" in said


def test_what_is_sprayed_is_told_as_spraying() -> None:
    """Where the gun is the kit's own way, title and words are those of spraying; with a brush they are a brush's."""
    derived = derived_from(TABLE.replace("BACK", "12"))
    assert words(derived, "coat").startswith("Brush on")
    coat = next(op for step in derived.steps for op in step.operations if op.kind == "coat")
    gun = next(way for way in coat.others if way.tools[0].id == "spray gun")
    sprayed = replace(coat, method=gun, settings=replace(coat.settings, method=PutOn.SPRAY))
    steps = tuple(
        replace(step, operations=tuple(sprayed if op is coat else op for op in step.operations))
        for step in derived.steps
    )
    said = words(replace(derived, steps=steps), "coat")
    assert "test strip" in said
    assert "respirator" in said
    assert "Brush it on" not in said
