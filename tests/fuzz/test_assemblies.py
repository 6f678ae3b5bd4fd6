"""Pieces that come apart are told so, and never show a fault of the compiler's own; ``python -m fuzz.assemblies`` tries many."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from fuzz.assemblies import SOURCES, loosened
from fuzz.edits import read
from fuzz.trying import Trials

RACK = """\
plan: {title: Rack, number: R-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  rack:
    parts:
      back: {stock: ply, thickness: y, grain: x, left: 0, right: 20, front: 0, bottom: 0, high: 16}
      end: {stock: ply, thickness: x, grain: z, left: 0, back: back.front, deep: 8, bottom: 0, high: 16, mirror: {x: 10}}
      shelf: {stock: ply, thickness: z, grain: x, left: end.right, right: end.mirrored.left, back: back.front, deep: 8, bottom: 4, mirror: {z: 8}}
    joints:
      - {butt: back, to: [end, shelf], with: [glue, {screws: {count: 3, through: back}}]}
      - {butt: shelf, to: end, with: [glue, {screws: {count: 2, heads: filled}}]}
"""


def test_the_edits_are_edits() -> None:
    """Each source, loosened, is still one that can be read, and mostly another than before."""
    texts = [source.read_text(encoding="utf-8") for source in SOURCES]
    changed = [loosened(text, Random(seed)) for seed, text in enumerate(texts)]
    trees = [(read(text), None if new is None else read(new)) for text, new in zip(texts, changed, strict=True)]
    known = [(old, new) for old, new in trees if old is not None]
    assert len(known) > len(texts) / 2
    assert all(new is not None for _, new in known)
    assert sum(old != new for old, new in known) > len(known) * 0.7


@pytest.mark.parametrize("seed", range(4))
def test_a_rack_that_comes_apart_shows_no_fault_of_our_own(seed: int, tmp_path: Path) -> None:
    text = loosened(RACK, Random(seed))
    assert text is not None
    assert Trials(tmp_path / "rack").trouble_with(text) is None
