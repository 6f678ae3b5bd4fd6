"""Waits: the one in the words, the one above the step and the one of the schedule are the same; none where nothing is glued."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.schedule import tasks_of
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from drawleaf.setting_out.wood_joints import takes_glue
from shape_trials import CASE, HEAD
from small_plans import derived_from

BOX = """\
plan: {title: Crate, number: C-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  thin: {material: birch plywood, nominal: 1/4, actual: 5.2 mm}
  strip: {material: maple board, size: 1x2}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 12, bottom: 0, top: 20, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 0, mirror: {z: 10}}
      runner: {stock: strip, thickness: x, full_width: z, grain: y, left: side.right, front: 0, deep: 10, bottom: 6, mirror: {x: 10}}
      back: {stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 12, bottom: 0, top: 20}
    joints:
      - {rabbet: floor, in: side, depth: 1/4, with: [GLUE{screws: {count: 3, through: side}}]}
      - {butt: runner, to: side, with: [{screws: {count: 2}}]}
      - {rabbet: back, in: side, depth: 3/8, with: [GLUE{brads: {spacing: 5}}]}
finish:
  - {sand: [120], to: all}
"""


@cache
def box(glue: str = "glue, ") -> Derived:
    return derived_from(BOX.replace("GLUE", glue))


@cache
def crowned() -> Derived:
    return derived_from(HEAD + CASE.replace("STOCK", "own").replace("with: [{brads", "with: [glue, {brads"))


def words(derived: Derived, step: Step) -> str:
    text = step_text(step, derived, Formatter.of(derived.plan))
    return re.sub(r"<[^>]+>", "", " ".join(text.actions)).replace("\u00a0", " ")


@pytest.mark.parametrize("made", [box, crowned])
def test_every_wait_in_the_words_stands_above_the_step(made: Callable[[], Derived]) -> None:
    """The longest time that a step tells one to leave clamps on or let glue set is the wait that its heading and the schedule have."""
    derived = made()
    told = 0
    for step in derived.steps:
        hours = [int(one) for one in re.findall(r"(\d+) hours?", words(derived, step)) if step.stage != "Finish"]
        if hours and any(takes_glue(joint) for op in step.operations for joint in op.joints):
            told += 1
            assert max(hours) == step.wait_hours, (step.id, words(derived, step))
    assert told > 1
    waits = {task.step: task.wait for task in tasks_of(derived.steps)}
    assert waits == {step.number: step.wait_hours for step in derived.steps}


def test_nothing_waits_where_nothing_is_glued() -> None:
    derived = box("")
    assert [step.id for step in derived.steps if step.wait_hours] == []
    assert not any("set for" in words(derived, step) for step in derived.steps)


def test_corners_are_squared_when_the_last_glued_joint_of_the_ring_is_closed() -> None:
    """The runners are only screwed on: the diagonals are not left until they are."""
    derived = box()
    square = next(step.number for step in derived.steps for op in step.operations if op.kind == "square")
    runner = next(
        step.number
        for step in derived.steps
        for op in step.operations
        if op.kind == "join" and "box.runner" in op.parts
    )
    glued = max(
        step.number
        for step in derived.steps
        for op in step.operations
        if op.kind == "join" and any(joint.glued for joint in op.joints) and "box.back" not in op.parts
    )
    assert glued <= square <= glued + 1
    assert square <= runner


def test_what_is_trimmed_at_the_end_of_a_step_hands_its_wait_on() -> None:
    """The tails are sawn in the step that glues the returns: what follows still waits for that glue."""
    derived = crowned()
    step = next(step for step in derived.steps if any(op.kind == "trim-tail" for op in step.operations))
    assert step.wait_hours >= 1
    later = [task for task in tasks_of(derived.steps) if task.step > step.number]
    place = next(at for at, task in enumerate(tasks_of(derived.steps)) if task.step == step.number)
    assert all(wait == step.wait_hours for task in later for before, wait in task.after if before == place)
