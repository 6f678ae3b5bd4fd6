"""Doors ajar and drawers pulled out: what the turning view opens all the way is opened most of it for a picture."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np

from drawleaf.draw.turnable.openings import openings
from drawleaf.looks.scene import Move, shift
from drawleaf.model.turnable import Opening
from drawleaf.solids.build import Solids

_SHARE = 0.7
"""How much of its way a door or drawer is opened: one sees that it opens, and it hides little of the piece."""


def opened(solids: Solids) -> dict[str, Move]:
    """Every part and fitting that moves in use, by its id, with how it is moved. What lies loose stays in its place."""
    found: dict[str, Move] = {}
    for one in openings(solids):
        if not one.loose:
            found |= dict.fromkeys(one.bodies, _part_way(one))
    return found


def _part_way(one: Opening) -> Move:
    x, y, z = np.array(one.axis) * one.reach * _SHARE
    if one.about is None:
        return shift((float(x), float(y), float(z)))
    return _turn(np.array(one.axis), np.array(one.about), one.reach * _SHARE)


def _turn(axis: np.ndarray, pivot: np.ndarray, degrees: float) -> Move:
    """Anticlockwise about a line along ``axis``, by Rodrigues' formula."""
    x, y, z = axis
    across = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    made = np.eye(4)
    made[:3, :3] += sin(radians(degrees)) * across + (1.0 - cos(radians(degrees))) * across @ across
    made[:3, 3] = pivot - made[:3, :3] @ pivot
    return made
