"""Hinges, knobs, feet and fasteners as plain shapes for the drawings, each inside the room that its fitting takes."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from manifold3d import Manifold

from drawleaf.model.hardware_family import (
    BOLTED_PULL,
    BUTT_HINGE,
    CASTOR,
    CONCEALED_HINGE,
    CORNER_BRACKET,
    HOOK,
    INSET_MAGNET,
    LEVELLER,
    LID_STAY,
    PIANO_HINGE,
    PULL,
    SLIDES,
    TOP_FASTENER,
    UNDERMOUNT_SLIDES,
    WALL_SCREW,
    HardwareFamily,
)
from drawleaf.model.plan import Fitting
from drawleaf.solids.cutters import block, cylinder, triple
from drawleaf.solids.mounted_bodies import cup_pull, hook, screw_head, slide
from drawleaf.solids.solid import Curve, Floats, Solid


def leaf_hinge(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """Two leaves face to face, and the knuckle before them."""
    out = fitting.face.axis.index
    run = int(np.argmax(np.where(np.arange(3) == out, -1.0, high - low)))
    across = 3 - out - run
    pin = min((fitting.item.measure("pin") or fitting.body.extent(fitting.face.axis)).mm, (high - low)[out])  # type: ignore[union-attr]
    leaf = fitting.item.measure("leaf")
    folded = fitting.item.measure("folded")
    middle = (low + high) / 2.0
    ahead = middle[across] > fitting.at.mm[across]
    leaves_low, leaves_high = low.copy(), high.copy()
    (leaves_high if ahead else leaves_low)[across] += -pin if ahead else pin
    thick = folded.mm if folded else (high - low)[out]
    leaves_low[out], leaves_high[out] = middle[out] - thick / 2.0, middle[out] + thick / 2.0
    body = block(leaves_low, leaves_high)
    if leaf is not None and thick - 2.0 * leaf.mm > 0.05:
        slit_low, slit_high = leaves_low - 1.0, leaves_high + 1.0
        slit_low[out], slit_high[out] = leaves_low[out] + leaf.mm, leaves_high[out] - leaf.mm
        (slit_high if ahead else slit_low)[across] = (leaves_high if ahead else leaves_low)[across]
        body -= block(slit_low, slit_high)
    start = middle.copy()
    start[run] = low[run]
    start[across] = (high[across] - pin / 2.0) if ahead else (low[across] + pin / 2.0)
    knuckle, curve = cylinder(start, _unit(run, 1.0), pin / 2.0, float((high - low)[run]))
    return Solid(body + knuckle, (curve,))


def cup_hinge(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A plate on the side, and an arm from it to the cup in the door."""
    out, side = fitting.face.axis.index, fitting.face.side
    run = _run_of_cup(fitting, low, high)
    deep = 3 - out - run
    size = high - low
    plate_low, plate_high = low.copy(), high.copy()
    if side > 0:
        plate_high[out] = low[out] + min(6.0, size[out] / 2.0)
    else:
        plate_low[out] = high[out] - min(6.0, size[out] / 2.0)
    back = fitting.at.mm[deep] > (low + high)[deep] / 2.0
    if back:
        plate_low[deep] = max(low[deep], high[deep] - 40.0)
    else:
        plate_high[deep] = min(high[deep], low[deep] + 40.0)
    arm_low, arm_high = low.copy(), high.copy()
    arm_low[run] += size[run] * 0.32
    arm_high[run] -= size[run] * 0.32
    return Solid(block(plate_low, plate_high) + block(arm_low, arm_high))


def _run_of_cup(fitting: Fitting, low: Floats, high: Floats) -> int:
    """Along the pin the fitting sits in the middle of its room; across it the plate does not."""
    out = fitting.face.axis.index
    middle = (low + high) / 2.0
    others = [axis for axis in range(3) if axis != out]
    return min(others, key=lambda axis: abs(fitting.at.mm[axis] - middle[axis]))


