"""How the parts of a step come home: which arrive together, how far back along their way they are drawn, and their arrows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.style import ACCENT, MOTION
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import Vector, View
from drawleaf.model.steps import Scene, Step
from drawleaf.solids.build import Solids
from drawleaf.solids.travel import travel_distance

_ARROWS_APART = 6.0
"""Millimetres on paper between two arrows."""
_PULL = 0.16
"""How far a part that moves is drawn from its place, at most, as a share of the scene's size."""


def arriving_together(solids: Solids, scene: Scene) -> list[tuple[Vector, tuple[str, ...]]]:
    """Parts that arrive together: the same way, and joined to one another."""
    groups: list[tuple[Vector, list[str]]] = []
    joined = {frozenset((joint.insert, joint.receiver)) for joint in solids.plan.joints}
    for move in scene.moves:
        touching = [
            group
            for group in groups
            if group[0] == move.direction and any(frozenset((p, move.part)) in joined for p in group[1])
        ]
        parts = [part for group in touching for part in group[1]]
        groups = [group for group in groups if group not in touching]
        groups.append((move.direction, [*parts, move.part]))
    return [(direction, tuple(parts)) for direction, parts in groups]


def arrivals(solids: Solids, step: Step, scene: Scene) -> list[tuple[Vector, tuple[str, ...]]]:
    """What gets an arrow: each part by itself where they come one after the other, else what arrives together."""
    return (
        [(move.direction, (move.part,)) for move in scene.moves]
        if one_by_one(step)
        else arriving_together(solids, scene)
    )


def one_by_one(step: Step) -> bool:
    """Whether its parts come home one after the other, and not all at once."""
    return sum(operation.kind == "join" for operation in step.operations) > 1


def pulled_back(solids: Solids, scene: Scene, shown: Sequence[str]) -> dict[str, Vector]:
    """Parts that arrive are drawn a little back along their way, no further than needed to be clear."""
    size = _scene_size(solids, shown)
    moving = {move.part for move in scene.moves}
    standing = [part for part in shown if part not in moving]
    offsets: dict[str, Vector] = {}
    for direction, parts in arriving_together(solids, scene):
        back = (-direction[0] + 0.0, -direction[1] + 0.0, -direction[2] + 0.0)
        far = _pull(solids, parts, standing, back, size)
        offsets.update(dict.fromkeys(parts, (back[0] * far, back[1] * far, back[2] * far)))
    return offsets


def _pull(solids: Solids, parts: Sequence[str], standing: Sequence[str], back: Vector, size: float) -> float:
    most = _PULL * size
    if sorted(abs(c) for c in back) != [0.0, 0.0, 1.0]:
        return most
    need = travel_distance(solids, parts, standing, back, touching=False)
    return min(most, need + 0.06 * size) if need > 0 else 0.08 * size


def _scene_size(solids: Solids, shown: Sequence[str]) -> float:
    bounds = [box for box in map(solids.box, shown) if box is not None]
    low, high = np.min([b[0] for b in bounds], axis=0), np.max([b[1] for b in bounds], axis=0)
    return float(np.linalg.norm(high - low))


def draw_moves(
    sketch: Sketch,
    solids: Solids,
    work: Linework,
    window: Window,
    groups: Sequence[tuple[Vector, tuple[str, ...]]],
    offsets: Mapping[str, Vector],
) -> list[shapely.LineString]:
    """A bold arrow for each thing that arrives, along the last of its way. Gives the arrows in the view's plane."""
    drawn: list[shapely.LineString] = []
    for direction, parts in groups:
        lines = [
            line
            for place in _arrow_places(solids, parts, direction)
            if (line := _arrow_line(work.view, window, place, offsets[parts[0]])) is not None
        ]
        if not lines:
            continue
        clear = _ARROWS_APART / window.factor
        apart = [one for one in lines if all(one.distance(other) >= clear for other in drawn)] or lines
        others = [work.outline(part) for _, group in groups for part in group if part not in parts]
        line = next((one for one in apart if not any(one.intersects(other) for other in others)), apart[0])
        tail, head = (window.at(*point) for point in line.coords)
        reach = float(np.hypot(head[0] - tail[0], head[1] - tail[1]))
        unit = ((head[0] - tail[0]) / reach, (head[1] - tail[1]) / reach)
        sketch.line(MOTION, tail, (head[0] - unit[0] * 2.5, head[1] - unit[1] * 2.5))
        arrow(sketch, head, tail, length=3.6, half=1.5, color=ACCENT)
        drawn.append(line)
    return drawn


def _arrow_line(view: View, window: Window, place: np.ndarray, offset: Vector) -> shapely.LineString | None:
    """From where a thing is drawn towards its place, 9 to 16 mm on paper; None where it comes straight at the viewer."""
    at, to = (np.array(view.point(_triple(point))) for point in (place + np.array(offset), place))
    length = float(np.hypot(*(to - at))) * window.factor
    if length < 1e-6:
        return None
    return shapely.LineString([at, at + (to - at) * (min(max(length, 9.0), 16.0) / length)])


def _arrow_places(solids: Solids, parts: Sequence[str], direction: Vector) -> list[np.ndarray]:
    """Where an arrow may begin, best first: the middle of what moves, to either side along its longest edge across the way, or a
    little before or behind its middle."""
    bounds = [box for box in map(solids.box, parts) if box is not None]
    if not bounds:
        return []
    low, high = np.min([b[0] for b in bounds], axis=0), np.max([b[1] for b in bounds], axis=0)
    way = np.abs(np.array(direction)) > 0.5
    size = (high - low) * ~way
    across = np.eye(3)[int(size.argmax())] * float(size.max())
    steps = [share * edge for edge in (across, (high - low) * way) for share in (-0.3, 0.3)]
    return [(low + high) / 2 + step for step in (np.zeros(3), *steps)]


def _triple(values: np.ndarray) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))
