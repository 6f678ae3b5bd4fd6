"""Names of older plans: told at their line, and rewritten in place with comments and layout kept."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from drawleaf.cli import app
from drawleaf.commands.mend import mend_in_place, mended, write
from drawleaf.resources import shared_folders
from drawleaf.source import library_models, models
from drawleaf.source.expected import choices, keys_of
from drawleaf.source.library import load_library
from drawleaf.source.models import PlanSource
from drawleaf.source.old_names import old_names, rewritten
from drawleaf.source.renames import ITEMS, KEYS, NAMES, WORDS
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml

# What is written <old|new> was called `old` and is called `new`.
MARKED = """\
# A bench, with my own remarks.
plan: {title: Bench, number: B-1, date: 2026-11-20, author: A}
<making|shop>:  {<jointing|jointing_allowance>: 1/32, <kit|tools>: full shop}   # jointing: stays a word here
stock:
  "ply": {material: birch plywood,   nominal: 3/4, <uncommon|special_order>: yes}  # äöü

  board: {material: pine board, size: 1x4, <defects|waste>: 10}
dimensions: {off: 3, sink: 1/4}
assemblies:
  case:
    parts:
      side: {stock: "ply", thickness: x, grain: z, left: 0, front: 0, deep: 9, bottom: 0, high: 20, mirror: {x: 20}, <match|grain_match>: run}
      end: {stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, <cut_to|level_ends>: {left: 3}, <about|pivot>: bottom}
      floor: {stock: board, thickness: z, grain: x, left: 0, wide: 9, front: 0, deep: 9, bottom: 0, glue_up: {<widest|widest_strip>: 3}, repeat: {along: z, <pitch|spacing>: 5, count: 2}}
    joints:
      - {box_joint: end, in: side,  <pitch|finger_width>: 1/2, with: [{screws: {<every|spacing>: 4, <ends|end_distance>: 2, heads: plugged, <sink|counterbore>: sink}}]}
      - {groove: floor, in: side, depth: 1/4, <play|clearance>: 1/32}
      - {<socket|round_tenon>: rung, in: side, depth: 1/2}
    machining:
      - {in: end, bore: {face: top, at: {x: 3, y: 2}, repeat: {along: x, count: 2, spacing: 1}, diameter: off / 6}}
      - {in: end, taper: {edge: front, toward: left, start: 2, <off|narrow_by>: off}}
      - {in: end, <trim|angle_cut>: {face: left, angle: 15 deg, toward: front}}
      - {in: side.original, shelf_pins: {face: right, rows: {front: 2}, start: 4, <pitch|spacing>: 1, count: 5}}
    <fittings|hardware>:
      - {<fit|item>: anti-tip strap, on: end, <into|backing>: side, at: {x: 3, z: 2}}
      - {<fit|item>: butt hinge 2 in, on: end, carries: door, <ends|end_distance>: 4, let_in: <fixed|case>}
      - {<fit|item>: magnetic catch, on: end, face: bottom, <meets|other_half_on>: door, at: {x: 3}}
"""
MARK = re.compile(r"<([^|>]+)\|([^>]+)>")
OLD, NEW = MARK.sub(r"\1", MARKED), MARK.sub(r"\2", MARKED)


def read(text: str):
    tree, positions, found = read_yaml("plan.yaml", text)
    assert not found
    return tree, positions


def faults(text: str):
    tree, positions = read(text)
    return validate_model(PlanSource, tree, positions, "plan.yaml")[1]


def library():
    return load_library(shared_folders())[0]


def model_named(name: str) -> type[models.SourceNode]:
    return getattr(models, name, None) or getattr(library_models, name)


def test_every_new_name_is_a_key_and_no_old_one_is() -> None:
    for name, pairs in KEYS.items():
        keys = keys_of(model_named(name))
        assert set(pairs.values()) <= set(keys), name
        assert not set(pairs) & set(keys), name
    for name, key in (*NAMES, *WORDS):
        assert key in keys_of(model_named(name))
    for (name, key), pairs in WORDS.items():
        words = choices(keys_of(model_named(name))[key]) or {one.kind for one in library().catalogue.hardware.values()}
        assert set(pairs.values()) <= set(words), key
        assert not set(pairs) & set(words), key


def test_an_old_name_is_told_with_the_new_one_at_its_line() -> None:
    """What stands below an old name is told once that one is mended."""
    marked = {(number, new) for number, line in enumerate(MARKED.splitlines(), 1) for _, new in MARK.findall(line)}
    assert told(OLD) < marked
    assert told(OLD) | told(OLD.replace("fittings:", "hardware:").replace("making:", "shop:")) == marked


def told(text: str) -> set[tuple[int, str]]:
    return {(one.position.line, one.mend.split("“")[1].split("”")[0]) for one in faults(text) if one.position}


def test_only_the_old_names_change() -> None:
    """Comments, blanks and names of the author's own stay."""
    tree, positions = read(OLD)
    new = rewritten(OLD, old_names(PlanSource, tree, positions, "plan.yaml"))
    assert new == NEW
    assert faults(new) == ()
    assert old_names(PlanSource, *read(new), "plan.yaml") == ()


def test_the_marked_plan_has_every_key_that_was_renamed() -> None:
    tree, positions = read(OLD)
    found = {change.new for change in old_names(PlanSource, tree, positions, "plan.yaml")}
    wanted = {new for name, pairs in KEYS.items() if hasattr(models, name) for new in pairs.values()}
    assert wanted - found == {"set_below", "center_to_center"}  # as “counterbore” and “spacing” were, of other lines


