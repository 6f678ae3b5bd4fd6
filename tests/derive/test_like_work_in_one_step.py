"""Like work is one step, and two steps never have one title: tongues of one setting, shelves on pins, rabbets of one part."""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived

CABINET = """
plan: {title: Linen cabinet, number: X-40, date: 2026-11-20, author: Nobody, lengths: in, summary: A cabinet for towels.}
dimensions: {width: 30, depth: 14, height: 42, gap: 1/8}
stock:
  case: {material: birch plywood, nominal: 3/4}
  back: {material: birch plywood, nominal: 1/4}
  frame: {material: poplar board, size: 1x3}
assemblies:
  case:
    component: open case
    with: {wide: width, deep: depth, high: height, case: case, back: back}
    machining: [{in: side, shelf_pins: {rows: {front: 2, back: 2}, start: 10, spacing: 2, count: 12}}]
  shelf:
    loose: yes
    parts: {shelf: {stock: case, grain: x, left: case.side.original.right + 1/16, right: case.side.mirrored.left - 1/16, front: 1/4, back: 13, bottom: 18-1/8}}
    repeat: {count: 2, along: z, spacing: 12}
    hardware: [{item: shelf pin 1/4, on: shelf}]
  door:
    component: frame and panel door
    with: {wide: width - 2 * gap, high: height - 3 - 2 * gap, frame: frame, panel: back}
    at: {x: gap, y: 0 - stock.frame.thickness, z: 3 + gap}
    hardware: [{item: concealed hinge full overlay, on: case.side.original, carries: door, overlay: full}]
"""

PANEL = """
plan: {title: Peg panel, number: X-41, date: 2026-11-20, author: Nobody, lengths: in}
stock: {sheet: {material: birch plywood, nominal: 1/2}}
assemblies:
  panel:
    parts: {panel: {stock: sheet, thickness: y, grain: x, left: 0, right: 20, front: 0, bottom: 0, high: 8}}
    machining: [{in: panel, bore: {face: front, at: {x: 4, z: 4}, repeat: {along: x, count: 3, spacing: 6}, diameter: 3/8}}]
"""


@cache
def cabinet() -> Derived:
    return derived_from(CABINET)


def titles(derived: Derived) -> list[str]:
    return [step.title for step in derived.steps]


def actions(derived: Derived, kind: str) -> list[str]:
    fmt = Formatter.of(derived.plan)
    return [
        " ".join(step_text(step, derived, fmt).actions) for step in derived.steps if step.operations[0].kind == kind
    ]


def test_tongues_of_one_setting_are_one_step_that_marks_each_width() -> None:
    (told,) = actions(cabinet(), "tongue")
    assert told.count("Mark the tongue on") == 2
    assert told.count("Set the rabbeting bit") == 1


def test_shelves_at_two_heights_are_set_in_one_step() -> None:
    (told,) = actions(cabinet(), "set-shelves")
    assert "twice" in told
    assert "Now push" not in told


def test_rabbets_of_two_widths_in_one_part_say_what_they_are_for() -> None:
    rabbets = [title for title in titles(cabinet()) if "rabbets" in title]
    assert rabbets == ["Cut the rabbets for the top along the sides", "Cut the rabbets for the back along the sides"]


def test_holes_for_hardware_say_what_they_are_for() -> None:
    assert "Drill the holes for the hinge plates in the left side" in titles(cabinet())
    assert "Drill the holes in the panel" in titles(derived_from(PANEL))


@pytest.mark.parametrize("name", ["record-cabinet", "boot-bench"])
def test_a_title_that_is_the_only_one_of_its_kind_stays_short(name: str) -> None:
    derived = outcome_of(name).derived
    assert derived is not None
    rabbets = [title for title in titles(derived) if title.startswith("Cut the rabbet")]
    assert rabbets
    assert not any(" for the " in title for title in rabbets)
    assert max(Counter(rabbets).values()) == 1
