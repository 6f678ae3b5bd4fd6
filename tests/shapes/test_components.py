"""The components that come with drawleaf: each makes a sound assembly by itself, and its page tells every parameter."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from drawleaf.model.catalogue import Form
from drawleaf.model.diagnostic import Severity
from drawleaf.resources import product_folder
from shape_trials import outcome_of

FOLDER = product_folder("shared") / "components"
PAGE = (Path(__file__).parents[2] / "docs" / "components.md").read_text(encoding="utf-8")
SECTIONS = dict(re.findall(r"^## (.+?)\n(.*?)(?=^## |\Z)", PAGE, re.MULTILINE | re.DOTALL))
SOURCES = {
    (entry := yaml.safe_load(file.read_text(encoding="utf-8")))["component"]: entry
    for file in sorted(FOLDER.glob("*.yaml"))
}

MORE_STOCK = """\
assemblies:
  it:
    loose: yes
    component: NAME
    with: WITH
"""
WITH = {
    "drawer box": "{wide: 9, deep: 12, high: 5, box: ply, floor: ply}",
    "dovetailed drawer box": "{wide: 9, deep: 12, high: 5, box: board, floor: ply, groove: 3/8}",
    "tongue-and-dado drawer box": "{wide: 9, deep: 12, high: 5, box: ply, floor: ply}",
    "face frame": "{wide: 24, high: 30, frame: strip}",
    "slab door": "{wide: 16, high: 22, panel: ply, edge: wide}",
    "frame and panel door": "{wide: 16, high: 22, frame: wide, panel: ply}",
    "plinth": "{wide: 24, deep: 12, moulding: own}",
    "cornice": "{wide: 24, deep: 12, high: 30, moulding: crown}",
    "open case": "{wide: 24, deep: 12, high: 10, case: ply, back: ply}",
    "edged shelf": "{wide: 24, deep: 10, sheet: ply, edge: strip}",
    "table base": "{wide: 40, deep: 20, high: 20, leg: 1-3/4, legs: post, aprons: wide, apron: 3}",
}
ABOUT_THE_WHOLE = {"tip-over", "shelf-sag", "clamps-lacking", "joint-proportions", "wood-movement", "not-joined"}
ABOUT_THE_WHOLE |= {"skill-level"}
"""What is said of a part of a piece that stands alone, of the stock that this trial chose for it, or of the plan's head."""


def text_of(name: str) -> str:
    return MORE_STOCK.replace("NAME", name).replace("WITH", WITH[name])


@pytest.mark.parametrize("name", SOURCES)
def test_each_compiles_by_itself(name: str) -> None:
    outcome = outcome_of(text_of(name))
    wrong = [(one.code, one.message) for one in outcome.diagnostics if one.code not in ABOUT_THE_WHOLE]
    assert wrong == []
    assert outcome.derived is not None


@pytest.mark.parametrize("name", SOURCES)
def test_its_page_tells_every_parameter_with_its_default(name: str) -> None:
    section, source = SECTIONS[name], SOURCES[name]
    for parameter, default in source["parameters"].items():
        row = next(line for line in section.splitlines() if line.startswith("|") and f"`{parameter}`" in line)
        assert (default is None and "| |" in row) or f"| {default} |" in row, row
    told = section.partition("Stock")[2]
    for word in (*source["stock"], *source["parts"]):
        assert f"`{word}`" in told, word
    rows = set(re.findall(r"`([a-z_]+)`", "".join(re.findall(r"^\| (`.+?) \|", section, re.MULTILINE))))
    assert rows == set(source["parameters"])


@pytest.mark.parametrize("name", ["plinth", "cornice"])
def test_a_moulding_round_three_sides(name: str) -> None:
    """The front is as wide as the case and twice the moulding; the returns run from its long points to the back."""
    plan = outcome_of(text_of(name)).derived.plan  # type: ignore[union-attr]
    front, left, right = plan.parts
    thick = front.stock.thickness
    assert (front.size[0] - thick * 2).inches == 24
    assert left.size[0] == right.size[0]
    assert (left.size[0] - thick).inches == 12
    assert front.stock.material.form is (Form.BOARD if name == "plinth" else Form.MOULDING)


def test_one_groove_round_the_door_takes_tongues_and_panel() -> None:
    plan = outcome_of(text_of("frame and panel door")).derived.plan  # type: ignore[union-attr]
    panel, rail = plan.part("it.panel"), plan.part("it.rail_top")
    # 16 wide less two stiles of 2, and 3/8 more at each end for the tongues; the panel 1/32 less at each side.
    assert rail.size[0].inches * 32 == (12 + 3 / 4) * 32
    assert panel.size[1].inches * 32 == (12 + 3 / 4) * 32 - 2
    joints = {joint.insert: joint for joint in plan.joints}
    assert not joints["it.panel"].glued
    assert joints["it.rail_top"].glued


def test_nothing_else_stands_in_the_way_of_a_buyer() -> None:
    """Advice about clamps or proportions may be given; errors only about the whole that is not there."""
    for name in SOURCES:
        errors = {one.code for one in outcome_of(text_of(name)).diagnostics if one.severity is Severity.ERROR}
        assert errors <= {"tip-over", "shelf-sag"}, name
