"""A booklet for two, one of whom learns: what is new in a step, who leads, who holds, and the days that two take."""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.conftest import ROOT, outcome_of
from tests.small_plans import derived_from, plan_from

from drawleaf.book.chapters.context import Book
from drawleaf.book.words.lessons import LABELS
from drawleaf.derive.schedule import Task, _shared
from drawleaf.derive.teaching import LONG_MM, taught
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings
from drawleaf.model.teaching import Hold, Turn

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm%s}\n"
RACK = """
stock:
  pine: {material: pine board, size: 1x4}
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  rack:
    parts:
      rail: {stock: pine, thickness: y, full_width: z, grain: x, left: 0, right: 1500, front: 0, bottom: 0}
      block: {stock: pine, thickness: y, full_width: z, grain: x, left: 100, right: 400, back: rail.front, bottom: 0, mirror: {x: 750}}
      shelf: {stock: ply, thickness: z, grain: x, left: 0, right: 1500, front: rail.back, deep: 200, bottom: 0}
    joints:
      - {butt: block, to: rail, with: [glue]}
      - {butt: shelf, to: rail, with: [glue, {screws: {through: rack.rail, heads: filled}}]}
    machining:
      - {in: rail, bore: {face: front, at: {x: 50, z: 40}, diameter: 10}}
finish: [{sand: [120], to: all}]
editions:
  taught: {learner: yes}
  alone: {learner: no}
checks: {waive: [{check: tip-over, reason: It hangs on a wall.}]}
"""


@cache
def rack() -> Derived:
    return derived_from(HEAD % ", learner: yes" + RACK)


def book_of(derived: Derived) -> Book:
    return Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("head", "learner"),
    [("", True), (", skill: some experience", False), (", skill: some experience, learner: yes", True), (", learner: no", False)],
)  # fmt: skip
def test_a_plan_for_beginners_is_for_two_unless_it_says_otherwise(head: str, learner: bool) -> None:
    assert plan_from(HEAD % head + RACK).about.learner is learner


@pytest.mark.parametrize(("edition", "learner"), [("taught", True), ("alone", False)])
def test_an_edition_turns_it_on_or_off(edition: str, learner: bool) -> None:
    from drawleaf.compiler import Choice

    assert plan_from(HEAD % ", skill: experienced" + RACK, Choice(edition)).about.learner is learner


def test_each_kind_of_work_is_shown_once_then_tried_then_left_to_the_learner() -> None:
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    turns: dict[str, list[Turn]] = {}
    for one in taught(derived.plan, derived.steps).values():
        for lesson in one.lessons:
            turns.setdefault(lesson.operation.lesson, []).append(lesson.turn)
    assert turns
    for name, found in turns.items():
        assert [turn.value for turn in found] == sorted(turn.value for turn in found), name
        assert found.count(Turn.SHOWN) <= 1, name
    assert any(Turn.OWN in found for found in turns.values())


def test_every_kind_of_work_has_its_lesson() -> None:
    """Each name in ``shared/methods`` and ``shared/tools`` has its words, each file of words a name; no way of working is without."""
    catalogue = rack().plan.catalogue
    files = {file.stem for file in (ROOT / "templates" / "lessons").glob("*.j2")} - {"again", "second-pair"}
    works = {work.lesson for work in catalogue.methods.values()} | {tool.lesson for tool in catalogue.tools.values()}
    assert works - {""} == files
    for work in catalogue.methods.values():
        for way in work.ways:
            assert work.lesson or catalogue.tools[way.tools[0]].lesson, (work.id, way.name)


def test_each_lesson_says_what_is_done_and_what_to_look_for() -> None:
    for file in (ROOT / "templates" / "lessons").glob("*.j2"):
        lines = [line.partition(":") for line in file.read_text(encoding="utf-8").splitlines() if "{%" not in line]
        assert {key for key, _, _ in lines} <= set(LABELS), file
        shown = [re.sub(r"\{\{.*?\}\}", "…", words) for _, _, words in lines]
        assert all(len(words) < 130 for words in shown), file
        if file.stem not in ("again", "second-pair"):
            assert {"learner", "hand", "look"} <= {key for key, _, _ in lines}, file


