"""Clamps in a step's picture: each lies on the work from one outer face to the other, and runs through nothing that stands upright."""

from __future__ import annotations

import numpy as np
import pytest
from tests.conftest import outcome_of, solids_of
from tests.small_plans import derived_from

from drawleaf.draw.at_step.later_cuts import solids_at
from drawleaf.draw.sight.view import PICTORIAL, View
from drawleaf.draw.step.clamps import clamp_bodies, presses
from drawleaf.draw.step.drawing import TALL, draw_step
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from drawleaf.solids.build import Solids, build_solids

TRAY = """
plan: {title: T, number: T-1, date: 2026-12-01, author: A. Maker, lengths: mm}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  tray:
    parts:
      floor: {stock: ply, thickness: z, grain: x, left: 18, right: 418, front: 0, back: 200, bottom: 0}
      end: {stock: ply, thickness: x, grain: y, left: 0, front: 0, back: 200, bottom: 0, top: 90, mirror: {x: 218}}
    joints:
      - {butt: floor, to: end, with: [glue]}
checks: {waive: [{check: glue-alone, reason: It holds leaves.}]}
"""


def clamped(derived: Derived, solids: Solids) -> list[tuple[Step, Solids, View]]:
    """The steps whose pictures have clamps, with their solids and views."""
    found = []
    for step in derived.steps:
        scene = step.scene
        if scene is None or scene.layout is not None or not scene.moves or not step.clamps:
            continue
        now = solids_at(derived, solids, step)
        (drawing,) = draw_step(derived, now, step, (TALL,))
        assert (">clamp<" in drawing.svg) == ('class="clamp-edge"' in drawing.svg)
        if ">clamp<" in drawing.svg and drawing.panes[0].sight is not None:
            _, up, toward = drawing.panes[0].sight.axes
            found.append((step, now, View("seen", toward, up)))
    return found


def test_small_and_example_plans_show_their_clamps() -> None:
    small = derived_from(TRAY)
    for derived, solids, least in (
        (small, build_solids(small.plan), 1),
        (outcome_of("step-stool").derived, solids_of("step-stool"), 4),
    ):
        assert derived is not None
        steps = clamped(derived, solids)
        assert len(steps) >= least
        for step, now, view in steps:
            assert step.scene is not None
            shown = (*step.scene.standing, *step.scene.new)
            held = presses(step, step.scene, now, {})
            clamps = clamp_bodies(held, now, view, shown, {})
            assert len(clamps) == len(held) // 2 > 0
            for _, clamp in clamps:
                cuts = [(clamp.manifold ^ now.solid(part).manifold).volume() for part in shown]
                # A jaw lies askew on a leaning face, where the step has an offcut go between.
                assert max(cuts) < 0.15 * clamp.volume, step.title
                nearest = [clamp.manifold.min_gap(now.solid(part).manifold, 5.0) for part in shown]
                assert min(nearest) == pytest.approx(0.0, abs=0.01)


def test_a_jaw_meets_a_leaning_leg_where_it_is() -> None:
    """The box about a leg that leans ends where its foot does, which is off the wood further up."""
    derived = outcome_of("step-stool").derived
    assert derived is not None
    solids = solids_of("step-stool")
    step = next(step for step in derived.steps if step.title == "Glue the front frame together")
    assert step.scene is not None
    now = solids_at(derived, solids, step)
    held = presses(step, step.scene, now, {})
    shown = (*step.scene.standing, *step.scene.new)
    low = min(float(now.solid(part).bounds[0][0]) for part in shown)
    assert held
    assert min(press.place[0] for press in held) > low + 10
    (clamp, *_) = clamp_bodies(held, now, PICTORIAL, shown, {})
    assert np.ptp(clamp[1].bounds, axis=0)[0] > max(press.place[0] for press in held) - low - 10
