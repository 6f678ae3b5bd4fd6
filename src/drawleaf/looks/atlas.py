"""Bodies of wood that shine alike as one mesh with one picture for all their charts. Charts that nobody sees have one mean colour for all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawleaf.looks.boards import board_color
from drawleaf.looks.charts import Chart, charts_of, darken_rims, packed
from drawleaf.looks.coats import coated
from drawleaf.looks.noise import Floats
from drawleaf.looks.scene import Body, Plain, Wood

MOST_TEXELS = 40_000_000
"""Beyond this many texels a picture takes too much memory; they are made larger then."""


@dataclass(frozen=True, eq=False, slots=True)
class Group:
    """Bodies of one surface: (N, 3, 3) corners in mm, (N, 3, 3) normals, and for wood the chart of each triangle (N) and its corners in that (N, 3, 2).

    ``owners`` is the body of each chart.
    """

    surface: Plain | float
    triangles: Floats
    normals: Floats
    chart_of: NDArray[np.int64] | None = None
    spots: Floats | None = None
    charts: tuple[Chart, ...] = ()
    owners: tuple[Wood, ...] = ()


def groups_of(bodies: Sequence[Body], texel: float) -> tuple[Group, ...]:
    """One group for each surface, wood first; ``texel`` in mm."""
    wooden: dict[float, list[tuple[Body, Wood]]] = {}
    plain: dict[Plain, list[Body]] = {}
    for body in bodies:
        if isinstance(body.material, Wood):
            wooden.setdefault(body.material.coats.roughness, []).append((body, body.material))
        else:
            plain.setdefault(body.material, []).append(body)
    found = [
        _wood_group(roughness, group, texel) for roughness, group in sorted(wooden.items(), key=lambda one: one[0])
    ]
    for material, group in plain.items():
        placed = [body.in_scene() for body in group]
        found.append(
            Group(material, np.concatenate([one[0] for one in placed]), np.concatenate([one[1] for one in placed]))
        )
    return tuple(found)


def _wood_group(roughness: float, bodies: Sequence[tuple[Body, Wood]], texel: float) -> Group:
    triangles, normals, chart_of, spots = [], [], [], []
    charts: list[Chart] = []
    owners: list[Wood] = []
    for body, wood in bodies:
        flat = np.cross(body.triangles[:, 1] - body.triangles[:, 0], body.triangles[:, 2] - body.triangles[:, 0])
        size = np.linalg.norm(flat, axis=1)
        kept = size > 1e-9
        flat = flat[kept] / size[kept][:, None]
        finest = min(texel, max(0.22, wood.board.look.plies / 5.0)) if wood.board.look.plies else texel
        numbers, made, places = charts_of(body.triangles[kept], flat, wood.grain, texel, finest)
        stands, facing = body.in_scene()
        triangles.append(stands[kept])
        normals.append(facing[kept])
        chart_of.append(numbers + len(charts))
        spots.append(places)
        charts += made
        owners += [wood] * len(made)
    return Group(
        roughness,
        np.concatenate(triangles),
        np.concatenate(normals),
        np.concatenate(chart_of),
        np.concatenate(spots),
        tuple(charts),
        tuple(owners),
    )


def texels(group: Group, seen: NDArray[np.int64]) -> int:
    """How many texels the charts that are seen take."""
    return sum(group.charts[number].count[0] * group.charts[number].count[1] for number in seen.tolist())


def baked(group: Group, seen: NDArray[np.int64], told: Callable[[float], None] | None = None) -> tuple[Floats, Floats]:
    """The picture (H, W, 3) in linear RGB with all charts that are ``seen``, and (N, 3, 2) where the corners of the triangles lie in it, as shares of
    its width and height. ``told`` hears the share that is done."""
    assert group.chart_of is not None
    assert group.spots is not None
    numbers = seen.tolist()
    unseen = sorted(set(range(len(group.charts))) - set(numbers))
    # Whatever of a board is not seen still throws light back: one texel of its mean colour, three to a side so that nothing bleeds in.
    boards = {id(group.owners[number]): group.owners[number] for number in unseen}
    counts = [group.charts[number].count for number in numbers] + [(3, 3)] * len(boards)
    atlas = packed(counts)
    wide, high = atlas.size
    picture = np.zeros((high, wide, 3), np.float32)
    corner = np.zeros((len(group.charts), 2))
    flat = np.zeros(len(group.charts), bool)
    total, done = max(1, sum(a * b for a, b in counts)), 0
    for number, (x, y) in zip(numbers, atlas.places, strict=False):
        color = chart_color(group.charts[number], group.owners[number])
        picture[y : y + color.shape[0], x : x + color.shape[1]] = color
        corner[number] = x, y
        done += color.shape[0] * color.shape[1]
        if told is not None:
            told(done / total)
    spots_of: dict[int, tuple[int, int]] = {}
    for (key, wood), (x, y) in zip(boards.items(), atlas.places[len(numbers) :], strict=True):
        picture[y : y + 3, x : x + 3] = mean_of(wood)
        spots_of[key] = x + 1, y + 1
    for number in unseen:
        corner[number] = spots_of[id(group.owners[number])]
        flat[number] = True
    spots = np.where(flat[group.chart_of][:, None, None], 0.5, group.spots) + corner[group.chart_of][:, None, :]
    return picture, spots / np.array([wide, high])


def chart_color(chart: Chart, wood: Wood) -> Floats:
    """(H, W, 3) linear RGB of a chart, coats and eased edges included."""
    color = board_color(wood.board, chart.points(), chart.normal, max(chart.texel[1], chart.texel[0] / 1.7))
    color = np.broadcast_to(color, (chart.count[1], chart.count[0], 3))
    color = coated(color, wood.board.look, wood.coats.looks)
    darken_rims(color, chart)
    return color


def mean_of(wood: Wood) -> Floats:
    """(3) linear RGB of a board under its coats, on the whole."""
    few = np.linspace(-0.4, 0.4, 9, dtype=np.float32)
    at = (
        few[None, :] * np.float32(wood.board.size[0]),
        few[:, None] * np.float32(wood.board.size[1]),
        np.zeros((1, 1), np.float32),
    )
    return coated(board_color(wood.board, at, (0.0, 0.0, 1.0), 4.0), wood.board.look, wood.coats.looks).mean(
        axis=(0, 1)
    )
