"""An oracle of another kind: points on edges, and a ray from each to the eye against every triangle, one by one."""

from __future__ import annotations

import numpy as np
import pytest

from drawleaf.draw import view as views
from drawleaf.draw.hidden_lines import project
from drawleaf.model.place import Face
from drawleaf.solids.build import Solids, build_solids
from solids_scene import cut, edge, example, hole, part, plan

NEAR = 0.05
"""Millimetres from a change between seen and hidden within which the oracle is not asked."""


def cabinet():
    """A small open box with a shelf in dadoes, a row of holes, a rounded top, and a drawn-out bar."""
    slot = cut((6, 18, 0, 100, 60, 78), Face.RIGHT, Face.FRONT, Face.BACK)
    twin = cut((182, 194, 0, 100, 60, 78), Face.LEFT, Face.FRONT, Face.BACK)
    pins = [hole(Face.RIGHT, (18, 30, z), 7, 9) for z in (20, 35, 50)]
    return plan(
        part("left", (0, 18, 0, 100, 0, 150), slot, *pins),
        part("right", (182, 200, 0, 100, 0, 150), twin),
        part("shelf", (6, 194, 0, 100, 60, 78)),
        part("top", (-10, 210, -10, 100, 150, 168), edge("round-over", Face.FRONT, Face.TOP, 8), edge("round-over", Face.LEFT, Face.TOP, 8), edge("chamfer", Face.RIGHT, Face.TOP, 5)),
        part("bar", (-40, 240, 40, 55, 100, 115), hole(Face.FRONT, (-20, 40, 107), 9)),
    )  # fmt: skip


def is_seen(solids: Solids, ids: list[str], point: np.ndarray, eye: np.ndarray) -> bool:
    """Moeller and Trumbore's ray and triangle test, from a hair towards the eye."""
    start = point + eye * 0.004
    for an_id in ids:
        a, b, c = np.moveaxis(solids.solid(an_id).mesh.triangles, 1, 0)
        one, two = b - a, c - a
        p = np.cross(eye, two)
        volume = (one * p).sum(axis=1)
        scale = np.where(np.abs(volume) < 1e-12, np.inf, volume)
        u = ((start - a) * p).sum(axis=1) / scale
        q = np.cross(start - a, one)
        v = (q @ eye) / scale
        if ((scale != np.inf) & (u >= 0) & (v >= 0) & (u + v <= 1) & ((two * q).sum(axis=1) / scale > 0)).any():
            return False
    return True


@pytest.mark.parametrize("view", [views.PICTORIAL, views.PICTORIAL_LEFT_BELOW, views.pictorial(71, 11)])
def test_every_sampled_point_agrees(view):
    assert compare(build_solids(cabinet()), view, 60) > 150


@pytest.mark.parametrize("view", [views.PICTORIAL, views.PICTORIAL_BACK_LEFT, views.FRONT])
def test_every_sampled_point_of_the_bench_agrees(view):
    assert compare(build_solids(example("boot-bench")), view, 15) > 150


def compare(solids: Solids, view: views.View, points: int) -> int:
    """Ask the oracle at some points of each part's edges; how many it was sure about."""
    ids = [one.id for one in solids.plan.parts]
    drawn = np.concatenate(
        [np.stack([line.points[:-1], line.points[1:]], axis=1) for line in project(solids, view, ids).visible]
    )
    random = np.random.default_rng(5)
    asked = 0
    for an_id in ids:
        edges = solids.solid(an_id).edges
        toward = edges.normals @ view.axes[2] > 1e-6
        drawable = np.flatnonzero(~edges.smooth & toward.any(axis=1))
        for number in random.choice(drawable, min(points, len(drawable)), replace=False):
            a, b = edges.ends[number]
            point = a + (b - a) * random.uniform(0.05, 0.95)
            distance = distance_to(drawn, view.on_paper(point[None])[0])
            step = (b - a) / np.linalg.norm(b - a) * NEAR
            answers = {is_seen(solids, ids, point + step * k, view.axes[2]) for k in (-1, 0, 1)}
            if len(answers) == 1:
                asked += 1
                seen = answers.pop()
                assert not seen or distance < 1e-3, (an_id, point)
                # A hidden point may still lie under a visible line of something nearer.
                if not seen and distance < 1e-3:
                    assert covered(solids, ids, view, point), (an_id, point)
    return asked


def distance_to(segments: np.ndarray, point: np.ndarray) -> float:
    a, along = segments[:, 0], segments[:, 1] - segments[:, 0]
    t = (((point - a) * along).sum(axis=1) / (along * along).sum(axis=1)).clip(0, 1)
    return float(np.linalg.norm(a + along * t[:, None] - point, axis=1).min())


def covered(solids: Solids, ids: list[str], view: views.View, point: np.ndarray) -> bool:
    """Whether an edge that is nearer to the eye and itself seen falls on the same place on paper."""
    flat, depth = view.on_paper(point[None])[0], view.depth(point[None])[0]
    for an_id in ids:
        for a, b in solids.solid(an_id).edges.ends:
            ends, depths = view.on_paper(np.array([a, b])), view.depth(np.array([a, b]))
            along = ends[1] - ends[0]
            size = along @ along
            t = float(np.clip((flat - ends[0]) @ along / size, 0, 1)) if size > 1e-12 else 0.0
            near = np.linalg.norm(ends[0] + along * t - flat) < 2e-3
            if (
                near
                and depths[0] + (depths[1] - depths[0]) * t > depth
                and is_seen(solids, ids, a + (b - a) * t, view.axes[2])
            ):
                return True
    return False
