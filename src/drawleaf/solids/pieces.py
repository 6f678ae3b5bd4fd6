"""Parts as sets of axis-aligned boxes: a body less its square-cornered cuts, taken apart exactly.

Bores (but those for dowels) and edge profiles are left out, so that a part counts here as slightly more wood than it has: what is found free is free.
"""

from __future__ import annotations

import numpy as np

from drawleaf.model.plan import Bore, BoxCut, Fastener, Part
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
        elif isinstance(feature, Bore) and feature.kind == "dowel hole":
            boxes = [rest for box in boxes for rest in box_less_box(box, _square_hole(feature))]
    return np.array(boxes).reshape(-1, 2, 3)


def _square_hole(hole: Bore) -> Floats:
    """(2, 3) low and high corner of the box round a dowel's hole, in which the box round its dowel has room."""
    start = np.array(hole.start.mm)
    end = start + np.array(hole.direction) * (hole.depth.mm if hole.depth else 0.0)
    radius = hole.diameter.mm / 2.0
    across = np.where(np.abs(np.array(hole.direction)) < 0.5, radius, 0.0)
    return np.asarray([np.minimum(start, end) - across, np.maximum(start, end) + across], dtype=np.float64)


def pin_box(fastener: Fastener) -> Floats:
    """(2, 3) low and high corner of the box round a dowel or loose tenon, which goes where its part goes."""
    start = np.array(fastener.at.mm)
    way = np.array(fastener.direction)
    end = start + way * (fastener.item.length.mm if fastener.item.length else 0.0)
    thick = fastener.item.diameter or fastener.item.measure("thick")
    across = np.where(np.abs(way) < 0.5, thick.mm / 2.0 if thick else 0.0, 0.0)
    wide = fastener.item.measure("wide")
    if fastener.wide is not None and wide is not None:
        across[fastener.wide.index] = wide.mm / 2.0
    return np.asarray([np.minimum(start, end) - across, np.maximum(start, end) + across], dtype=np.float64)


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
