"""Long parts drawn with a plain stretch left out between two break lines, so that what is cut at their ends is large enough to read.
Their true length stays on the dimension line (ISO 128-3, interrupted views; from memory)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import pi, sin

import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.linework import Linework, Polyline
from drawleaf.draw.part_marks import Lay
from drawleaf.draw.picture import Window, rings
from drawleaf.draw.style import BREAK, LineStyle
from drawleaf.draw.svg import Poly, Sketch
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile

GAP = 3.0
"""Clear paper between the two halves."""
_KEEP = 14.0
"""Plain wood left on paper on either side of the break, at least."""
_ROUND_HOLE = 45.0
"""Millimetres of a part round a pocket hole that stay on the drawing."""
_WAVE, _WAVE_LONG = 0.6, 8.0


@dataclass(frozen=True, slots=True)
class Strip:
    """How distances along a part lie on paper: ``factor`` paper mm a mm; ``gap`` is the stretch left out (mm from the left end)."""

    length: float
    factor: float
    gap: tuple[float, float] | None = None

    def at(self, place: float) -> float:
        """Paper distance from the left end of the view."""
        if self.gap is None or place <= self.gap[0]:
            return place * self.factor
        if place >= self.gap[1]:
            return (place - self.gap[1] + self.gap[0]) * self.factor + GAP
        share = (place - self.gap[0]) / (self.gap[1] - self.gap[0])
        return self.gap[0] * self.factor + share * GAP

    @property
    def paper_length(self) -> float:
        return self.at(self.length)


def broken(lay: Lay, factor: float, room: float) -> Strip | None:
    """The part at a scale within ``room`` mm of paper with its longest plain stretch cut short; None where that does not do."""
    length = lay.reach(lay.right).mm
    low, high = _plain_stretch(lay)
    keep = max(2 * _KEEP, room - GAP - (length - (high - low)) * factor)
    left_out = (high - low) - keep / factor
    if left_out * factor < GAP + 6.0:
        return None
    middle = (low + high) / 2
    strip = Strip(length, factor, (middle - left_out / 2, middle + left_out / 2))
    return strip if strip.paper_length <= room + 0.1 else None


def _plain_stretch(lay: Lay) -> tuple[float, float]:
    """The longest stretch along the part in which nothing changes, in mm from the left end."""
    length = lay.reach(lay.right).mm
    busy: list[tuple[float, float]] = [(0.0, 0.0), (length, length)]
    for feature in lay.part.features:
        if isinstance(feature, BoxCut):
            span = feature.box.span(lay.right.axis)
            low, high = (place.mm for place in lay.span(lay.right, span.low, span.high))
            if high - low < length - 0.01:
                busy.append((low, high))
        elif isinstance(feature, Bore):
            at = lay.along(lay.right, feature.start.along(lay.right.axis)).mm
            reach = _ROUND_HOLE if feature.kind == "pocket" else feature.diameter.mm
            busy.append((max(0.0, at - reach), min(length, at + reach)))
        else:
            assert isinstance(feature, EdgeProfile)
    busy.sort()
    best, end = (0.0, 0.0), 0.0
    for low, high in busy:
        if low - end > best[1] - best[0]:
            best = (end, low)
        end = max(end, high)
    return best


@dataclass(frozen=True, slots=True)
class Half:
    """A half of a broken view: its window on paper, what of the view's plane it holds, and its edge along the break."""

    window: Window
    clip: BaseGeometry | None
    edge: shapely.LineString | None


def halves(work: Linework, strip: Strip, left: float, top: float) -> Iterator[Half]:
    """The whole view, or its two halves, with the view's left upper corner at a place on paper."""
    u0, v0, u1, v1 = work.bounds
    whole = Window(strip.factor, (left - u0 * strip.factor, top + v1 * strip.factor))
    if strip.gap is None:
        yield Half(whole, None, None)
        return
    for place, outward, shift in (
        (strip.gap[0], -1.0, 0.0),
        (strip.gap[1], 1.0, strip.at(strip.gap[1]) - strip.gap[1] * strip.factor),
    ):
        wave = _wave(u0 + place, v0, v1, strip.factor)
        far = u0 - 10.0 if outward < 0 else u1 + 10.0
        ends = [(far, v1 + 10.0), (far, v0 - 10.0)]
        start, end = (wave[0][0], v0 - 10.0), (wave[-1][0], v1 + 10.0)
        clip = shapely.Polygon([start, *wave, end, *ends])
        window = Window(strip.factor, (whole.origin[0] + shift, whole.origin[1]))
        yield Half(window, clip, shapely.LineString([start, *wave, end]))


def _wave(u: float, low: float, high: float, factor: float) -> list[tuple[float, float]]:
    wave, long = _WAVE / factor, min(_WAVE_LONG / factor, (high - low))
    steps = max(6, int((high - low) / long * 10))
    places = [low + (high - low) * k / steps for k in range(steps + 1)]
    return [(u + wave * sin(2 * pi * (v - low) / long), v) for v in places]


def paint_half_flat(sketch: Sketch, work: Linework, half: Half, part: str, color: str) -> None:
    """Fills what can be seen of the part in this half, and draws its break line."""
    region = work.outline(part)
    if half.clip is not None and half.edge is not None:
        _run(sketch, BREAK, half.edge.intersection(region), half.window)
        region = region.intersection(half.clip)
    found = rings(region, half.window)
    if found:
        sketch.fill(color, *found, name="wood")


def paint_half_lines(sketch: Sketch, lines: Sequence[Polyline], half: Half, style: LineStyle) -> None:
    """Lines so far as they lie in this half."""
    for line in lines:
        if len(line.points) > 1:
            run: BaseGeometry = shapely.LineString(line.points)
            _run(sketch, style, run if half.clip is None else run.intersection(half.clip), half.window)


def _run(sketch: Sketch, style: LineStyle, geometry: BaseGeometry, window: Window) -> None:
    for piece in shapely.get_parts(geometry).tolist():
        if isinstance(piece, shapely.LineString) and len(piece.coords) > 1:
            sketch.shape(style, Poly(tuple(window.at(u, v) for u, v in piece.coords)))
