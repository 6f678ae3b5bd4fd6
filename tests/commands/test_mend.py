"""Names of older plans: told at their line, and rewritten in place with comments and layout kept."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from drawleaf.source import models
from drawleaf.source.models import PlanSource
from drawleaf.source.old_names import RENAMED, old_names, rewritten
from drawleaf.source.shapes import keys_of
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml

OLD = """\
# A bench, with my own remarks.
plan: {title: Bench, number: B-1, date: 2026-11-20, author: A}
making:  {jointing: 1/32}   # jointing: stays a word here
stock:
  "ply": {material: birch plywood,   nominal: 3/4, uncommon: yes}  # äöü

  board: {material: pine board, size: 1x4, defects: 10}
dimensions: {off: 3, sink: 1/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 9, bottom: 0, high: 20, mirror: {x: 20}}
      end: {stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, cut_to: {left: 3}}
    joints:
      - {box_joint: end, in: side,  pitch: 1/2, with: [{screws: {count: 2, heads: plugged, sink: sink}}]}
    machining:
      - {in: end, bore: {face: top, at: {x: 3, y: 2}, repeat: {along: x, count: 2, pitch: 1}, diameter: off / 6}}
      - {in: end, taper: {edge: front, toward: left, start: 2, off: off}}
    fittings:
      - {fit: anti-tip strap, on: end, into: side, at: {x: 3, z: 2}}
"""


def read(text: str):
    tree, positions, found = read_yaml("plan.yaml", text)
    assert not found
    return tree, positions


def faults(text: str):
    tree, positions = read(text)
    return validate_model(PlanSource, tree, positions, "plan.yaml")[1]


def test_every_new_name_is_a_key_and_no_old_one_is() -> None:
    for name, pairs in RENAMED.items():
        keys = keys_of(getattr(models, name))
        assert set(pairs.values()) <= set(keys), name
        assert not set(pairs) & set(keys), name


def test_an_old_name_is_told_with_the_new_one_at_its_line() -> None:
    told = {(one.position.line, one.mend.split("“")[1].split("”")[0]) for one in faults(OLD) if one.position}
    assert told == {
        (3, "jointing_allowance"),
        (5, "special_order"),
        (7, "waste"),
        (13, "level_ends"),
        (15, "finger_width"),
        (15, "counterbore"),
        (18, "narrow_by"),
        (20, "backing"),
    }


def test_only_the_old_names_change() -> None:
    """Comments, blanks, names of the author's own and a repeat's pitch stay."""
    tree, positions = read(OLD)
    new = rewritten(OLD, old_names(PlanSource, tree, positions, "plan.yaml"))
    assert faults(new) == ()
    expected = (
        OLD.replace("{jointing: 1/32}", "{jointing_allowance: 1/32}")
        .replace("uncommon: yes", "special_order: yes")
        .replace("defects: 10", "waste: 10")
        .replace("cut_to: {", "level_ends: {")
        .replace("pitch: 1/2", "finger_width: 1/2")
        .replace("sink: sink", "counterbore: sink")
        .replace("off: off", "narrow_by: off")
        .replace("into: side", "backing: side")
    )
    assert new == expected
    assert old_names(PlanSource, *read(new), "plan.yaml") == ()


def drawleaf(*words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "drawleaf.cli", *words]
    return subprocess.run(command, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL)


@pytest.mark.parametrize("end", [b"\n", b"\r\n"], ids=["LF", "CRLF"])
def test_check_mend_shows_first_and_writes_when_told(tmp_path: Path, end: bytes) -> None:
    plan = tmp_path / "bench" / "plan.yaml"
    plan.parent.mkdir()
    before = OLD.encode().replace(b"\n", end)
    plan.write_bytes(before)
    shown = drawleaf("check", "--mend", str(plan.parent)).stderr
    assert "-making:  {jointing: 1/32}" in shown
    assert "+making:  {jointing_allowance: 1/32}" in shown
    assert "nothing is written" in shown
    assert plan.read_bytes() == before
    assert "8 names rewritten" in drawleaf("check", "--mend", "--yes", str(plan.parent)).stderr
    assert plan.read_bytes().count(end) == before.count(end)
    assert plan.read_bytes().count(b"\n") == before.count(b"\n")
    assert b"finger_width: 1/2" in plan.read_bytes()
    assert "no old names" in drawleaf("check", "--mend", str(plan.parent)).stderr
    assert [one.name for one in plan.parent.iterdir()] == ["plan.yaml"]
