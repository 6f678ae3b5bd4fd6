"""Whether leaning bodies can leave: told by their silhouettes where these are clear of one another, else by pushing the one along."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from drawleaf.solids import passage
from drawleaf.solids.passage import FIRST_STEP, STEP, passes
from drawleaf.solids.solid import Solid
from drawleaf.solids.travel import WAYS

LEG = Manifold.cube((40.0, 40.0, 300.0)).rotate((10.0, 0.0, 0.0))


def test_a_leaning_leg_leaves_along_the_rail_that_it_touches(monkeypatch: pytest.MonkeyPatch) -> None:
    """The rail stands against the leg's flat side: they only touch, and nothing needs to be weighed to see it."""
    monkeypatch.setattr(passage, "_shares", lambda *_: pytest.fail("weighed, though the silhouettes are clear"))
    leg, rail = Solid(LEG), Solid(Manifold.cube((500.0, 18.0, 60.0)).translate((40.0, -30.0, 120.0)))
    assert passes(leg, rail, (0.0, 1.0, 0.0))
    assert passes(leg, rail, (0.0, 0.0, -1.0))
    assert passes(rail, leg, (0.0, 0.0, 1.0))


def test_a_leg_in_a_mortise_is_held() -> None:
    leg = Solid(LEG)
    seat = Solid(Manifold.cube((200.0, 200.0, 30.0)).translate((-80.0, -150.0, 250.0)) - LEG)
    assert [passes(leg, seat, way) for way in WAYS] == [False] * 6


def test_a_hook_passes_one_way_only() -> None:
    """Their silhouettes lie over one another, so it takes a push to tell: to the front it is free, to the back it runs into the wall."""
    hook, wall = Solid(LEG), Solid(Manifold.cube((200.0, 18.0, 400.0)).translate((-80.0, 60.0, 0.0)))
    assert passes(hook, wall, (0.0, -1.0, 0.0))
    assert not passes(hook, wall, (0.0, 1.0, 0.0))


places = st.tuples(*(st.integers(-90, 90) for _ in range(3)))


@settings(max_examples=60, deadline=None)
@given(places, places, st.sampled_from(WAYS))
def test_agrees_with_weighing_at_every_step(turn, place, way) -> None:
    """Two bars at any angle and in any place: the answer is that of pushing the one along, step by step, until they are far apart."""
    bar = Manifold.cube((60.0, 20.0, 20.0), True)
    moving, standing = Solid(bar.rotate(turn)), Solid(bar.translate(place) - bar.rotate(turn))
    if standing.manifold.is_empty():
        return
    axis = int(np.argmax(np.abs(way)))
    mine, theirs = moving.bounds, standing.bounds
    meets = theirs[0, axis] - mine[1, axis] if way[axis] > 0 else mine[0, axis] - theirs[1, axis]
    weighed = [
        (moving.manifold.translate(tuple(w * by for w in way)) ^ standing.manifold).volume() > passage.SHARED
        for by in np.arange(max(0.0, float(meets)) + FIRST_STEP, 300.0, STEP)
    ]
    assert passes(moving, standing, way) == (not any(weighed))
