"""What moves in use, and along which axis: doors and lids about their pins, drawers along their slides, loose shelves the way that is free."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drawleaf.derive.assembly.groups import Body, bodies_of
from drawleaf.draw.turnable.shapes import rounded
from drawleaf.model.plan import Fitting, Plan
from drawleaf.model.steps import Step
from drawleaf.model.turnable import Opening, Vector
from drawleaf.setting_out.hinging import carriers, is_hinge, pin_axis, runs_on_slides, way_home
from drawleaf.solids.build import Solids
from drawleaf.solids.travel import free_directions, travel_distance

SWING = 95.0
"""Degrees that a door or lid is opened: a little beyond square, as hinges stop."""
DRAWN = 0.8
"""How far a drawer is pulled, as a share of its depth: it still hangs in its slides."""
_CLEAR = 40.0
"""Millimetres that a shelf is brought beyond all that stands beside it."""
_LIKED = ((0.0, -1.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, -1.0))
"""A loose thing is taken out to the front, else upwards, where it can be."""


def openings(solids: Solids, steps: Sequence[Step] = ()) -> tuple[Opening, ...]:
    """All that opens, in source order; what cannot get out by itself is left out. What lies loose goes out as it came in in the ``steps``."""
    plan = solids.plan
    found: list[Opening] = []
    bodies = [body for body in bodies_of(plan) if body.loose]
    hung: dict[str, list[Body]] = {}
    for body in bodies:
        hung.setdefault(body.assembly if body.carried else body.id, []).append(body)
    for an_id, together in hung.items():
        parts = tuple(part for body in together for part in body.parts)
        carrying = carriers(plan, together[0].assembly) if together[0].carried else ()
        going = (*parts, *_mounted(plan, parts))
        one = _hung(plan, an_id, going, parts, carrying) if carrying else _lifted(solids, steps, an_id, going, parts)
        if one is not None:
            found.append(one)
    return tuple(found)


def _mounted(plan: Plan, parts: Sequence[str]) -> tuple[str, ...]:
    """What is screwed to these parts alone, and goes with them."""
    return tuple(one.id for one in plan.fittings if one.parts and set(one.parts) <= set(parts))


def _hung(
    plan: Plan, an_id: str, going: tuple[str, ...], parts: Sequence[str], carrying: Sequence[Fitting]
) -> Opening | None:
    home = way_home(plan, carrying[0].moving or "")
    if home is None:
        return None
    out = np.array(home) * -1.0
    low, high = _box(plan, parts)
    if runs_on_slides(carrying[0]):
        return Opening(an_id, going, rounded(out), round(DRAWN * float(np.abs(out) @ (high - low)), 1))
    if not is_hinge(carrying[0]):
        return None
    hinge = carrying[0]
    axis, pin = np.eye(3)[pin_axis(plan, hinge).index], _pin(plan, hinge, low, high, out)
    # Anticlockwise about the axis, or the other way round: as its middle goes out.
    turning = float(np.cross(axis, (low + high) / 2 - pin) @ out)
    return Opening(an_id, going, rounded(axis if turning > 0 else -axis), SWING, rounded(pin))


def _pin(plan: Plan, hinge: Fitting, low: np.ndarray, high: np.ndarray, out: np.ndarray) -> np.ndarray:
    """A point of the line that it turns about: the middle of the knuckle of a leaf hinge; with a cup hinge the door's outer edge."""
    at = np.array(hinge.at.mm)
    run = pin_axis(plan, hinge).index
    if hinge.item.family.leaved and hinge.body is not None:
        box = np.array([hinge.body.low.mm, hinge.body.high.mm])
        pin, across = box.mean(axis=0), 3 - run - hinge.face.axis.index
        half = (hinge.item.measure("pin") or hinge.body.extent(hinge.face.axis)).mm / 2
        pin[across] = box[1, across] - half if pin[across] > at[across] else box[0, across] + half
        return pin
    way = int(np.argmax(np.abs(out)))
    side = 3 - run - way
    pin = (low + high) / 2
    pin[way] = high[way] if out[way] > 0 else low[way]
    pin[side] = low[side] if abs(at[side] - low[side]) < abs(at[side] - high[side]) else high[side]
    return pin


def _lifted(
    solids: Solids, steps: Sequence[Step], an_id: str, going: tuple[str, ...], parts: Sequence[str]
) -> Opening | None:
    """What lies loose: back along the way that the last step which brings it shows, else along the first of the ways that is free."""
    standing = [part.id for part in solids.plan.parts if part.id not in parts]
    way = _came(steps, parts)
    if way is None:
        free = free_directions(solids, parts, standing)
        way = next((one for one in _LIKED if one in free), None)
    if way is None or not standing:
        return None
    far = travel_distance(solids, parts, standing, way, touching=False)
    return Opening(an_id, going, way, round(far + _CLEAR, 1), loose=True)


def _came(steps: Sequence[Step], parts: Sequence[str]) -> Vector | None:
    """The way out, where a step brings all of these parts together; the other way round than its arrow."""
    for step in reversed(steps):
        ways = {move.part: move.direction for move in step.scene.moves} if step.scene is not None else {}
        brought = {ways.get(part) for part in parts}
        (way, *others) = brought
        if way is not None and not others:
            return rounded(-np.array(way))
    return None


def _box(plan: Plan, parts: Sequence[str]) -> tuple[np.ndarray, np.ndarray]:
    bodies = [plan.part(part).body for part in parts]
    return np.min([body.low.mm for body in bodies], axis=0), np.max([body.high.mm for body in bodies], axis=0)