def bolted_pull(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A bar on two posts, or a round knob on a neck."""
    out, side = fitting.face.axis.index, float(fitting.face.side)
    size = high - low
    middle = (low + high) / 2.0
    base = middle.copy()
    base[out] = low[out] if side > 0 else high[out]
    spacing = fitting.item.measure("spacing")
    if spacing is not None:
        run = int(np.argmax(np.where(np.arange(3) == out, -1.0, size)))
        thick = size[3 - out - run]
        bar_low, bar_high = low.copy(), high.copy()
        if side > 0:
            bar_low[out] = high[out] - thick
        else:
            bar_high[out] = low[out] + thick
        body, curves = block(bar_low, bar_high), []
        for way in (-1.0, 1.0):
            foot = base.copy()
            foot[run] += way * spacing.mm / 2.0
            post, curve = cylinder(foot, _unit(out, side), thick * 0.4, float(size[out]) - thick / 2.0)
            body += post
            curves.append(curve)
        return Solid(body, tuple(curves))
    radius = float(min(size[axis] for axis in range(3) if axis != out)) / 2.0
    neck, curve = cylinder(base, _unit(out, side), radius * 0.45, float(size[out]) * 0.6)
    stretch = [1.0, 1.0, 1.0]
    stretch[out] = float(size[out]) * 0.3 / radius
    centre = base.copy()
    centre[out] += side * float(size[out]) * 0.7
    head = Manifold.sphere(radius, 32).scale((stretch[0], stretch[1], stretch[2])).translate(triple(centre))
    head = head.as_original()
    return Solid(neck + head, (curve, Curve(head.original_id(), (0.0, 0.0, 0.0))))


def leveller(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A bolt with a round foot."""
    size, middle = high - low, (low + high) / 2.0
    bottom = middle.copy()
    bottom[2] = low[2]
    foot, rim = cylinder(bottom, (0.0, 0.0, 1.0), float(min(size[0], size[1])) / 2.0, min(6.0, size[2] / 2.0))
    bolt, shank = cylinder(bottom, (0.0, 0.0, 1.0), 4.0, float(size[2]))
    return Solid(foot + bolt, (rim, shank))


def castor(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A plate, a fork that trails, and a wheel."""
    size, middle = high - low, (low + high) / 2.0
    plate_low, plate_high = low.copy(), high.copy()
    plate_low[2] = high[2] - 3.0
    sides = [side.mm for name in ("plate long", "plate wide") if (side := fitting.item.measure(name))]
    deep = next((side for side in sides if abs(side - size[0]) > 0.5), size[1])
    plate_low[1], plate_high[1] = middle[1] - deep / 2.0, middle[1] + deep / 2.0
    wheel = fitting.item.measure("wheel")
    radius = (wheel.mm if wheel else 0.75 * size[2]) / 2.0
    axle = middle.copy()
    axle[1] += 0.3 * radius
    axle[2] = low[2] + radius
    hub, curve = cylinder(axle - np.array([11.0, 0.0, 0.0]), (1.0, 0.0, 0.0), radius, 22.0)
    body = block(plate_low, plate_high) + hub
    for way in (-13.0, 13.0):
        cheek_low = np.array([middle[0] + way - 1.5, middle[1] - 12.0, axle[2] - 8.0])
        cheek_high = np.array([middle[0] + way + 1.5, axle[1] + 8.0, high[2] - 3.0])
        body += block(cheek_low, cheek_high)
    return Solid(body, (curve,))


def magnet(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A disc with a hole through its middle."""
    out = fitting.face.axis.index
    size, start = high - low, (low + high) / 2.0
    start[out] = low[out]
    radius = float(min(size[axis] for axis in range(3) if axis != out)) / 2.0
    disc, rim = cylinder(start, _unit(out, 1.0), radius, float(size[out]))
    before = start.copy()
    before[out] -= 1.0
    hole, bore = cylinder(before, _unit(out, 1.0), radius * 0.25, float(size[out]) + 2.0)
    return Solid(disc - hole, (rim, bore))


def corner_bracket(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """Two legs at a right angle: one on the face, one on the part that stands on it."""
    out, side = fitting.face.axis.index, fitting.face.side
    thick = (fitting.item.measure("thick") or fitting.body.extent(fitting.face.axis) / 20).mm  # type: ignore[union-attr]
    first_low, first_high = low.copy(), high.copy()
    (first_high if side > 0 else first_low)[out] = (low[out] + thick) if side > 0 else (high[out] - thick)
    at = np.array(fitting.at.mm)
    others = [axis for axis in range(3) if axis != out]
    corner = min(others, key=lambda axis: min(abs(at[axis] - low[axis]), abs(at[axis] - high[axis])))
    second_low, second_high = low.copy(), high.copy()
    if abs(at[corner] - low[corner]) < abs(at[corner] - high[corner]):
        second_high[corner] = low[corner] + thick
    else:
        second_low[corner] = high[corner] - thick
    return Solid(block(first_low, first_high) + block(second_low, second_high))


def top_fastener(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A figure of eight, or a stepped clip."""
    out, side = fitting.face.axis.index, float(fitting.face.side)
    size, middle = high - low, (low + high) / 2.0
    across = fitting.item.measure("across")
    if across is not None:
        body, curves = Manifold(), []
        for place in (low[out] + across.mm / 2.0, high[out] - across.mm / 2.0):
            spot = middle.copy()
            spot[out], spot[2] = place, low[2]
            disc, rim = cylinder(spot, (0.0, 0.0, 1.0), across.mm / 2.0, float(size[2]))
            body += disc
            curves.append(rim)
        return Solid(body, tuple(curves))
    slot = (fitting.item.measure("slot") or fitting.body.extent(fitting.face.axis) / 8).mm  # type: ignore[union-attr]
    tongue_low, tongue_high = low.copy(), high.copy()
    tongue_high[2] = low[2] + slot
    foot_low, foot_high = low.copy(), high.copy()
    half = low[out] + size[out] * 0.4 if side > 0 else high[out] - size[out] * 0.4
    (foot_low if side > 0 else foot_high)[out] = half
    if slot < 6.0:
        foot_low[2] = high[2] - slot
        web_low, web_high = low.copy(), high.copy()
        web_low[out], web_high[out] = half - slot / 2.0, half + slot / 2.0
        (tongue_high if side > 0 else tongue_low)[out] = half
        return Solid(block(tongue_low, tongue_high) + block(foot_low, foot_high) + block(web_low, web_high))
    return Solid(block(tongue_low, tongue_high) + block(foot_low, foot_high))


def lid_stay(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A housing on the side, and an arm that lies along it."""
    size = high - low
    house_low, house_high = low.copy(), high.copy()
    house_high[1] = low[1] + 0.45 * size[1]
    house_high[2] = high[2] - 0.25 * size[2]
    arm_low = low.copy()
    arm_low[2] = high[2] - 0.25 * size[2]
    return Solid(block(house_low, house_high) + block(arm_low, high))


def _unit(axis: int, side: float) -> tuple[float, float, float]:
    vector = [0.0, 0.0, 0.0]
    vector[axis] = side
    return (vector[0], vector[1], vector[2])


SHAPES: dict[HardwareFamily, Callable[[Fitting, Floats, Floats], Solid]] = {
    BUTT_HINGE: leaf_hinge,
    PIANO_HINGE: leaf_hinge,
    CONCEALED_HINGE: cup_hinge,
    BOLTED_PULL: bolted_pull,
    LEVELLER: leveller,
    CASTOR: castor,
    INSET_MAGNET: magnet,
    CORNER_BRACKET: corner_bracket,
    TOP_FASTENER: top_fastener,
    LID_STAY: lid_stay,
    HOOK: hook,
    PULL: cup_pull,
    SLIDES: slide,
    UNDERMOUNT_SLIDES: slide,
    WALL_SCREW: screw_head,
}
"""The shape of each family; the others are drawn as the block that they take."""
