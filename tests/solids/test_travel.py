"""Directions of travel: by hand on small scenes, and against stepping a part along in random piles of boxes."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.conftest import examples

from drawleaf.model.place import Face
from drawleaf.solids.build import build_solids
from drawleaf.solids.pieces import box_less_box, pieces_of
from drawleaf.solids.travel import WAYS, blocked_ways, blockers, free_directions, travel_distance
from solids_scene import cut, part, plan

LEFT, RIGHT, FRONT, BACK, DOWN, UP = WAYS


def case():
    """Two sides with a shelf in dadoes, a back between, a top."""
    return plan(
        part("left", (0, 18, 0, 100, 0, 150), cut((12, 18, 0, 100, 60, 78), Face.RIGHT, Face.FRONT, Face.BACK)),
        part("right", (182, 200, 0, 100, 0, 150), cut((182, 188, 0, 100, 60, 78), Face.LEFT, Face.FRONT, Face.BACK)),
        part("shelf", (12, 188, 0, 94, 60, 78)),
        part("back", (18, 182, 94, 100, 0, 150)),
        part("top", (0, 200, 0, 100, 150, 168)),
    )


def test_shelf_slides_out_of_its_dadoes_to_the_front_only():
    solids = build_solids(case())
    assert free_directions(solids, ["shelf"], ["left", "right", "back", "top"]) == (FRONT,)
    assert free_directions(solids, ["shelf"], ["left", "right"]) == (FRONT, BACK)
    assert free_directions(solids, ["shelf"], ["left"]) == (RIGHT, FRONT, BACK)


def test_side_leaves_sideways_or_along_its_dado():
    solids = build_solids(case())
    assert free_directions(solids, ["left"], ["shelf", "right", "back", "top"]) == (LEFT, FRONT, BACK)
    assert free_directions(solids, ["top"], ["left", "right", "shelf", "back"]) == (LEFT, RIGHT, FRONT, BACK, UP)


def test_shut_in():
    solids = build_solids(plan(part("tongue", (5, 15, 5, 15, 5, 15)), part("a", (0, 20, 0, 20, 0, 10), cut((5, 15, 5, 15, 5, 10), Face.TOP)), part("b", (0, 20, 0, 20, 10, 20), cut((5, 15, 5, 15, 10, 15), Face.BOTTOM))))  # fmt: skip
    assert free_directions(solids, ["tongue"], ["a", "b"]) == ()
    assert blockers(solids, ["tongue"], ["a", "b"], UP) == ("b",)
    assert free_directions(solids, ["tongue", "b"], ["a"]) == (UP,)


def test_what_is_far_aside_is_in_nobody_s_way():
    """Along a wall: in the way are those alone that stand abreast, as each by itself would be."""
    row = [part(f"bay_{n}", (n * 30, n * 30 + 20, 0, 100, 0, 150)) for n in range(6)]
    solids = build_solids(plan(*row, part("moving", (35, 75, 200, 240, 10, 20))))
    others = [one.id for one in row]
    assert blockers(solids, ["moving"], others, FRONT) == ("bay_1", "bay_2")
    for way in WAYS:
        alone = tuple(one for one in others if way not in free_directions(solids, ["moving"], [one]))
        assert blockers(solids, ["moving"], others, way) == alone


def test_how_far():
    solids = build_solids(case())
    others = ["left", "right", "back", "top"]
    assert travel_distance(solids, ["shelf"], others, FRONT) == 94
    assert travel_distance(solids, ["left"], ["shelf"], LEFT) == 18 - 12
    assert travel_distance(solids, ["top"], ["left", "right", "shelf", "back"], UP) == 0
    assert travel_distance(solids, ["shelf"], [], FRONT) == 0


def test_nothing_stands_in_the_way_of_nothing():
    assert free_directions(build_solids(case()), ["shelf"], []) == WAYS


boxes = st.tuples(*(st.tuples(st.integers(0, 7), st.integers(1, 4)) for _ in range(3))).map(
    lambda sides: np.array([[low for low, _ in sides], [low + size for low, size in sides]], dtype=float)
)


@settings(max_examples=examples(100, 300), deadline=None)
@given(boxes, st.lists(boxes, min_size=1, max_size=5))
def test_agrees_with_stepping_along(moving, standing):
    """On whole-number boxes a travel passes through something exactly when it overlaps at some half step."""
    standing = [other for box in standing for other in box_less_box(box, moving)]
    if not standing:
        return
    blocked = blocked_ways(moving[None], np.array(standing))
    for number, way in enumerate(WAYS):
        hit = False
        for step in range(25):
            place = moving + np.array(way) * step / 2
            hit |= any((np.minimum(place[1], box[1]) > np.maximum(place[0], box[0])).all() for box in standing)
        assert hit == blocked[number], way


@settings(max_examples=examples(100, 200), deadline=None)
@given(boxes, st.lists(boxes, max_size=4))
def test_pieces_tile_the_part(body, voids):
    """Cell by cell: each unit cell of the body is in one piece, or in a void and in none."""
    rest = [body]
    for void in voids:
        rest = [piece for box in rest for piece in box_less_box(box, void)]
    low, high = body.astype(int)
    for cell in np.ndindex(*(high - low)):
        middle = np.array(cell) + low + 0.5
        cut_away = any(((void[0] < middle) & (middle < void[1])).all() for void in voids)
        assert sum(bool(((box[0] < middle) & (middle < box[1])).all()) for box in rest) == (not cut_away)


def test_pieces_of_a_part():
    pieces = pieces_of(case().parts[0])
    assert np.prod(pieces[:, 1] - pieces[:, 0], axis=1).sum() == 18 * 100 * 150 - 6 * 100 * 18
