"""A panel that is glued up, to be turned: its strips apart as they are laid out, pushed together, and the clamps across them."""

from __future__ import annotations

import numpy as np

from drawleaf.draw.turnable.shapes import Shapes, block, rounded
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.model.steps import Step
from drawleaf.model.turnable import Axes, Pressing, Standing, Turning, Vector

APART = 0.3
"""How far two strips stand apart before they are glued, in shares of a strip's width."""


def strips_scene(step: Step, part: Part, drawing: Drawing, shapes: Shapes) -> Turning:
    """The rough panel of a part, its grain to the right and its first strip up, as the drawing has it. The part must be one of strips."""
    glue_up = part.glue_up
    assert glue_up is not None
    across = glue_up.across.index
    thick = part.thickness.index
    along = 3 - across - thick
    right, up = np.eye(3)[along], _first(part)
    long, wide = part.body.extent(_AXES[along]).mm + 2 * glue_up.extra.mm, glue_up.strip_width.mm
    size = np.zeros(3)
    size[[along, across, thick]] = long, wide, part.body.extent(part.thickness).mm
    shape = shapes.add(block(rounded(size)))
    middle = _middle(part)
    standing = []
    for place in range(glue_up.strips):
        away = (glue_up.strips - 1) / 2 - place
        at = strip_middle(part, place + 1) - size / 2
        off = up * away * wide * APART
        standing.append(Standing(part.id, shape, rounded(at), True, rounded(off), 0, strip=place + 1))
    axes: Axes = (rounded(right), rounded(up), rounded(np.cross(right, up)))
    left, top, paper_right, _ = drawing.panes[0].box
    factor = (paper_right - left) / long
    corner = middle - right * long / 2 + up * glue_up.strips * wide / 2
    origin = (left - float(corner @ right) * factor, top + float(corner @ up) * factor)
    pressing = _pressing(
        step, middle, right * long, up * glue_up.strips * wide, up * standing[0].off[across] * up[across]
    )
    return Turning(drawing.id, step.number, axes, axes[2], factor, origin, tuple(standing), pressing=pressing)


def strip_middle(part: Part, strip: int) -> np.ndarray:
    """(3,) mm: the middle of a strip, counted from 1, in the glued panel. The part must be one of strips."""
    glue_up = part.glue_up
    assert glue_up is not None
    away = (glue_up.strips - 1) / 2 - (strip - 1)
    return _middle(part) + _first(part) * away * glue_up.strip_width.mm


def _first(part: Part) -> np.ndarray:
    """From the middle of a panel to its first strip: so that the side of the higher coordinate is seen with that one up and the grain to the right."""
    assert part.glue_up is not None
    across, thick = part.glue_up.across.index, part.thickness.index
    up = np.eye(3)[across]
    return -up if np.cross(np.eye(3)[3 - across - thick], up)[thick] < 0 else up


def _middle(part: Part) -> np.ndarray:
    return (np.array(part.body.low.mm) + np.array(part.body.high.mm)) / 2


_AXES = tuple(Axis)


def _pressing(
    step: Step, middle: np.ndarray, long: np.ndarray, wide: np.ndarray, off: np.ndarray
) -> tuple[Pressing, ...]:
    """The jaws of clamps evenly spread along the panel, at both its edges; ``off`` is how far the first strip stands off."""
    count = sum(use.count for use in step.clamps)
    toward = wide / np.linalg.norm(wide)
    found = []
    for place in range(count):
        at = middle + long * ((place + 0.5) / count - 0.5)
        for side in (1.0, -1.0):
            found.append(Pressing(rounded(at + wide / 2 * side), _way(-side * toward), rounded(off * side)))
    return tuple(found)


def _way(direction: np.ndarray) -> Vector:
    return rounded(direction, 6)
