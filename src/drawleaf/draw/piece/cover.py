"""The cover picture: the whole piece, shaded, from its best side, with a soft shadow on the floor or wall."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.style import PICTURE_EDGE, PICTURE_OUTLINE, SHADOWS
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.paper.words import size_words
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import Window, paint_faces, paint_lines, paint_outline, rings, window_fitting
from drawleaf.draw.piece.shown import METAL, everything, tints
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import PICTORIAL, PICTORIAL_LEFT, View
from drawleaf.draw.sight.viewpoint import areas_seen
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids

_WIDTH, _HEIGHT, _EDGE = 170.0, 150.0, 3.0
_SOFT = (2.6, 1.7, 0.9, 0.2, -0.6, -1.5)
"""Millimetres on paper by which the rings of the shadow, palest first, reach past its edge: its rim is soft."""
_SHADOW_THROW = 0.22
"""How far the shadow reaches to the side away from the light, as a share of the piece's height."""


def draw_cover(derived: Derived, solids: Solids) -> Drawing:
    """The cover drawing."""
    plan = derived.plan
    shown = everything(plan)
    work = project(solids, showing_most(solids, shown, (PICTORIAL_LEFT, PICTORIAL)), shown)
    shadow = _shadow(solids, work, shown)
    bounds = work.bounds if shadow.is_empty else shapely.union(shadow, shapely.box(*work.bounds)).bounds
    factor = min((_WIDTH - 2 * _EDGE) / (bounds[2] - bounds[0]), (_HEIGHT - 2 * _EDGE) / (bounds[3] - bounds[1]))
    height = (bounds[3] - bounds[1]) * factor + 2 * _EDGE
    window = window_fitting(bounds, (_EDGE, _EDGE, _WIDTH - _EDGE, height - _EDGE))
    sketch = Sketch()
    if not shadow.is_empty:
        for spread, color in zip(_SOFT, SHADOWS, strict=True):
            soft = shadow.buffer(spread / window.factor)
            sketch.fill(color, *rings(soft, window), name="shadow")
    paint_piece(sketch, work, window, plan)
    alt = f"{plan.about.title}, finished, seen from the front and a little above. It is {size_words(plan.lengths, derived.overall)}."
    return Drawing(
        "cover",
        "cover",
        plan.about.title,
        write(sketch, _WIDTH, height, plan.about.title, alt),
        alt,
        _WIDTH,
        height,
        None,
        tuple(sketch.panes),
    )


def paint_piece(sketch: Sketch, work: Linework, window: Window, plan: Plan) -> None:
    """Shaded faces with narrow edges over them and a wide outline round all."""
    show(sketch, work, window)
    paint_faces(sketch, work, window, tints(plan), METAL)
    paint_lines(sketch, work.visible, window, PICTURE_EDGE)
    paint_outline(sketch, work, window, work.shown, PICTURE_OUTLINE)


def showing_most(solids: Solids, shown: tuple[str, ...], views: tuple[View, ...]) -> View:
    """The view in which most parts show well: each part counts by the share of its largest face that can be seen, up to a third."""

    def merit(view: View) -> float:
        seen = areas_seen(solids, view, shown)
        return round(sum(min(1.0, 3.0 * area / _largest_face(solids, part)) for part, area in seen.items()), 1)

    return max(views, key=merit)


def _largest_face(solids: Solids, part: str) -> float:
    box = solids.box(part)
    assert box is not None
    sizes = sorted((box[1] - box[0]).tolist())
    return max(sizes[1] * sizes[2], 1e-9)


def _shadow(solids: Solids, work: Linework, shown: tuple[str, ...]) -> BaseGeometry:
    """What the piece shades on the floor it stands on, as seen: its footprint thrown to the right and back; on the wall for a piece
    that hangs. Soft because it is pale and rounded."""
    bodies = [body for body in (solids.body(part) for part in shown) if body is not None]
    if solids.plan.hangs:
        return _wall_shadow(work, [body.mesh.vertices for body in bodies])
    floor = min(float(body.bounds[0, 2]) for body in bodies)
    thrown = []
    for body in bodies:
        points = body.mesh.vertices
        rise = (points[:, 2] - floor)[:, None] * np.array([[_SHADOW_THROW, _SHADOW_THROW, 0.0]])
        flat = np.column_stack([points[:, :2], np.full(len(points), floor)]) + rise
        thrown.append(shapely.MultiPoint(work.view.on_paper(flat)).convex_hull)
    return shapely.union_all(thrown).buffer(12.0).buffer(-6.0)


def _wall_shadow(work: Linework, bodies: list[np.ndarray]) -> BaseGeometry:
    """The shadow on the wall behind: thrown to the right and down by how far each point stands off the wall."""
    wall = max(float(points[:, 1].max()) for points in bodies)
    thrown = []
    for points in bodies:
        off = wall - points[:, 1]
        flat = np.column_stack([points[:, 0] + 0.5 * off, np.full(len(points), wall), points[:, 2] - 0.65 * off])
        thrown.append(shapely.MultiPoint(work.view.on_paper(flat)).convex_hull)
    return shapely.union_all(thrown).buffer(4.0).buffer(-4.0)
