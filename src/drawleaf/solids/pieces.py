"""Parts as sets of axis-aligned boxes: a body less its square-cornered cuts, taken apart exactly.

Bores and edge profiles are left out, so that a part stands here for slightly more wood than it has: what is found free is free.
"""

from __future__ import annotations

import numpy as np

from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.solids.cutters import box_of
from drawleaf.solids.solid import Floats


def shaped(part: Part) -> bool:
    """Whether boxes do not say enough of the part: it leans, is round or moulded, or is cut along a slant or a curve."""
    return (
        part.tilt is not None
        or part.section is not None
        or any(isinstance(feature, (OutlineCut, PlaneCut)) for feature in part.features)
    )


def pieces_of(part: Part) -> Floats:
    """(N, 2, 3): boxes that share no volume and together are the part; for a part that leans, the one box around it."""
    if part.tilt is not None:
        return np.array([part.tilt.bounds(part.body)])
    boxes = [box_of(part.body)]
    for feature in part.features:
        if isinstance(feature, BoxCut):
            void = box_of(feature.box)
            boxes = [rest for box in boxes for rest in box_less_box(box, void)]
    return np.array(boxes).reshape(-1, 2, 3)


def box_less_box(box: Floats, void: Floats) -> list[Floats]:
    """What is left of a box when another is taken out: up to six boxes."""
    low, high = np.maximum(box[0], void[0]), np.minimum(box[1], void[1])
    if (low >= high).any():
        return [box]
    left: list[Floats] = []
    rest = box.copy()
    for axis in range(3):
        if rest[0, axis] < low[axis]:
            slab = rest.copy()
            slab[1, axis] = low[axis]
            left.append(slab)
        if high[axis] < rest[1, axis]:
            slab = rest.copy()
            slab[0, axis] = high[axis]
            left.append(slab)
        rest[0, axis], rest[1, axis] = low[axis], high[axis]
    return left
