"""Where clamps press: a pad and a wedge on either side of the joint, along it as many times as the step asks for clamps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from drawleaf.derive.shop.clamps import press_axis
from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.style import CLAMP, INK
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import Vector, View
from drawleaf.model.plan import Joint
from drawleaf.model.steps import Scene, Step
from drawleaf.solids.build import Solids

_MOST = 6
_PAD, _LONG = 1.7, 5.0


@dataclass(frozen=True, slots=True)
class Press:
    """Where a clamp's jaw presses: a place on the outside of the work, and the direction in which it presses."""

    place: Vector
    toward: Vector


def presses(step: Step, scene: Scene, solids: Solids, offsets: Mapping[str, Vector]) -> list[Press]:
    """Both jaws of every clamp, on the outer faces of what the step's glued joints hold together in the ``scene``; none where the step asks
    for no clamps."""
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
    found: list[Press] = []
    per = max(1, count // len(chosen))
    for joint in chosen[: max(1, count)]:
        found += _joint_presses(joint, axis, per, solids, offsets, shown)
    return list(dict.fromkeys(found))


def _run(joint: Joint) -> float:
    return max(joint.contact.extent(axis).mm for axis in joint.face.axis.others())


def _joint_presses(
    joint: Joint, axis: int, count: int, solids: Solids, offsets: Mapping[str, Vector], shown: Sequence[str]
) -> list[Press]:
    low, high = (
        np.array([end.mm for end in ends]) for ends in zip(*((s.low, s.high) for s in _spans(joint)), strict=True)
    )
    run = int(np.argmax(high - low))
    found: list[Press] = []
    for k in range(count):
        place = (low + high) / 2
        place[run] = low[run] + (high[run] - low[run]) * (k + 0.5) / count
        ends: list[tuple[float, str]] = []
        for part in shown:
            body = solids.body(part)
            if body is None:
                continue
            inside = all(body.bounds[0][i] - 1 <= place[i] <= body.bounds[1][i] + 1 for i in range(3) if i != axis)
            if inside:
                ends += [(float(body.bounds[0][axis]), part), (float(body.bounds[1][axis]), part)]
        if len(ends) < 2:
            continue
        for sign, (level, part) in ((1.0, min(ends)), (-1.0, max(ends))):
            at = place.copy()
            at[axis] = level
            at += np.array(offsets.get(part, (0.0, 0.0, 0.0)))
            toward = [0.0, 0.0, 0.0]
            toward[axis] = sign
            found.append(Press((float(at[0]), float(at[1]), float(at[2])), (toward[0], toward[1], toward[2])))
    return found


def _spans(joint: Joint):  # type: ignore[no-untyped-def]
    return (joint.contact.x, joint.contact.y, joint.contact.z)


def draw_presses(sketch: Sketch, view: View, window: Window, found: Sequence[Press]) -> None:
    """A short bar across the end of a wedge that points at the work, drawn just outside it."""
    for tip, away in _wedges(view, window, found):
        wedge(sketch, tip, away)


def press_boxes(view: View, window: Window, found: Sequence[Press]) -> list[Rect]:
    """The box on paper (mm) about each of the marks."""
    boxes = []
    for (x, y), (u, v) in _wedges(view, window, found):
        ends = ((x, y), *((x + u * _LONG - s * v * _PAD, y + v * _LONG + s * u * _PAD) for s in (-1.0, 1.0)))
        xs, ys = zip(*ends, strict=True)
        boxes.append((min(xs), min(ys), max(xs), max(ys)))
    return boxes


def _wedges(view: View, window: Window, found: Sequence[Press]) -> Iterator[tuple[Pt, Pt]]:
    """The point of each wedge and the unit direction away from the work; none for a clamp that presses straight at the eye."""
    for press in found:
        at = window.point(view, press.place)
        far = tuple(p - t * 100.0 for p, t in zip(press.place, press.toward, strict=True))
        back = window.point(view, (far[0], far[1], far[2]))
        du, dv = back[0] - at[0], back[1] - at[1]
        size = (du * du + dv * dv) ** 0.5
        if size >= 1e-6:
            unit = (du / size, dv / size)
            yield (at[0] + unit[0] * 0.4, at[1] + unit[1] * 0.4), unit


def wedge(sketch: Sketch, tip: Pt, away: Pt) -> None:
    """A clamp's jaw: a wedge with its point at ``tip``, a bar across its end, in the unit direction ``away`` from the work."""
    tail: Pt = (tip[0] + away[0] * _LONG, tip[1] + away[1] * _LONG)
    arrow(sketch, tip, tail, length=_LONG - 1.0, half=1.1, color=INK)
    sketch.line(
        CLAMP,
        (tail[0] - away[1] * _PAD, tail[1] + away[0] * _PAD),
        (tail[0] + away[1] * _PAD, tail[1] - away[0] * _PAD),
    )