def drawleaf(*words: str) -> Result:
    """The command as its user runs it, in this process."""
    return CliRunner().invoke(app, list(words), input="")


@pytest.mark.parametrize("end", [b"\n", b"\r\n"], ids=["LF", "CRLF"])
def test_check_mend_shows_first_and_writes_when_told(tmp_path: Path, end: bytes) -> None:
    plan = tmp_path / "bench" / "plan.yaml"
    plan.parent.mkdir()
    before = OLD.encode().replace(b"\n", end)
    plan.write_bytes(before)
    shown = drawleaf("check", "--mend", str(plan.parent)).stderr
    assert "-making:  {jointing: 1/32, kit: full shop}" in shown
    assert "+shop:  {jointing_allowance: 1/32, tools: full shop}" in shown
    assert "nothing is written" in shown
    assert plan.read_bytes() == before
    assert (
        f"{len(MARK.findall(MARKED))} names rewritten" in drawleaf("check", "--mend", "--yes", str(plan.parent)).stderr
    )
    assert plan.read_bytes().count(end) == before.count(end)
    assert plan.read_bytes().count(b"\n") == before.count(b"\n")
    assert b"finger_width: 1/2" in plan.read_bytes()
    assert "no old names" in drawleaf("check", "--mend", str(plan.parent)).stderr
    assert [one.name for one in plan.parent.iterdir()] == ["plan.yaml"]


def test_items_have_their_new_names_and_an_authors_own_of_an_old_name_stays(tmp_path: Path) -> None:
    everything = library()
    ids = {"hardware": everything.catalogue.hardware, "materials": everything.catalogue.materials}
    ids["components"] = everything.components
    for kind, pairs in ITEMS.items():
        for old, new in pairs.items():
            assert any(one == new or one.startswith(f"{new} ") for one in ids[kind]), new
            assert not any(one == old or one.startswith(f"{old} ") for one in ids[kind]), old
    text = "hardware:\n  - {item: let-in magnet 3/4 in, on: a}\n"
    tree, positions = read(text)
    for known, new in ((False, "item: inset magnet 3/4 in"), (True, "item: let-in magnet 3/4 in")):
        changes = old_names(models.AssemblyEntry, tree, positions, "plan.yaml", lambda _kind, _name, known=known: known)
        assert new in rewritten(text, changes)


COMPONENT = """\
component: tray
parameters: {wide: null}
stock: {wall: The walls.}
parts:
  side: {stock: wall, thickness: x, grain: y, left: 0, front: 0, deep: 6, bottom: 0, high: 2, repeat: {along: x, <pitch|spacing>: wide, count: 2}}  # two
joints: []
"""
HINGE = """\
brass cup hinge:
  name: Brass cup hinge
  plural: brass cup hinges
  kind: <cup hinge|concealed hinge>
  measures: {cup: 35 mm, <screw pitch|screw spacing>: 48 mm}   # from the packet
  aisle: Cabinet hardware
"""
PLAN = """\
plan: {title: Tray, number: T-1, date: 2026-11-20, author: A}
stock: {ply: {material: birch plywood, nominal: 1/2}}
assemblies:
  tray: {component: tray, with: {wide: 9, wall: ply}}
  box: {component: drawer box, with: {wide: 9, <play|clearance>: 1/16}}
  other: {component: <tongued drawer box|tongue-and-dado drawer box>, with: {wide: 9, <play|clearance>: 1/16}}
"""


def test_the_authors_own_shared_files_are_mended_with_the_plan_and_ours_are_not(tmp_path: Path) -> None:
    files = {"plan/plan.yaml": PLAN, "shared/components/tray.yaml": COMPONENT, "shared/hardware.yaml": HINGE}
    for name, marked in files.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(MARK.sub(r"\1", marked), encoding="utf-8")
    told = [one.mend for one in load_library(shared_folders(tmp_path / "plan"))[1]]
    assert len(told) == 2
    assert all("“spacing”" in one or "“concealed hinge”" in one for one in told)
    found = mended(tmp_path / "plan")
    assert {one.path.relative_to(tmp_path).as_posix(): one.text for one in found} == {
        name: MARK.sub(r"\2", marked) for name, marked in files.items()
    }
    for one in found:
        write(one)
    assert mended(tmp_path / "plan") == ()
    assert load_library(shared_folders(tmp_path / "plan"))[1] == ()


def test_a_shared_folder_of_an_old_name_is_told_and_renamed(tmp_path: Path) -> None:
    plan = tmp_path / "plan" / "plan.yaml"
    own = tmp_path / "shared" / "kits" / "mine.yaml"
    for path, text in ((plan, MARK.sub(r"\2", PLAN)), (own, "mine: {name: mine, tools: [hand saw]}\n")):
        path.parent.mkdir(parents=True)
        path.write_text(text, encoding="utf-8")
    (told,) = load_library(shared_folders(plan.parent))[1]
    assert told.code == "old-place"
    mend_in_place(plan.parent, yes=True)
    library, told = load_library(shared_folders(plan.parent))
    assert told == ()
    assert "mine" in library.catalogue.kits
    assert not own.exists()


def test_the_old_option_is_told_its_name() -> None:
    assert "--tools" in drawleaf("check", "--kit", "full shop", "plans/key-ledge").stderr
