"""Wood by rule: the same everywhere and always, one solid inside, each species as it is described."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import yaml

from drawleaf.looks.boards import Board, board_color
from drawleaf.looks.noise import Points, noise, roll
from drawleaf.looks.wood import linear, to_srgb, tree_of, wood_color, wood_darkness
from drawleaf.model.catalogue import Catalogue, Form
from drawleaf.model.looks import Build

UP = (0.0, 0.0, 1.0)
KNOWN = Path(__file__).parent / "golden" / "woods.yaml"


def face(long: float, wide: float, height: float, step: float = 1.0) -> Points:
    """Points of a face square to the thickness, each array along an axis of its own."""
    along = (np.arange(int(long / step)) * step - long / 2).astype(np.float32)
    across = (np.arange(int(wide / step)) * step - wide / 2).astype(np.float32)
    return along[None, :], across[:, None], np.full((1, 1), height, np.float32)


def spread(at: Points) -> Points:
    """The same points, every array of full size."""
    along, across, through = np.broadcast_arrays(*at)
    return along.copy(), across.copy(), through.copy()


def test_noise_is_the_same_on_a_face_and_point_by_point() -> None:
    """The quick way along the axes gives what the plain way gives."""
    at = face(60, 40, 3.3)
    quick, plain = noise(5, at, (9.0, 1.7, 2.0)), noise(5, spread(at), (9.0, 1.7, 2.0))
    assert np.abs(quick - plain).max() < 1e-4
    assert -1.0 <= quick.min() < -0.3
    assert 0.3 < quick.max() <= 1.0


def test_throws_are_even() -> None:
    throws = [roll(7, number) for number in range(2000)]
    assert abs(np.mean(throws) - 0.5) < 0.02
    assert abs(np.std(throws) - 12**-0.5) < 0.01


def test_wood_is_one_solid(catalogue: Catalogue) -> None:
    """Where a face and an edge meet, they have the same rings: the face's last row is the edge's first."""
    for name in ("red oak", "pine", "walnut"):
        look = catalogue.looks[name]
        top = wood_darkness(look, 42, face(200, 80, 10.0), UP)
        along = face(200, 80, 10.0)[0]
        through = (10.0 - np.arange(20)).astype(np.float32)[:, None]
        edge = wood_darkness(look, 42, (along, np.full((1, 1), -40.0, np.float32), through), (0.0, -1.0, 0.0))
        if look.rays is None:
            assert np.abs(top[0] - edge[0]).max() < 1e-3
        else:
            # Rays alone shine where they are cut broadside and not elsewhere.
            assert np.median(np.abs(top[0] - edge[0])) < 1e-3


def test_each_board_is_its_own_and_always_the_same(catalogue: Catalogue) -> None:
    look, at = catalogue.looks["beech"], face(150, 60, 0.0)
    first, again, other = (wood_color(look, seed, at, UP) for seed in (1, 1, 2))
    assert np.array_equal(first, again)
    assert np.abs(first - other).max() > 0.05


def test_most_boards_are_flat_sawn(catalogue: Catalogue) -> None:
    """In two boards of three the tree's middle lies below the face rather than beside it."""
    trees = [tree_of(catalogue.looks["maple"], seed) for seed in range(400)]
    flat = sum(abs(tree.through) > abs(tree.across) for tree in trees) / len(trees)
    assert 0.6 < flat < 0.9
    assert all(0.79 < tree.ring / 2.3 < 1.26 for tree in trees)


def test_rings_are_as_wide_as_the_data_say(catalogue: Catalogue) -> None:
    """Along a line away from the tree's middle there are about as many rings as their width gives."""
    look, seed = catalogue.looks["douglas fir"], 12
    tree = tree_of(look, seed)
    away = np.hypot(tree.across, tree.through)
    steps = np.linspace(0.0, 60.0, 601, dtype=np.float32)
    at = (
        np.zeros(1, np.float32),
        (-steps * tree.across / away).astype(np.float32),
        (-steps * tree.through / away).astype(np.float32),
    )
    dark = wood_darkness(look, seed, at, UP, 0.1)
    jumps = int((np.diff(dark) < -0.12).sum())
    falls = np.flatnonzero(np.diff((dark > dark.mean()).astype(int)) < 0)
    assert jumps > 0
    assert 0.5 * 60.0 / tree.ring < len(falls) < 1.7 * 60.0 / tree.ring


