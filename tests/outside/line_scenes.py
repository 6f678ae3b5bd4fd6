"""The scenes whose lines are compared with OpenCASCADE's: two example plans and the made-up cabinet, standing and taken apart."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from drawleaf.draw.sight import view as views
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Polyline
from drawleaf.solids.build import Solids, build_solids
from drawleaf.solids.solid import Solid
from outside import cabinet
from outside.recipe import Recipe, of_part
from outside.recipe_own import solid_of
from solids_scene import PLANS, example, plan

SCENES = (*PLANS, "cabinet")
POSES = ("assembled", "exploded")
VIEWS = (
    *views.ELEVATIONS,
    views.BACK,
    views.LEFT,
    views.PICTORIAL,
    views.PICTORIAL_LEFT,
    views.PICTORIAL_BACK,
    views.ISOMETRIC,
)
"""Nine standard views."""

Triple = tuple[float, float, float]
Array = np.ndarray


@dataclass(frozen=True, eq=False)
class Scene:
    """Parts under their names, as recipes (for OpenCASCADE) and as our solids."""

    name: str
    recipes: tuple[Recipe, ...]
    bodies: dict[str, Solid]
    store: Solids

    @cached_property
    def apart(self) -> dict[str, Triple]:
        """How far each part moves when all are taken apart."""
        return taken_apart(self.bodies)

    def lines(self, view: views.View, pose: str) -> tuple[Polyline, ...]:
        offsets = self.apart if pose == "exploded" else None
        return project(self.store, view, (), offsets, self.bodies).visible

    @property
    def key(self) -> str:
        """Changes when any size, place or cut of the scene changes."""
        return hashlib.sha256(repr(self.recipes).encode()).hexdigest()[:16]


@cache
def scene(name: str) -> Scene:
    if name == "cabinet":
        recipes = tuple(cabinet.recipes())
        return Scene(name, recipes, {one.name: solid_of(one) for one in recipes}, build_solids(plan()))
    resolved = example(name)
    store = build_solids(resolved)
    return Scene(
        name, tuple(map(of_part, resolved.parts)), {one.id: store.solid(one.id) for one in resolved.parts}, store
    )


def taken_apart(bodies: dict[str, Solid], gap: float = 17.0) -> dict[str, Triple]:
    """Every part pushed away from the middle, along the axis on which it stands farthest out, until it is clear of those before it."""
    boxes = {name: solid.bounds for name, solid in bodies.items()}
    middle = np.array(list(boxes.values())).mean(axis=(0, 1))
    placed: list[Array] = []
    offsets: dict[str, Triple] = {}
    for name in sorted(boxes, key=lambda one: (round(float(np.abs(boxes[one].mean(axis=0) - middle).max()), 3), one)):
        away = boxes[name].mean(axis=0) - middle
        axis = int(np.argmax(np.abs(away)))
        step = np.zeros(3)
        step[axis] = 7.0 if away[axis] >= 0 else -7.0
        shift = np.zeros(3)
        while any(_near(boxes[name] + shift, other, gap) for other in placed):
            shift = shift + step
        placed.append(boxes[name] + shift)
        offsets[name] = (float(shift[0]), float(shift[1]), float(shift[2]))
    return offsets


def _near(one: Array, other: Array, gap: float) -> bool:
    return bool(((one[0] < other[1] + gap) & (other[0] < one[1] + gap)).all())


def segments_of(lines: Sequence[Polyline]) -> Array:
    """(N, 2, 2)."""
    return np.concatenate([np.stack([line.points[:-1], line.points[1:]], axis=1) for line in lines])


def length_of(segments: Array) -> float:
    return float(np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1).sum())
