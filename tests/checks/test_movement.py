"""Solid wood that is held, let go, or squeezed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import figure, found

from drawleaf.joinery.moisture import equilibrium_moisture, movement
from drawleaf.model.checks import Verdict


@given(st.floats(1, 2000), st.floats(0, 0.005), st.floats(4, 20))
def test_no_change_no_movement(width: float, coefficient: float, moisture: float) -> None:
    assert movement(width, coefficient, moisture, moisture) == 0


@given(st.floats(1, 2000), st.floats(0.0005, 0.005), st.floats(6, 9), st.floats(9.1, 14))
def test_what_swells_shrinks_back(width: float, coefficient: float, dry: float, damp: float) -> None:
    there = movement(width, coefficient, dry, damp)
    assert there > 0
    assert there + movement(width, coefficient, damp, dry) == pytest.approx(0)


@given(st.floats(5, 89), st.floats(0.5, 5), st.floats(0, 40))
def test_damper_air_makes_damper_wood(humidity: float, more: float, celsius: float) -> None:
    assert equilibrium_moisture(celsius, humidity + more) > equilibrium_moisture(celsius, humidity)


TOP = """
dimensions: {{wide: 600 mm, deep: {deep} mm}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  table:
    parts:
      base: {{stock: ply, thickness: z, grain: x, left: 0, right: wide, front: 0, back: deep, bottom: 0}}
      top: {{stock: oak, thickness: z, grain: x, left: 0, right: wide, front: 0, back: deep, bottom: base.top, glue_up: {{widest_strip: 120 mm}}}}
    joints:
      - {{butt: top, to: base, with: [{held}]}}
checks: {{waive: [{{check: shelf-sag, reason: It lies on the floor.}}]{climate}}}
"""


def top(checked, deep: float, held: str, climate: str = ""):
    return found(checked(TOP.format(deep=deep, held=held, climate=climate)), "wood-movement", "table.top")


def test_glued_over_a_little_passes_over_more_advises_over_much_stops(checked) -> None:
    assert top(checked, 70, "glue").verdict is Verdict.ADVICE
    assert top(checked, 300, "glue").verdict is Verdict.STOP
    assert top(checked, 40, "glue").verdict is Verdict.PASS


def test_screwed_fast_advises_and_slots_let_go(checked) -> None:
    assert top(checked, 300, "{screws: {count: 8, through: base}}").verdict is Verdict.ADVICE
    slots = "{screws: {item: pan-head screw 8 x 1-1/4, count: 8, through: base, slots: yes}}"
    assert top(checked, 300, slots).verdict is Verdict.PASS


def test_the_figure_by_hand(checked) -> None:
    """300 mm of oak, 0.00369 a percent, from 6.17% to 10.96% moisture: 300 x 0.00369 x 4.79 = 5.30 mm."""
    assert figure(top(checked, 300, "glue"), "moves in a year") == pytest.approx(5.30, abs=0.02)


def test_a_steady_house_moves_it_less(checked) -> None:
    heated = figure(top(checked, 300, "glue"), "moves in a year")
    steady = figure(top(checked, 300, "glue", ", climate: steady"), "moves in a year")
    still = checked(TOP.format(deep=300, held="glue", climate=", humidity: [50, 50]")).derived
    assert steady == pytest.approx(heated / 2, rel=0.05)
    assert still is not None
    assert "wood-movement" not in [one.check for one in still.checks]


FRAME = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  door:
    parts:
      side: {{stock: ply, thickness: x, grain: y, left: 0, front: 0, deep: 400 mm, bottom: 0, high: 100 mm, mirror: {{x: 168 mm}}}}
      panel: {{stock: oak, thickness: z, grain: y, left: side.right, right: side.mirrored.left, front: 0, deep: 400 mm, bottom: 40 mm, glue_up: {{widest_strip: 120 mm}}}}
    joints:
      - {{groove: panel, in: side, depth: 9 mm, clearance: {play} mm}}
"""


@pytest.mark.parametrize(("play", "verdict"), [(3.2, Verdict.PASS), (2, Verdict.ADVICE), (0.5, Verdict.STOP)])
def test_room_in_grooves(checked, play: float, verdict: Verdict) -> None:
    """A panel of about 314 mm swells by 5.5 mm: 6.4 mm of room is enough, 4 mm is not, 1 mm bursts it."""
    result = found(checked(FRAME.format(play=play)), "panel-room")
    assert result.verdict is verdict
    assert figure(result, "room") == pytest.approx(2 * play)
