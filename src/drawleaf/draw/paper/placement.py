"""Room on paper: boxes that are taken, and the first place where a label is clear of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from drawleaf.draw.paper.svg import Pt

Rect = tuple[float, float, float, float]
"""left, top, right, bottom in mm on paper."""


@dataclass(slots=True)
class Taken:
    """Boxes and lines that labels must not touch."""

    boxes: list[Rect] = field(default_factory=list)
    lines: list[tuple[Pt, Pt]] = field(default_factory=list)

    def free(self, box: Rect, within: Rect | None = None) -> bool:
        """Whether a box is clear of all that is taken, and inside ``within``."""
        if within and not inside(box, within):
            return False
        left, top, right, bottom = box
        for x0, y0, x1, y1 in self.boxes:
            if left < x1 and x0 < right and top < y1 and y0 < bottom:
                return False
        for line in self.lines:
            (x0, y0), (x1, y1) = line
            # Most lines lie wholly to one side.
            if (x0 <= left and x1 <= left) or (x0 >= right and x1 >= right):
                continue
            if (y0 <= top and y1 <= top) or (y0 >= bottom and y1 >= bottom):
                continue
            if crosses(line, box):
                return False
        return True

    def first_free(self, centers: Iterable[Pt], width: float, height: float, within: Rect | None = None) -> Pt | None:
        """The first of ``centers`` about which a box of that size is clear; it is taken from then on."""
        for x, y in centers:
            box = around((x, y), width, height)
            if self.free(box, within):
                self.boxes.append(box)
                return (x, y)
        return None


def around(center: Pt, width: float, height: float) -> Rect:
    """A box by its middle."""
    return (center[0] - width / 2, center[1] - height / 2, center[0] + width / 2, center[1] + height / 2)


def grown(box: Rect, by: float) -> Rect:
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def overlap(a: Rect, b: Rect) -> bool:
    """Whether two boxes share area."""
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def inside(box: Rect, within: Rect) -> bool:
    return box[0] >= within[0] and box[1] >= within[1] and box[2] <= within[2] and box[3] <= within[3]


def crosses(line: tuple[Pt, Pt], box: Rect) -> bool:
    """Whether a line enters a box (clipped parameter by parameter)."""
    (x0, y0), (x1, y1) = line
    low, high = 0.0, 1.0
    for start, step, near, far in ((x0, x1 - x0, box[0], box[2]), (y0, y1 - y0, box[1], box[3])):
        if abs(step) < 1e-12:
            if not near < start < far:
                return False
            continue
        a, b = (near - start) / step, (far - start) / step
        if a > b:
            a, b = b, a
        if a > low:
            low = a
        if b < high:
            high = b
        if low >= high:
            return False
    return True


def lines_cross(a: tuple[Pt, Pt], b: tuple[Pt, Pt]) -> bool:
    """Whether two lines cross at a point inside both."""

    def turn(p: Pt, q: Pt, r: Pt) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(*a, b[0]) * turn(*a, b[1]) < 0 and turn(*b, a[0]) * turn(*b, a[1]) < 0


def spiral(width: float, height: float, box: Rect, steps: int = 5) -> Iterable[Pt]:
    """Places for a label of that size in a box: the middle, then further out, in an order that never changes."""
    across, down = (box[2] - box[0] - width) / 2, (box[3] - box[1] - height) / 2
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    offsets = sorted(
        ((i, j) for i in range(-steps, steps + 1) for j in range(-steps, steps + 1)),
        key=lambda p: (p[0] ** 2 + p[1] ** 2, p[1], p[0]),
    )
    for i, j in offsets:
        yield (middle[0] + across * i / steps, middle[1] + down * j / steps)
