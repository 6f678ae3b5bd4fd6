"""The smallest thing that comes in a step is long enough on paper, in the picture or in its close look."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

import numpy as np
import pytest
from tests.conftest import outcome_of, solids_of
from tests.small_plans import derived_from

from drawleaf.draw.at_step.joined import loose_things
from drawleaf.draw.at_step.later_cuts import solids_at
from drawleaf.draw.paper.frame import Room
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import View
from drawleaf.draw.step.drawing import LOW, NARROW, TALL, draw_step
from drawleaf.draw.step.inset import LEAST
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Pane
from drawleaf.model.steps import Step
from drawleaf.solids.build import Solids, build_solids

BLOCK = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  panel:
    parts:
      board: {stock: ply, thickness: z, grain: x, left: 0, right: 1200, front: 0, back: 150, bottom: 0}
      rib: {stock: ply, thickness: y, grain: x, left: 0, right: 1200, back: 150, bottom: 18, top: 150}
    joints:
      - {butt: rib, to: board, with: [glue]}
  rest:
    parts:
      stop: {stock: ply, thickness: z, grain: x, left: 560, right: 620, front: 20, back: 50, bottom: 18}
    joints:
      - {butt: stop, to: panel.board, with: [glue]}
"""
"""Long boards and a stop on one of them, a twentieth as long."""


def shown_sizes(
    drawing: Drawing, step: Step, derived: Derived, solids: Solids
) -> Iterator[tuple[float, Sequence[str]]]:
    """For each kind of thing that comes, how long the largest of its boxes is on paper (mm), at the largest scale at which it is shown."""
    scene = step.scene
    assert scene is not None
    shown = {one for pane in drawing.panes for one in pane.shown}
    new = [one for one in (*scene.new, *scene.fittings) if one in shown and solids.box(one) is not None]
    for things in loose_things(derived, step, new):
        found = [(_long(pane, thing, solids), thing) for pane in drawing.panes for thing in things]
        if any(size for size, _ in found):
            yield max(found, key=lambda one: one[0])


def _long(pane: Pane, thing: Sequence[str], solids: Solids) -> float:
    """From corner to corner of the thing's box in the view; 0 where the pane shows it in part or not at all."""
    sight = pane.sight
    if sight is None:
        return 0.0
    offsets = dict(sight.offsets)
    ends = [
        np.array(corner) + np.array(offsets.get(one, (0.0, 0.0, 0.0)))
        for one in thing
        for corner in product(*solids.box(one).T)
    ]
    flat = np.array(ends) @ np.array(sight.axes[:2]).T
    x, y = sight.origin[0] + flat[:, 0] * sight.factor, sight.origin[1] - flat[:, 1] * sight.factor
    left, top, right, bottom = pane.box
    middle = (x.min() + x.max()) / 2, (y.min() + y.max()) / 2
    if not (left <= middle[0] <= right and top <= middle[1] <= bottom):
        return 0.0
    return float(np.hypot(np.ptp(x), np.ptp(y)))


def hidden(drawing: Drawing, thing: Sequence[str], solids: Solids) -> bool:
    """Whether others hide half of it or more: no closer look at it would help."""
    pane = drawing.panes[0]
    assert pane.sight is not None
    _, up, toward = pane.sight.axes
    view = View("seen", toward, up)
    offsets = dict(pane.sight.offsets)
    work = project(solids, view, pane.shown, offsets)
    alone = project(solids, view, thing, offsets)
    return all(work.outline(one).length < 0.7 * alone.outline(one).length for one in thing)


def too_short(derived: Derived, solids: Solids, rooms: Sequence[Room]) -> tuple[list[object], int]:
    """What is too short in the pictures of a plan, and how many things were measured."""
    found: list[object] = []
    count = 0
    for step in derived.steps:
        scene = step.scene
        if scene is None or scene.layout is not None or not (scene.moves or scene.fasteners or scene.fittings):
            continue
        now = solids_at(derived, solids, step)
        for room, drawing in zip(rooms, draw_step(derived, now, step, rooms), strict=True):
            for size, thing in shown_sizes(drawing, step, derived, now):
                count += 1
                if size < (0.75 if room is TALL else 0.45) * LEAST and not hidden(drawing, thing, now):
                    found.append((step.title, round(size), thing))
    return found, count


@pytest.mark.parametrize("name", ["trestle-table", "key-ledge"])
def test_no_new_thing_is_too_short_to_see(name: str) -> None:
    """Wedges beside a trestle, wooden buttons below a table top, screws in a wall."""
    derived = outcome_of(name).derived
    assert derived is not None
    found, count = too_short(derived, solids_of(name), (TALL,))
    assert found == []
    assert count > 4


@pytest.mark.parametrize("room", [TALL, LOW, NARROW])
def test_a_stop_on_a_long_board_is_enlarged(room: Room) -> None:
    derived = derived_from(BLOCK)
    solids = build_solids(derived.plan)
    found, count = too_short(derived, solids, (room,))
    assert (found, count > 0) == ([], True)
    step = next(
        step for step in derived.steps if step.scene and step.scene.new == ("rest.stop",) and step.scene.standing
    )
    (drawing,) = draw_step(derived, solids, step, (room,))
    assert 'class="inset"' in drawing.svg
