"""Scenes whose visible length can be worked out by hand."""

from __future__ import annotations

from math import pi, sin, sqrt

import pytest

from drawleaf.draw.sight import view as views
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.model.place import Face
from drawleaf.solids.build import build_solids
from solids_scene import cut, hole, part, plan

CUBE = (0, 10, 0, 10, 0, 10)
SHORT = sqrt(2 / 3)
"""What the isometric view shows of an edge along an axis."""


def scene(view, *parts) -> Linework:
    return project(build_solids(plan(*parts)), view, [one.id for one in parts])


def length(lines) -> float:
    return sum(line.length for line in lines)


@pytest.mark.parametrize(
    ("view", "parts", "expected"),
    [
        (views.ISOMETRIC, [part("a", CUBE)], 90 * SHORT),
        (views.FRONT, [part("a", CUBE)], 40),
        (views.PLAN, [part("a", CUBE)], 40),
        # Side by side: a 20 x 10 x 10 block and a seam over its top and front.
        (views.ISOMETRIC, [part("a", CUBE), part("b", (10, 20, 0, 10, 0, 10))], (120 + 20) * SHORT),
        (views.ISOMETRIC, [part("a", (0, 20, 0, 10, 0, 10))], 120 * SHORT),
        (views.ISOMETRIC, [part("a", CUBE), part("b", (0, 10, 0, 10, 10, 20))], (120 + 20) * SHORT),
        (views.FRONT, [part("a", CUBE), part("b", (10, 20, 0, 10, 0, 10))], 70),
        # Behind, along the line of sight: nothing of it shows.
        (views.ISOMETRIC, [part("a", CUBE), part("b", (-20, -10, 20, 30, -20, -10))], 90 * SHORT),
        # Behind and half as far up: the half that stands over shows, less the line that is the front one's top edge.
        (views.FRONT, [part("a", CUBE), part("b", (0, 10, 20, 30, 5, 15))], 40 + 20),
        # A tenon in its mortise, whole: a butt joint to the eye.
        (
            views.FRONT,
            [part("stile", (0, 10, 0, 10, 0, 40), cut((5, 10, 3, 7, 15, 25), Face.RIGHT)), part("rail", (5, 30, 3, 7, 15, 25))],
            2 * 10 + 2 * 40 + 2 * 20 + 10,
        ),
        # A tenon through: its end flush in the side adds its outline once.
        (
            views.RIGHT,
            [part("stile", (0, 10, 0, 10, 0, 40), cut((0, 10, 3, 7, 15, 25), Face.RIGHT, Face.LEFT)), part("rail", (-20, 10, 3, 7, 15, 25))],
            100 + 28,
        ),
        # A panel in a groove, seen from the end: the panel, and the groove's mouth filled.
        (
            views.RIGHT,
            [part("rail", (0, 50, 0, 20, 0, 30), cut((0, 50, 8, 12, 20, 30), Face.TOP, Face.LEFT, Face.RIGHT)), part("panel", (0, 50, 8, 12, 20, 60))],
            (2 * 20 + 2 * 30) - 4 + (4 + 2 * 40) + 4,
        ),
    ],
)  # fmt: skip
def test_visible_length(view, parts, expected):
    assert length(scene(view, *parts).visible) == pytest.approx(expected, abs=2e-3)


def test_flush_dowel_is_one_circle():
    block = part("block", (0, 40, 0, 40, 0, 20), hole(Face.TOP, (20, 20, 20), 8))
    lines = scene(views.PLAN, block).visible
    count, radius = 24, 4 * sqrt(2 * pi / (24 * sin(2 * pi / 24)))
    assert length(lines) == pytest.approx(160 + 2 * count * radius * sin(pi / count), abs=2e-3)
    assert {line.kind for line in lines} == {"sharp"}


def test_hidden_lines_of_a_hole_from_the_front():
    block = part("block", (0, 40, 0, 40, 0, 20), hole(Face.TOP, (20, 20, 20), 8, 10))
    work = scene(views.FRONT, block)
    # Two sides of the bore and its flat end; the rim lies under the top edge.
    assert length(work.visible) == pytest.approx(120, abs=2e-3)
    radius = 4 * sqrt(2 * pi / (24 * sin(2 * pi / 24)))
    assert length(work.hidden) == pytest.approx(2 * 10 + 2 * radius, abs=2e-3)


def test_hidden_lines_of_a_cube():
    assert length(scene(views.ISOMETRIC, part("a", CUBE)).hidden) == pytest.approx(30 * SHORT, abs=2e-3)
    assert scene(views.FRONT, part("a", CUBE)).hidden == ()


def test_a_cylinder_shows_two_sides_and_its_rim():
    """A bar seen level: no facet lines, only the outline."""
    ring = part("block", (0, 40, 0, 40, 0, 20), hole(Face.FRONT, (20, 0, 10), 12))
    lines = scene(views.PLAN, ring).visible
    assert length(lines) == pytest.approx(160, abs=2e-3)


def test_seam_belongs_to_the_one_shown_first():
    one, other = part("a", CUBE), part("b", (10, 20, 0, 10, 0, 10))
    solids = build_solids(plan(one, other))
    first = {line.part: line.length for line in project(solids, views.FRONT, ["a", "b"]).visible}
    second = {line.part: line.length for line in project(solids, views.FRONT, ["b", "a"]).visible}
    assert first == pytest.approx({"a": 40, "b": 30})
    assert second == pytest.approx({"b": 40, "a": 30})


def test_an_offset_part_stands_free():
    one, other = part("a", CUBE), part("b", (10, 20, 0, 10, 0, 10))
    solids = build_solids(plan(one, other))
    work = project(solids, views.FRONT, ["a", "b"], {"b": (5.0, 0.0, 0.0)})
    assert length(work.visible) == pytest.approx(80)
    assert work.bounds == pytest.approx((0, 0, 25, 10))


def test_lines_are_joined():
    """A square is one closed line of four corners."""
    (square,) = scene(views.FRONT, part("a", CUBE)).visible
    assert len(square.points) == 5
    assert square.points[0] == pytest.approx(square.points[-1])
