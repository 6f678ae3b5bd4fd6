"""Squaring up: both diagonals of the assembly, with arrows at their ends, to be measured and made equal."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drawleaf.draw.dimensions import arrow
from drawleaf.draw.lettering import label, place_centered
from drawleaf.draw.picture import Window
from drawleaf.draw.placement import around
from drawleaf.draw.style import ACCENT, MEASURE, WHITE
from drawleaf.draw.svg import Sketch, rectangle
from drawleaf.draw.view import View
from drawleaf.solids.build import Solids

_SHARES = (0.27, 0.73)


def draw_diagonals(sketch: Sketch, solids: Solids, view: View, window: Window, parts: Sequence[str]) -> None:
    """Over the face that the assembly is squared by: across its shortest way, on the side that looks at the viewer."""
    bounds = [body.bounds for body in (solids.body(part) for part in parts) if body is not None]
    low, high = np.min([b[0] for b in bounds], axis=0), np.max([b[1] for b in bounds], axis=0)
    thin = int(np.argmin(high - low))
    level = float(high[thin] if view.axes[2][thin] > 0 else low[thin])
    first, second = (axis for axis in range(3) if axis != thin)
    for name, turned, share in (("A", False, _SHARES[0]), ("B", True, _SHARES[0])):
        ends = []
        for far in (False, True):
            point = [0.0, 0.0, 0.0]
            point[thin] = level
            point[first] = float(high[first] if far else low[first])
            point[second] = float(high[second] if far != turned else low[second])
            ends.append(window.point(view, (point[0], point[1], point[2])))
        a, b = ends
        sketch.line(MEASURE, a, b)
        arrow(sketch, a, b, length=3.4, half=0.9, color=ACCENT)
        arrow(sketch, b, a, length=3.4, half=0.9, color=ACCENT)
        at = (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)
        text = label(name, weight=600)
        sketch.cover(WHITE, rectangle(*around(at, text.width + 1.6, text.height + 1.4)), name="clear")
        place_centered(sketch, text, at)


def diagonal_words() -> str:
    """For the alternative text."""
    return "Two arrows, A and B, run from corner to corner: measure both. They must be equal."
