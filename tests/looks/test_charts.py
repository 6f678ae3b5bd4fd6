"""Charts: flat rectangles of texels for the planes of a part, in the wood's own frame."""

from __future__ import annotations

import numpy as np
import pytest
from manifold3d import Manifold

from drawleaf.looks.charts import GUTTER, Grain, charts_of, darken_rims, packed
from drawleaf.looks.scene import smooth_normals
from drawleaf.solids.cutters import cylinder
from drawleaf.solids.solid import Solid


def board() -> Solid:
    """400 long in x, 20 thick in y, 100 wide in z, with a dado 30 wide across one face."""
    body = Manifold.cube((400.0, 20.0, 100.0))
    return Solid(body - Manifold.cube((30.0, 6.0, 102.0)).translate((100.0, -1.0, -1.0)))


GRAIN = Grain((200.0, 10.0, 50.0), (0, 2, 1))


def test_one_chart_for_each_plane() -> None:
    """Six sides, and the bottom and two walls of the dado: nine planes. The face that the dado parts in two is one chart."""
    mesh = board().mesh
    chart_of, charts, spots = charts_of(mesh.triangles, mesh.normals, GRAIN, 1.0, 0.5)
    assert len(charts) == 9
    assert set(chart_of.tolist()) == set(range(9))
    front = next(chart for chart in charts if chart.normal == (0.0, 0.0, -1.0) and abs(chart.off - 10.0) < 1e-6)
    assert front.low == (-200.0, -50.0) or front.low[0] == -200.0
    for number, chart in enumerate(charts):
        inside = spots[chart_of == number].reshape(-1, 2)
        assert inside.min() >= GUTTER - 1e-6
        assert (inside.max(axis=0) <= np.array(chart.count) - GUTTER + 1e-6).all()


def test_texels_lie_where_the_triangles_are() -> None:
    """The middle of a texel, taken back into space, is the place that the triangle has there."""
    mesh = board().mesh
    chart_of, charts, spots = charts_of(mesh.triangles, mesh.normals, GRAIN, 1.0, 0.5)
    wood = (mesh.triangles - np.array(GRAIN.middle))[:, :, list(GRAIN.axes)]
    for triangle in range(len(chart_of)):
        chart = charts[chart_of[triangle]]
        along, across, through = np.broadcast_arrays(*chart.points())
        middle = spots[triangle].mean(axis=0)
        column, row = int(middle[0]), int(middle[1])
        found = np.array([along[row, column], across[row, column], through[row, column]])
        assert np.abs(found - wood[triangle].mean(axis=0)).max() < 1.8 * max(chart.texel)


def test_a_square_face_stays_quick() -> None:
    """Of a plane square to the wood each array varies along one axis at most."""
    mesh = board().mesh
    _, charts, _ = charts_of(mesh.triangles, mesh.normals, GRAIN, 1.0, 0.5)
    for chart in charts:
        assert all(values.size == max(values.shape) for values in chart.points())


def test_no_two_charts_share_a_texel() -> None:
    counts = [(40, 7), (12, 30), (5, 5), (90, 3), (33, 33), (12, 30)]
    atlas = packed(counts)
    taken = np.zeros((atlas.size[1], atlas.size[0]), int)
    for (wide, high), (x, y) in zip(counts, atlas.places, strict=True):
        taken[y : y + high, x : x + wide] += 1
    assert taken.max() == 1
    assert taken.sum() == sum(wide * high for wide, high in counts)


def test_outlines_are_worked_out_of_what_is_seen_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """A piece with many holes has fifteen times as many charts as a picture shows: only for the one that is coloured its rims are asked."""
    asked = []
    monkeypatch.setattr(
        "drawleaf.looks.charts._rims", lambda flat: asked.append(flat) or np.zeros((0, 2, 2), np.float32)
    )
    mesh = board().mesh
    _, charts, _ = charts_of(mesh.triangles, mesh.normals, GRAIN, 1.0, 0.5)
    assert asked == []
    darken_rims(np.ones((charts[0].count[1], charts[0].count[0], 3), np.float32), charts[0])
    assert len(asked) == 1


def test_rims_are_darker_and_no_more() -> None:
    """A line along the outline of a face, also along the dado; nothing in its middle."""
    mesh = board().mesh
    _, charts, _ = charts_of(mesh.triangles, mesh.normals, GRAIN, 0.5, 0.5)
    face = next(chart for chart in charts if chart.normal[2] == -1.0 and chart.off > 9.0)
    color = np.ones((face.count[1], face.count[0], 3), np.float32)
    darken_rims(color, face)
    row = color[color.shape[0] // 2, :, 0]
    at = face.low[0] + (np.arange(face.count[0]) - GUTTER + 0.5) * face.texel[0]
    # The face's s runs along the grain, from -200 to 200; the dado from 100 to 130 of the board.
    for place in (-200.0, -100.0, -70.0, 200.0):
        assert row[np.abs(at - place).argmin()] < 0.9
    assert row[np.abs(at - 50.0).argmin()] == 1.0


def test_round_faces_are_smooth() -> None:
    """On a peg the normal at a corner points away from its middle line; on its ends it stays square."""
    bar, curve = cylinder(np.array([0.0, 0.0, 0.0]), (0.0, 0.0, 1.0), 10.0, 50.0)
    solid = Solid(bar, (curve,))
    mesh = solid.mesh
    normals = smooth_normals(solid)
    round_ = mesh.curved
    away = mesh.triangles[round_] * np.array([1.0, 1.0, 0.0])
    away /= np.linalg.norm(away, axis=2, keepdims=True)
    assert np.einsum("ijk,ijk->ij", away, normals[round_]).min() > 0.9999
    assert np.array_equal(normals[~round_], np.repeat(mesh.normals[~round_][:, None], 3, axis=1))
