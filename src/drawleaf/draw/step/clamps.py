"""Clamps on the work in a step's picture: a bar, a fixed jaw, a sliding jaw with its screw, from one outer face of the work to the other,
as many as the step asks for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold
from numpy.typing import NDArray

from drawleaf.derive.shop.clamps import press_axis
from drawleaf.draw.paper.style import CLAMP_EDGE, CLAMP_FILL
from drawleaf.draw.paper.svg import Poly, Pt, Sketch
from drawleaf.draw.picture.picture import Window, paint_lines
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import Vector, View
from drawleaf.model.plan import Joint
from drawleaf.model.steps import Scene, Step
from drawleaf.solids.build import Solids
from drawleaf.solids.cutters import block
from drawleaf.solids.solid import Solid

Floats = NDArray[np.float64]

_MOST = 6
_HAIR = 1.0
"""Millimetres: half the width of the line along which a clamp is held against the work; and how far two jaws may be out of line."""
_WIDE, _NARROWEST, _WIDEST = 0.022, 8.0, 30.0
"""How wide a jaw is, as a share of the scene's size, and at least and at most (mm of the piece)."""
_DIGS = 0.03
"""A clamp of which more than this share would lie within the work is turned to another side, where there is one."""
_AWAY = 0.05
"""A bar lies on a side of the work that is turned to the eye at least so much."""


@dataclass(frozen=True, slots=True)
class Press:
    """Where a clamp's jaw presses: a place on the outside of the work, and the direction in which it presses."""

    place: Vector
    toward: Vector


CLAMP_BODY = tuple[str, Solid]
"""A clamp where it is drawn, with an id of its own in the drawing."""