def test_end_grain_is_darker(catalogue: Catalogue) -> None:
    look, at = catalogue.looks["maple"], face(60, 60, 0.0)
    assert wood_color(look, 3, at, (1.0, 0.0, 0.0)).mean() < 0.75 * wood_color(look, 3, at, UP).mean()


def test_knots_where_the_wood_has_them(catalogue: Catalogue) -> None:
    """Two metres of spruce have dark knots; the same board without them has none."""
    look, at = catalogue.looks["spruce"], face(2000, 120, 12.0, 2.0)
    with_them = wood_darkness(look, 8, at, UP, 2.0)
    without = wood_darkness(replace(look, knots=0.0), 8, at, UP, 2.0)
    assert (with_them > 1.0).sum() > 30
    assert (without > 1.0).sum() == 0


def test_a_panel_changes_at_its_glue_lines(catalogue: Catalogue) -> None:
    """Three strips of 50 mm: the tone jumps at the lines, and a thin dark line is there."""
    board = Board(catalogue.looks["beech"], (300.0, 150.0, 20.0), 9, strip=50.0)
    color = board_color(board, face(300, 150, 10.0, 0.5), UP, 0.5)
    rows = color.mean(axis=(1, 2))
    for line in (100, 200):
        assert rows[line] < 0.93 * min(rows[line - 6], rows[line + 6])
    one = board_color(Board(board.look, board.size, 9), face(300, 150, 10.0, 0.5), UP, 0.5)
    assert np.abs(color - one).mean() > 0.01


def test_plywood_shows_its_plies_on_edges_alone(catalogue: Catalogue) -> None:
    """Plies of 1.4 mm: thirteen in 18 mm, every other one end-on and so darker."""
    board = Board(catalogue.looks["birch plywood"], (400.0, 200.0, 18.0), 4)
    along, _, _ = face(400, 200, 0.0)
    through = (np.arange(180) * 0.1 - 8.95).astype(np.float32)[:, None]
    edge = board_color(board, (along, np.full((1, 1), 100.0, np.float32), through), (0.0, 1.0, 0.0), 0.1)
    rows = edge.mean(axis=(1, 2))
    middles = rows[[round((number + 0.5) * 180 / 13) for number in range(13)]]
    assert (middles[1::2] < 0.85 * middles[0]).all()
    assert (middles[2::2] > 0.85 * middles[0]).all()
    top = board_color(board, face(400, 200, 9.0), UP, 1.0)
    assert top.std(axis=(0, 1)).max() < 0.06


def test_points_in_any_order_give_the_same_colors(catalogue: Catalogue) -> None:
    """A face that is not square to the board is worked out point by point; it agrees with its square neighbours."""
    for name in ("pine strips", "red oak plywood", "birch plywood", "MDF"):
        board = Board(catalogue.looks[name], (120.0, 100.0, 18.0), 6)
        at = face(120, 100, 9.0)
        assert np.abs(board_color(board, at, UP, 1.0) - board_color(board, spread(at), UP, 1.0)).max() < 2e-3


def test_every_wood_has_a_look(catalogue: Catalogue) -> None:
    for material in catalogue.materials.values():
        look = catalogue.looks[material.look]
        assert (look.build is Build.SOLID) == (material.form is not Form.SHEET), material.id
        if not material.solid and material.form is Form.SHEET and look.build is not Build.PRESSED:
            assert look.plies > 0


def test_woods_stay_as_they_were_looked_at(catalogue: Catalogue, request: pytest.FixtureRequest) -> None:
    """Twelve places of a small board of each wood, in thousandths of light. Another processor may round otherwise, by one at most."""
    found = {}
    for name, look in sorted(catalogue.looks.items()):
        color = board_color(Board(look, (120.0, 60.0, 18.0), 77), face(120, 60, 9.0), UP, 1.0)
        found[name] = np.round(1000.0 * color[10::20, 15::30].mean(axis=2)).astype(int).reshape(-1).tolist()
    if request.config.getoption("--golden"):
        KNOWN.write_text("\n".join(f"{name}: {values}" for name, values in found.items()) + "\n", encoding="utf-8")
    known = yaml.safe_load(KNOWN.read_text(encoding="utf-8"))
    assert known.keys() == found.keys()
    for name, values in found.items():
        assert np.abs(np.array(values) - known[name]).max() <= 1, name


def test_colors_there_and_back() -> None:
    for color in ((0, 128, 255), (12, 200, 77)):
        assert np.allclose(to_srgb(linear(color)) * 255.0, color, atol=0.01)