def test_a_long_rail_at_a_machine_and_a_heavy_shelf_ask_for_four_hands() -> None:
    derived = rack()
    found = taught(derived.plan, derived.steps)
    long = [one for one in found.values() if one.hold is Hold.LONG]
    assert long
    assert all(derived.plan.part(part).size[0].mm > LONG_MM for one in long for part in one.held)
    assert all(one.together for one in long)
    assert Hold.SHEET in {one.hold for one in found.values()}


def test_nobody_walks_along_with_a_long_part_that_is_bored_or_sanded() -> None:
    """The rail is over the limit at every tool; its far end is carried where it is steered past a blade or a cutter."""
    derived = rack()
    found = taught(derived.plan, derived.steps)
    kinds = {"bore", "sand-parts"}
    still = [
        step for step in derived.steps if "rack.rail" in step.parts and {op.kind for op in step.operations} <= kinds
    ]
    assert {op.kind for step in still for op in step.operations} == kinds
    assert all(step.number not in found or found[step.number].hold is not Hold.LONG for step in still)


def test_the_words_of_a_first_step_and_of_one_that_comes_again() -> None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    assert derived.plan.about.learner
    book = book_of(derived)
    by_turn: dict[Turn, list[str]] = {}
    for step in derived.steps:
        told = dict(book.lessons_of(step))
        assert "Before you go on" in told, step.id
        for lesson in book.taught[step.number].lessons[:1]:
            by_turn.setdefault(lesson.turn, []).append(" ".join(told["The learner"]))
    assert any("under eyes" in words and "step" in words for words in by_turn[Turn.TRIED])
    assert not any("As in" in words for words in by_turn[Turn.SHOWN])


@pytest.mark.parametrize("plan", ["key-ledge", "rack"])
def test_plugs_and_through_holes_are_taught_as_what_they_are(plan: str) -> None:
    """A plug is no filler; a hole that is bored right through shows on the far side."""
    plugged = RACK.replace("heads: filled", "heads: plugged")
    derived = outcome_of(plan).derived if plan == "key-ledge" else derived_from(HEAD % ", learner: yes" + plugged)
    assert derived is not None
    book = book_of(derived)
    told = {step.id: dict(book.lessons_of(step)) for step in derived.steps}
    drilled = [lines for lines in told.values() if any("with an awl" in words for words in lines["The learner"])]
    plugs = [told[step.id] for step in derived.steps if "plug-heads" in {op.kind for op in step.operations}]
    assert drilled
    assert plugs
    assert any("goes through is clean on the far side" in words for words in drilled[0]["Before you go on"])
    for lines in plugs:
        assert not any("iller" in words for each in lines.values() for words in each)


def test_a_booklet_for_one_has_none_of_these_lines() -> None:
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    book = book_of(derived)
    assert [book.lessons_of(step) for step in derived.steps] == [()] * len(derived.steps)
    assert not derived.schedule.for_two


def test_two_wait_for_each_other_where_they_work_together() -> None:
    """Steps 1 and 2 of two hours each at once; step 3 of one hour takes both, so it begins after two hours; 4 is done beside nothing."""
    tasks = (Task(1, 2, 0, ()), Task(2, 2, 0, ()), Task(3, 1, 0, ((0, 0),)), Task(4, 1, 0, ((2, 0),)))
    spells, ends = _shared(tasks, {3})
    third = [spell for spell in spells if spell.step == 3]
    assert [(spell.start, spell.end, spell.hand) for spell in third] == [(2, 3, 0), (2, 3, 1)]
    assert ends == (2, 2, 3, 4)


def test_the_schedule_of_a_taught_plan_is_that_of_two() -> None:
    schedule = rack().schedule
    assert schedule.for_two
    assert schedule.spells == schedule.helped
    assert {spell.hand for spell in schedule.spells} == {0, 1}
    hours = {step.number: step.minutes / 60 for step in rack().steps}
    for number, together in ((number, one.together) for number, one in taught(rack().plan, rack().steps).items()):
        worked = sum(spell.end - spell.start for spell in schedule.spells if spell.step == number)
        assert worked == pytest.approx(hours[number] * (2 if together else 1)), number
