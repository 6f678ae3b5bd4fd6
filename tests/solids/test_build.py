"""Volumes, areas and edges of parts, against sums done by hand."""

from __future__ import annotations

from math import cos, pi, sin, sqrt

import numpy as np
import pytest

from drawleaf.model.place import Face, Point
from drawleaf.model.plan import Bore
from drawleaf.solids.build import build_solids, part_solid
from drawleaf.solids.cutters import arc_facets, circle, facets_of
from solids_scene import cut, edge, hole, mm, part, plan

from solids_scene import HERE  # isort: skip

BOARD = (0, 600, 0, 300, 0, 18)


def arc_corner(radius: float, facets: int) -> float:
    """What a round-over takes away for each millimetre of its length: a square less a fan of triangles."""
    return radius**2 - facets * radius**2 * sin(pi / 2 / facets) / 2


def test_plain_board():
    solid = part_solid(part("a", BOARD))
    assert solid.volume == pytest.approx(600 * 300 * 18, rel=1e-12)
    assert solid.area == pytest.approx(2 * (600 * 300 + 600 * 18 + 300 * 18), rel=1e-12)
    assert solid.centroid == pytest.approx((300, 150, 9))
    assert len(solid.edges.ends) == 12
    assert not solid.edges.smooth.any()
    assert solid.pieces == 1


def test_coordinates_are_kept_to_the_last_bit():
    """Inch sizes are no round millimetres; faces that meet in the plan meet in the solids."""
    third = 0.1 + 0.2
    solid = part_solid(part("a", (third, 1 / 3, 0.7, 19.05, 0, 18.25625)))
    assert solid.bounds.tolist() == [
        [float(mm(third).exact_mm), 0.7, 0.0],
        [float(mm(1 / 3).exact_mm), 19.05, 18.25625],
    ]


def test_dado_and_rabbet():
    dado = cut((100, 118, 0, 300, 12, 18), Face.TOP, Face.FRONT, Face.BACK)
    rabbet = cut((590, 600, 0, 300, 12, 18), Face.TOP, Face.RIGHT, Face.FRONT, Face.BACK)
    solid = part_solid(part("a", BOARD, dado, rabbet))
    assert solid.volume == pytest.approx(600 * 300 * 18 - 18 * 300 * 6 - 10 * 300 * 6, rel=1e-12)


def test_stopped_dado_keeps_its_ends():
    solid = part_solid(part("a", BOARD, cut((100, 118, 20, 300, 12, 18), Face.TOP, Face.BACK)))
    assert solid.volume == pytest.approx(600 * 300 * 18 - 18 * 280 * 6, rel=1e-12)
    assert solid.bounds[1].tolist() == [600, 300, 18]


def test_crossing_cuts_share_their_crossing():
    one = cut((100, 118, 0, 300, 12, 18), Face.TOP, Face.FRONT, Face.BACK)
    other = cut((0, 600, 50, 60, 12, 18), Face.TOP, Face.LEFT, Face.RIGHT)
    solid = part_solid(part("a", BOARD, one, other))
    assert solid.volume == pytest.approx(600 * 300 * 18 - (18 * 300 + 600 * 10 - 18 * 10) * 6, rel=1e-12)


@pytest.mark.parametrize(("diameter", "depth"), [(5, 10), (6.35, 9.525), (31.75, None), (60, 9)])
def test_bores_take_away_exactly_their_cylinder(diameter, depth):
    solid = part_solid(part("a", BOARD, hole(Face.TOP, (200, 100, 18), diameter, depth)))
    assert solid.volume == pytest.approx(600 * 300 * 18 - pi * diameter**2 / 4 * (depth or 18), rel=1e-12)
    assert solid.edges.smooth.sum() == facets_of(diameter / 2)


def test_slanting_pocket_starts_clean():
    """A pocket at 15 degrees to the face: no thread of wood is left over its mouth."""
    slope = 15 * pi / 180
    pocket = Bore(
        "pocket",
        Face.BOTTOM,
        Point(mm(300), mm(150), mm(0)),
        (cos(slope), 0.0, sin(slope)),
        mm(9.5),
        mm(40),
        None,
        HERE,
    )
    solid = part_solid(part("a", BOARD, pocket))
    # The half of the cylinder that is cut off slanting at the face is as much as a straight one to the middle of its mouth.
    assert solid.volume == pytest.approx(600 * 300 * 18 - pi * 9.5**2 / 4 * 40, rel=1e-9)
    assert solid.pieces == 1


def test_chamfer():
    solid = part_solid(part("a", BOARD, edge("chamfer", Face.FRONT, Face.TOP, 6)))
    assert solid.volume == pytest.approx(600 * 300 * 18 - 600 * 18, rel=1e-12)
    assert not solid.edges.smooth.any()


@pytest.mark.parametrize(
    "faces", [(Face.FRONT, Face.TOP), (Face.TOP, Face.FRONT), (Face.LEFT, Face.BACK), (Face.RIGHT, Face.BOTTOM)]
)
def test_round_over(faces):
    solid = part_solid(part("a", BOARD, edge("round-over", *faces, 6.35)))
    run = {Face.TOP: 600, Face.LEFT: 18, Face.RIGHT: 300, Face.FRONT: 600}[faces[0]]
    assert solid.volume == pytest.approx(600 * 300 * 18 - run * arc_corner(6.35, arc_facets(6.35)), rel=1e-12)
    # Rounded facets and their run into the flats are smooth; the rest is the board's.
    assert solid.edges.smooth.sum() == arc_facets(6.35) + 1


def test_round_overs_meet_at_corners():
    faces = (Face.FRONT, Face.LEFT, Face.RIGHT)
    solid = part_solid(part("a", BOARD, *(edge("round-over", face, Face.TOP, 6) for face in faces)))
    less = arc_corner(6, arc_facets(6)) * (600 + 300 + 300)
    assert 600 * 300 * 18 - less < solid.volume < 600 * 300 * 18 - less + 2 * 6**3
    assert solid.pieces == 1
    assert solid.bounds.tolist() == [[0, 0, 0], [600, 300, 18]]


def test_all_round_with_rounded_upright_edges():
    edges = [edge("round-over", face, Face.TOP, 4) for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT)]
    edges += [edge("round-over", one, other, 4) for one in (Face.FRONT, Face.BACK) for other in (Face.LEFT, Face.RIGHT)]
    solid = part_solid(part("a", BOARD, *edges))
    assert solid.pieces == 1
    assert (solid.mesh.areas > 0).all()


def test_circle_has_the_area_of_the_circle():
    for radius in (2.5, 8.0, 20.0):
        points = circle(radius)
        x, y = points.T
        assert float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2 == pytest.approx(pi * radius**2, rel=1e-13)
        assert np.hypot(x, y) == pytest.approx(radius * sqrt(2 * pi / (len(x) * sin(2 * pi / len(x)))))


def test_round_over_stays_on_the_arc():
    for radius in (1.5, 3.175, 6.35, 12.7, 25.4):
        assert radius * (1 - cos(pi / 4 / arc_facets(radius))) <= 0.02


def test_solids_by_id():
    solids = build_solids(plan(part("a", BOARD)))
    assert solids.solid("a") is solids.solid("a")
    assert solids.body("a") is solids.solid("a")
    with pytest.raises(KeyError):
        solids.solid("b")
    with pytest.raises(KeyError):
        solids.fitting("b")
