"""Balloons round a drawing: numbers outside it, leaders that end with a dot on their own part and never cross."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.lettering import Rich, label, place_centered
from drawleaf.draw.paper.placement import Rect, around, lines_cross
from drawleaf.draw.paper.style import BALLOON, BALLOON_RADIUS, INK, LEADER, NEW_BALLOON, LineStyle
from drawleaf.draw.paper.svg import Circle, Pt, Sketch

_DOT = 0.6
_SPACE = 2 * BALLOON_RADIUS + 1.4
_DISTANCE = BALLOON_RADIUS + 4.0
_LONG = 18
_UNITS = ("in", "mm", "ft", "in,", "mm,", "ft,")
_WIDEST = 30.0
"""No name asks for more of the ring than this (mm)."""
MARGIN = _DISTANCE + BALLOON_RADIUS + 0.6
"""Room that balloons need outside the drawing."""


@dataclass(frozen=True, slots=True)
class Tag:
    """A balloon to place: its text and the paper point on its part where the leader ends. A ``named`` one is set as words without a circle."""

    text: str
    dot: Pt
    new: bool = False
    named: bool = False


@dataclass(frozen=True, slots=True)
class PlacedBalloon:
    """A balloon in its place."""

    tag: Tag
    center: Pt
    outward: float = 0.0
    """For words: -1 where they end at the centre (left of the drawing), 1 where they start there, 0 in the middle."""

    @property
    def box(self) -> Rect:
        """Left, top, right, bottom of the circle or the words, in mm on paper."""
        if not self.tag.named:
            return around(self.center, 2 * BALLOON_RADIUS, 2 * BALLOON_RADIUS)
        text = label(_rows(self.tag.text), weight=600)
        shift = self.outward * (text.width / 2 - BALLOON_RADIUS)
        return around((self.center[0] + shift, self.center[1]), text.width, text.height)

    @property
    def leader(self) -> tuple[Pt, Pt]:
        """From the rim of the balloon, or from beside the words, to the dot."""
        (x, y), (u, v) = self.center, self.tag.dot
        size = ((u - x) ** 2 + (v - y) ** 2) ** 0.5 or 1.0
        along = ((u - x) / size, (v - y) / size)
        start = min(self._rim(along), size * 0.9)
        return ((x + along[0] * start, y + along[1] * start), (u, v))

    def _rim(self, along: Pt) -> float:
        """How far from the centre the leader begins, along a unit direction."""
        if not self.tag.named:
            return BALLOON_RADIUS
        text = label(_rows(self.tag.text), weight=600)
        middle = self.outward * (text.width / 2 - BALLOON_RADIUS)
        ways = []
        for step, low, high in (
            (along[0], middle - text.width / 2, middle + text.width / 2),
            (along[1], -text.height / 2, text.height / 2),
        ):
            if abs(step) > 1e-9:
                ways.append(max(low / step, high / step))
        return min(ways) + 1.0


def arrange(tags: Sequence[Tag], drawing: BaseGeometry) -> list[PlacedBalloon]:
    """Places for all balloons on a ring outside the drawing (its area on paper): each near its part, spaced, uncrossed."""
    if not tags:
        return []
    ring = shapely.convex_hull(drawing).buffer(_DISTANCE, quad_segs=8).exterior
    around = ring.length
    wanted = sorted(((_start(ring, tag), i) for i, tag in enumerate(tags)), key=lambda w: (round(w[0], 3), w[1]))
    places = _spread([t for t, _ in wanted], around, [_half(tags[i]) for _, i in wanted])
    order = [i for _, i in wanted]
    centers = [(point.x, point.y) for point in (ring.interpolate(t % around) for t in places)]
    _uncross(order, centers, tags)
    left, _, right, _ = drawing.bounds
    found = sorted(zip(order, centers, strict=True), key=lambda pair: pair[0])
    return [PlacedBalloon(tags[i], c, -1.0 if c[0] < left else 1.0 if c[0] > right else 0.0) for i, c in found]


def draw_balloons(sketch: Sketch, placed: Sequence[PlacedBalloon]) -> None:
    """Leaders, dots, circles and numbers."""
    for balloon in placed:
        rim, dot = balloon.leader
        sketch.line(LEADER, rim, dot)
        sketch.cover(INK, Circle(dot, _DOT), name="dot")
    for balloon in placed:
        if balloon.tag.named:
            _draw_name(sketch, balloon)
            continue
        style: LineStyle = NEW_BALLOON if balloon.tag.new else BALLOON
        sketch.shape(style, Circle(balloon.center, BALLOON_RADIUS))
        place_centered(sketch, label(balloon.tag.text, weight=600), balloon.center)


def _draw_name(sketch: Sketch, balloon: PlacedBalloon) -> None:
    """Words at the end of the leader, on the side away from the drawing."""
    text = label(_rows(balloon.tag.text), weight=600, anchor={-1.0: "end", 1.0: "start"}.get(balloon.outward, "middle"))
    x, y = balloon.center
    shift = balloon.outward * (text.width / 2 - BALLOON_RADIUS)
    place_centered(sketch, text, (x + shift, y))


def _rows(words: str) -> list[Rich]:
    """A long name on two lines of about the same length; no size is parted."""
    if len(words) < _LONG or " " not in words:
        return [(words,)]
    gaps = [i for i, c in enumerate(words) if c == " " and not _in_a_size(words[:i], words[i + 1 :])]
    if not gaps:
        return [(words,)]
    gap = min(gaps, key=lambda i: (abs(i - len(words) / 2), i))
    return [(words[:gap],), (words[gap + 1 :],)]


def _in_a_size(before: str, after: str) -> bool:
    """Whether a gap stands within a size, as in ``#8 x 1-1/4 in``."""
    return before.endswith(" x") or after.startswith("x ") or (before[-1:].isdigit() and after.split(" ")[0] in _UNITS)


def _start(ring: shapely.LinearRing, tag: Tag) -> float:
    """Where on the ring the balloon would like to be: nearest to its dot."""
    return float(ring.project(shapely.Point(tag.dot)))


def _half(tag: Tag) -> float:
    """Half the room that a balloon takes on the ring; a name takes more than a number."""
    if not tag.named:
        return _SPACE / 2
    return max(_SPACE, min(label(_rows(tag.text), weight=600).width, _WIDEST)) / 2 + 0.7


def _spread(places: list[float], around: float, halves: Sequence[float]) -> list[float]:
    """Positions round a ring pushed apart until neighbours have the room they need; the order stays."""
    count = len(places)
    scale = min(1.0, around / (2 * sum(halves)))
    spots = list(places)
    for _ in range(400):
        moved = False
        for i in range(count):
            j = (i + 1) % count
            turn = around if j == 0 else 0.0
            short = (halves[i] + halves[j]) * scale - (spots[j] + turn - spots[i])
            if count > 1 and short > 1e-6:
                spots[i] -= short / 2
                spots[j] += short / 2
                moved = True
        if not moved:
            break
    return spots


def _uncross(order: list[int], centers: Sequence[Pt], tags: Sequence[Tag]) -> None:
    """Swaps the places of balloons whose leaders cross. Each swap shortens the leaders together, so it ends."""
    for _ in range(200):
        crossed = next(
            (
                (a, b)
                for a in range(len(order))
                for b in range(a + 1, len(order))
                if lines_cross((centers[a], tags[order[a]].dot), (centers[b], tags[order[b]].dot))
            ),
            None,
        )
        if crossed is None:
            return
        a, b = crossed
        order[a], order[b] = order[b], order[a]
