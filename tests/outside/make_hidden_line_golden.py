"""Makes ``data/hidden_lines.json``: what OpenCASCADE's exact hidden-line algorithm draws of every scene, view by view.

    .venv/bin/python tests/outside/make_hidden_line_golden.py [scene ...]

Run it when a scene has changed (the test says so); without names it makes only the scenes that are not up to date. All parts of a scene
are one compound, with seams between coplanar faces taken out. Parts are jittered by 1e-6 mm: where faces of two parts touch exactly,
OpenCASCADE now and then leaves part of an arc unhidden, and a hair of play mends it. Straight lines that fall together are drawn once;
so are curves (two parts may share an arc, and OpenCASCADE cuts it into chords twice).
"""

from __future__ import annotations

import base64
import itertools
import json
import sys
import zlib
from pathlib import Path

import numpy as np
import shapely

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from drawleaf.draw.sight.chaining import dedupe
from outside.line_scenes import POSES, SCENES, VIEWS, Scene, length_of, scene
from outside.recipe_occ import compound, moved, shape_of, visible

FILE = Path(__file__).parent / "data" / "hidden_lines.json"
JITTER = 1e-6
SAME_CURVE = 0.02
"""Millimetres within which stretches of curves are one."""

STEP = 0.02
"""Millimetres to which the lines are kept; the lengths are kept to 0.001."""


def golden(one: Scene) -> dict[str, object]:
    """One scene's part of the file."""
    shapes = {recipe.name: shape_of(recipe) for recipe in one.recipes}
    result: dict[str, object] = {"key": one.key}
    for pose in POSES:
        random = np.random.default_rng(11)
        offsets = one.apart if pose == "exploded" else {}
        whole = compound(
            moved(shape, np.array(offsets.get(name, (0, 0, 0))) + random.uniform(-JITTER, JITTER, 3))
            for name, shape in shapes.items()
        )
        views = {}
        for view in VIEWS:
            segments = drawn_once(*visible(whole, view))
            views[view.name] = {"length": round(length_of(segments), 3), "lines": packed(segments)}
        result[pose] = views
    return result


def drawn_once(straight: list[np.ndarray], curved: list[np.ndarray]) -> np.ndarray:
    """Segments in which nothing is drawn twice. Curves seen edge-on are straight."""
    edge_on = [is_straight(points) for points in curved]
    straight = straight + [
        turn for points, flat in zip(curved, edge_on, strict=True) if flat for turn in back_and_forth(points)
    ]
    curved = [points for points, flat in zip(curved, edge_on, strict=True) if not flat]
    lines, _ = dedupe(np.array(straight).reshape(-1, 2, 2), np.zeros(len(straight), dtype=np.int64))
    kept: list[np.ndarray] = []
    drawn: list[shapely.Geometry] = []
    for points in curved:
        curve = shapely.LineString(points)
        near = [other for other in drawn if other.intersects(curve)]
        rest = curve.difference(shapely.union_all(near)) if near else curve
        for piece in shapely.get_parts(rest):
            if piece.length > SAME_CURVE:
                at = shapely.get_coordinates(piece)
                kept.append(np.stack([at[:-1], at[1:]], axis=1))
        drawn.append(curve.buffer(SAME_CURVE))
    return np.concatenate([lines, *kept])


def is_straight(points: np.ndarray) -> bool:
    """Whether all points lie on one line, to 1e-4 mm."""
    middle = points - points.mean(axis=0)
    return bool(np.linalg.svd(middle, compute_uv=False)[1] < 1e-4)


def back_and_forth(points: np.ndarray) -> list[np.ndarray]:
    """A curve seen edge-on as straight runs, cut where it turns back. The runs have the direction of the whole."""
    axis = np.linalg.svd(points - points.mean(axis=0))[2][0]
    along = (points - points[0]) @ axis
    turns = [0, *(np.flatnonzero(np.diff(np.sign(np.diff(along)))) + 1), len(points) - 1]
    return [points[0] + np.outer(along[[a, b]], axis) for a, b in itertools.pairwise(turns)]


def packed(segments: np.ndarray) -> str:
    """Ends in steps, as differences, compressed."""
    steps = np.round(segments.reshape(-1, 4) / STEP).astype("<i4")
    steps = steps[np.lexsort(steps.T[::-1])]
    return base64.b85encode(zlib.compress(np.diff(steps, axis=0, prepend=0).T.astype("<i4").tobytes(), 9)).decode()


def unpacked(text: str) -> np.ndarray:
    """(N, 2, 2) segments."""
    steps = np.frombuffer(zlib.decompress(base64.b85decode(text)), dtype="<i4").reshape(4, -1).T
    return (np.cumsum(steps, axis=0) * STEP).reshape(-1, 2, 2)


def read() -> dict:
    return json.loads(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


def main() -> None:
    kept = read()
    for name in sys.argv[1:] or SCENES:
        one = scene(name)
        if sys.argv[1:] or kept.get(name, {}).get("key") != one.key:
            kept[name] = golden(one)
    FILE.write_text(json.dumps(kept, indent=1, sort_keys=True) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
