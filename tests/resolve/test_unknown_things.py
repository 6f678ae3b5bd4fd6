"""Items, finishes and kinds that nobody knows: the message names what there is, and a way that works when it is typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.small_plans import outcome_from

from drawleaf.model.catalogue import Catalogue
from drawleaf.model.hardware_kinds import HARDWARE_KINDS
from drawleaf.resources import product_folder
from drawleaf.source.library import load_library

RACK = """
plan: {title: Rack, number: R-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock: {board: {material: pine board, size: 1x4}}
assemblies:
  rack:
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 20, mirror: {x: 10}}
      shelf: {stock: board, thickness: z, full_width: y, grain: x, between: side, front: 0, bottom: 0}
    joints: [{butt: shelf, to: side, with: [glue, {screws: {count: 2, item: wood screw 8 x 1-1/2}}]}]
    hardware: [{item: coat hook, on: side, face: left, at: {y: 2, z: 9}}]
finish: [{apply: danish oil}]
"""
RUG = "rug: {name: Rug, plural: rugs, kind: KIND, body: 4 x 1 x 1/2 in, per_pack: 1, pack: each, aisle: Hardware}\n"


@pytest.mark.parametrize(
    ("written", "unknown", "code", "offered"),
    [
        ("item: coat hook", "item: flying carpet", "unknown-hardware", "coat hook"),
        ("wood screw 8 x 1-1/2", "molten lead", "unknown-hardware", "wood screw"),
        ("apply: danish oil", "apply: magic sauce", "unknown-finish", "danish oil"),
    ],
)
def test_what_nothing_is_like_is_told_with_all_that_there_is(
    written: str, unknown: str, code: str, offered: str
) -> None:
    """No size twice, and no screws where hooks are wanted."""
    (found,) = [one for one in outcome_from(RACK.replace(written, unknown)).diagnostics if one.is_error]
    assert found.code == code
    choice = found.mend.removeprefix("Take one of these: ").split(";")[0].replace(" and ", ", ").split(", ")
    assert offered in choice
    assert len(choice) == len(set(choice)) < 40
    assert ("dowel" in choice) is ("wood screw" in choice)


@pytest.mark.parametrize(("kind", "word"), [("flying carpet", "“other”"), ("concealed hing", "“concealed hinge”")])
def test_a_kind_that_nobody_knows_is_refused(tmp_path: Path, kind: str, word: str) -> None:
    """At its line, and what is told there is good when it is typed."""
    (found,) = loaded(tmp_path, kind)[1]
    assert found.code == "wrong-value"
    assert f"“{kind}”" in found.message
    assert word in found.mend
    cured, left = loaded(tmp_path, word.strip("“”"))
    assert left == ()
    assert cured.hardware["rug"].kind == word.strip("“”")


def test_every_kind_of_ours_is_known() -> None:
    """The list is no longer than what is used, asked of or fitted."""
    ours = {one.kind for one in load_library((product_folder("shared"),))[0].catalogue.hardware.values()}
    assert ours - set(HARDWARE_KINDS) == set()
    assert set(HARDWARE_KINDS) - ours == {"other", "knob", "handle", "loose tenon"}


def loaded(folder: Path, kind: str) -> tuple[Catalogue, tuple]:
    (folder / "hardware.yaml").write_text(RUG.replace("KIND", kind), encoding="utf-8")
    library, found = load_library((product_folder("shared"), folder))
    return library.catalogue, found