def presses(step: Step, scene: Scene, solids: Solids, offsets: Mapping[str, Vector]) -> list[Press]:
    """Both jaws of every clamp, one after the other, on the outer faces of what the step's glued joints hold together in the ``scene``; none
    where the step asks for no clamps."""
    if not step.clamps:
        return []
    shown = (*scene.standing, *scene.new)
    count = min(_MOST, max(use.count for use in step.clamps))
    joints = [
        joint
        for operation in step.operations
        if any(tool.clamp is not None for tool in operation.method.tools)
        for joint in operation.joints
        if joint.glued and joint.insert in shown and joint.receiver in shown
    ]
    if not joints:
        return []
    axes = {joint.id: press_axis(solids.plan, joint).index for joint in joints}
    axis = max(set(axes.values()), key=lambda axis: sum(_run(joint) for joint in joints if axes[joint.id] == axis))
    chosen = [joint for joint in joints if axes[joint.id] == axis]
    found: dict[tuple[Press, Press], None] = {}
    per = max(1, count // len(chosen))
    for joint in chosen[: max(1, count)]:
        found |= dict.fromkeys(_joint_presses(joint, axis, per, solids, offsets, shown))
    return [press for pair in found for press in pair]


def _run(joint: Joint) -> float:
    return max(joint.contact.extent(axis).mm for axis in joint.face.axis.others())


def _joint_presses(
    joint: Joint, axis: int, count: int, solids: Solids, offsets: Mapping[str, Vector], shown: Sequence[str]
) -> list[tuple[Press, Press]]:
    spans = (joint.contact.x, joint.contact.y, joint.contact.z)
    low, high = (np.array([end.mm for end in ends]) for ends in zip(*((s.low, s.high) for s in spans), strict=True))
    run = int(np.argmax(high - low))
    found: list[tuple[Press, Press]] = []
    for k in range(count):
        place = (low + high) / 2
        place[run] = low[run] + (high[run] - low[run]) * (k + 0.5) / count
        met = {part: ends for part in shown if (ends := _met(solids, part, place, axis)) is not None}
        if not met:
            continue
        first, last = min(met, key=lambda part: (met[part][0], part)), max(met, key=lambda part: (met[part][1], part))
        jaws = ((1.0, met[first][0], first), (-1.0, met[last][1], last))
        found.append((_jaw(place, axis, jaws[0], offsets), _jaw(place, axis, jaws[1], offsets)))
    return found


def _jaw(place: Floats, axis: int, jaw: tuple[float, float, str], offsets: Mapping[str, Vector]) -> Press:
    sign, level, part = jaw
    at, toward = place.copy(), np.zeros(3)
    at[axis], toward[axis] = level, sign
    return Press(_triple(at + np.array(offsets.get(part, (0.0, 0.0, 0.0)))), _triple(toward))


def _met(solids: Solids, part: str, place: Floats, axis: int) -> tuple[float, float] | None:
    """From where to where a line through a place meets a part (mm along the axis); None where it passes it by. A leaning part is met where
    it is, and not where its box ends."""
    box = solids.box(part)
    if box is None or any(not box[0][i] - _HAIR <= place[i] <= box[1][i] + _HAIR for i in range(3) if i != axis):
        return None
    low, high = place - _HAIR, place + _HAIR
    low[axis], high[axis] = box[0][axis] - _HAIR, box[1][axis] + _HAIR
    body = solids.body(part)
    assert body is not None
    inside = body.manifold ^ block(low, high)
    if inside.is_empty():
        return None
    bounds = inside.bounding_box()
    return (bounds[axis], bounds[3 + axis])


def clamp_bodies(
    held: Sequence[Press], solids: Solids, view: View, shown: Sequence[str], offsets: Mapping[str, Vector]
) -> list[CLAMP_BODY]:
    """A clamp from jaw to jaw of each pair, its bar on the side of the work that faces the eye; none where parts drawn on their way leave
    no straight line from jaw to jaw."""
    boxes = [box + np.array(offsets.get(one, (0.0, 0.0, 0.0))) for one in shown if (box := solids.box(one)) is not None]
    if not held or not boxes:
        return []
    size = float(np.linalg.norm(np.max([b[1] for b in boxes], axis=0) - np.min([b[0] for b in boxes], axis=0)))
    wide = min(max(_WIDE * size, _NARROWEST), _WIDEST)
    found: list[CLAMP_BODY] = []
    for number, (first, last) in enumerate(zip(held[::2], held[1::2], strict=True)):
        axis = int(np.argmax(np.abs(first.toward)))
        ends = _in_line(np.array(first.place), np.array(last.place), axis, boxes)
        if ends is None:
            continue
        ways = [
            (far, _clamp(*ends, axis, other, sign, far, wide))
            for far, other, sign in _ways_out(*ends, axis, view, boxes, wide)
        ]
        if ways:
            cut = [_cut_into(one, solids, shown, offsets) > _DIGS * one.volume() for _, one in ways]
            best = min(range(len(ways)), key=lambda way: (cut[way], ways[way][0]))
            found.append((f"clamp {number}", Solid(ways[best][1])))
    return found


def _cut_into(clamp: Manifold, solids: Solids, shown: Sequence[str], offsets: Mapping[str, Vector]) -> float:
    """How much of a clamp lies within the work, in mm³."""
    bounds = np.array(clamp.bounding_box()).reshape(2, 3)
    total = 0.0
    for one in shown:
        off = np.array(offsets.get(one, (0.0, 0.0, 0.0)))
        box = solids.box(one)
        if box is None or (box[0] + off >= bounds[1]).any() or (box[1] + off <= bounds[0]).any():
            continue
        body = solids.body(one)
        assert body is not None
        total += (clamp ^ body.manifold.translate(off.tolist())).volume()
    return total


def _in_line(low: Floats, high: Floats, axis: int, boxes: Sequence[Floats]) -> tuple[Floats, Floats] | None:
    """The ends of a clamp that lies straight: where parts drawn on their way stand beside each other, at one of the two or between them, as
    long as both jaws still meet a part there."""
    across = [i for i in range(3) if i != axis]
    for place in (low, high, (low + high) / 2):
        ends = low.copy(), high.copy()
        for end in ends:
            end[across] = place[across]
        if all(
            any(
                abs(box[side][axis] - end[axis]) <= _HAIR
                and all(box[0][i] - _HAIR <= end[i] <= box[1][i] + _HAIR for i in across)
                for box in boxes
            )
            for side, end in enumerate(ends)
        ) or np.array_equal(low[across], high[across]):
            return ends
    return None


def _ways_out(
    low: Floats, high: Floats, axis: int, view: View, boxes: Sequence[Floats], wide: float
) -> list[tuple[float, int, float]]:
    """The ways for a bar to lie off the work on a side that faces the eye: how far from where the jaws press, along which axis, and to which
    side."""
    ways: list[tuple[float, int, float]] = []
    for other in (i for i in range(3) if i != axis):
        if abs(view.axes[2][other]) <= _AWAY:
            continue
        sign = 1.0 if view.axes[2][other] > 0 else -1.0
        third = 3 - axis - other
        near = [
            box
            for box in boxes
            if box[0][third] - wide < low[third] < box[1][third] + wide
            and box[0][axis] <= high[axis] + 3.0 * wide
            and box[1][axis] >= low[axis] - wide
        ]
        ends = [sign * (box[1 if sign > 0 else 0][other] - low[other]) for box in near]
        ways.append((max(0.0, *ends) + 0.6 * wide if ends else 0.6 * wide, other, sign))
    return ways


def _clamp(low: Floats, high: Floats, axis: int, other: int, sign: float, far: float, wide: float) -> Manifold:
    """The clamp: its sizes follow from the width of its jaws."""
    third = 3 - axis - other
    start, end = float(low[axis]), float(high[axis])

    def piece(along: tuple[float, float], out: tuple[float, float], half: float) -> Manifold:
        ends = np.zeros((2, 3))
        ends[:, axis] = along
        ends[:, other] = sorted(low[other] + sign * np.array(out))
        ends[:, third] = low[third] - half, low[third] + half
        return block(ends[0], ends[1])

    bar = (far, far + 0.8 * wide)
    slide = end + 1.3 * wide
    pieces = (
        piece((start - 0.7 * wide, slide + 1.6 * wide), bar, 0.25 * wide),
        piece((start - 0.7 * wide, start), (-0.5 * wide, bar[1]), 0.5 * wide),
        piece((slide, slide + 0.7 * wide), (-0.5 * wide, bar[1] + 0.2 * wide), 0.5 * wide),
        piece((end, end + 0.3 * wide), (-0.45 * wide, 0.45 * wide), 0.45 * wide),
        piece((end + 0.3 * wide, slide + 1.6 * wide), (-0.17 * wide, 0.17 * wide), 0.17 * wide),
        piece((slide + 1.6 * wide, slide + 3.0 * wide), (-0.3 * wide, 0.3 * wide), 0.3 * wide),
    )
    whole = pieces[0]
    for one in pieces[1:]:
        whole = whole + one
    return whole


def clamp_tints(placed: Sequence[CLAMP_BODY]) -> dict[str, str]:
    return {an_id: CLAMP_FILL for an_id, _ in placed}


def paint_clamps(sketch: Sketch, work: Linework, window: Window, placed: Sequence[CLAMP_BODY]) -> None:
    """Their edges. Faces are filled with all others."""
    paint_lines(sketch, work.visible, window, CLAMP_EDGE, frozenset(an_id for an_id, _ in placed))


def clamp_sign(sketch: Sketch, at: Pt) -> None:
    """A small clamp, for the legend."""
    x, y = at
    rings = (
        _box(x - 3.4, y + 0.6, x + 3.4, y + 1.4),
        _box(x - 3.0, y - 1.6, x - 2.0, y + 1.4),
        _box(x + 1.2, y - 1.6, x + 2.2, y + 1.4),
        _box(x + 0.2, y - 1.3, x + 3.4, y - 0.7),
    )
    for ring in rings:
        sketch.fill(CLAMP_FILL, ring, name="clamp")
        sketch.shape(CLAMP_EDGE, ring)


def _box(left: float, top: float, right: float, bottom: float) -> Poly:
    return Poly(((left, top), (right, top), (right, bottom), (left, bottom)), closed=True)


def _triple(values: Iterable[float]) -> Vector:
    x, y, z = (float(value) for value in values)
    return (x, y, z)
