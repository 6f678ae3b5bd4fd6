"""The legend of a step's picture stands where the picture becomes largest: in rows below it, or in a column in or beside a corner."""

from __future__ import annotations

import pytest
import shapely
from tests.conftest import outcome_of, solids_of
from tests.draw.legibility import faults

from drawleaf.draw.step import drawing
from drawleaf.draw.step.drawing import LOW, TALL, draw_step
from drawleaf.draw.step.legend_place import corner

BOX = (0.0, 0.0, 100.0, 60.0)
COLUMN = (30.0, 20.0)


def overhang(place: tuple[float, float]) -> float:
    return max(0.0, place[0] + COLUMN[0] - BOX[2], BOX[0] - place[0])


@pytest.mark.parametrize(
    ("free", "place"),
    [
        (shapely.box(65.0, 35.0, 100.0, 60.0), (70.0, 40.0)),
        (shapely.box(0.0, 35.0, 35.0, 60.0), (0.0, 40.0)),
        (shapely.box(65.0, 0.0, 100.0, 25.0), (70.0, 0.0)),
    ],
)
def test_a_column_stands_in_the_free_corner(free: shapely.Polygon, place: tuple[float, float]):
    assert corner(shapely.box(*BOX).difference(free), BOX, COLUMN) == place


def test_a_column_beside_a_full_picture_stands_clear_of_it():
    place = corner(shapely.box(*BOX), BOX, COLUMN)
    assert overhang(place) >= COLUMN[0] + 2.0
    half_free = shapely.box(*BOX).difference(shapely.box(85.0, 30.0, 100.0, 60.0))
    assert 15.0 < overhang(corner(half_free, BOX, COLUMN)) < 20.0


@pytest.mark.parametrize("room", [TALL, LOW])
def test_a_crowded_picture_is_larger_with_its_legend_in_a_column(room, monkeypatch: pytest.MonkeyPatch):
    """A face frame, its brads and its clamps: a row of words below took a quarter of a low picture's height."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    step = next(step for step in derived.steps if step.title == "Glue the face frame to the case")

    def drawn():
        (done,) = draw_step(derived, solids_of("boot-bench"), step, (room,))
        sight = done.panes[0].sight
        assert sight is not None
        return done, sight.factor

    beside, larger = drawn()
    monkeypatch.setattr(drawing, "stands_beside", lambda *_, **__: False)
    below, smaller = drawn()
    assert larger > 1.08 * smaller
    assert beside.width_mm <= room.width
    assert faults(beside.svg) == []
    assert beside.svg.count(">clamp<") == below.svg.count(">clamp<") == 1
