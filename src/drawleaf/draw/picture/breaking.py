"""Long parts drawn with a plain stretch left out between two break lines, so that what is cut at their ends is large enough to read.
Their true length stays on the dimension line (ISO 128-3, interrupted views; from memory)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import pi, sin

import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.style import BREAK, LineStyle
from drawleaf.draw.paper.svg import Poly, Sketch
from drawleaf.draw.picture.lay import Lay
from drawleaf.draw.picture.picture import Window, rings
from drawleaf.draw.sight.linework import Linework, Polyline
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile
from drawleaf.model.shapes import OutlineCut, PlaneCut

GAP = 3.0
"""Clear paper between the two halves."""
_KEEP = 6.0
"""Plain wood left on paper on either side of the break, at least."""
_ROUND_HOLE = 45.0
"""Millimetres of a part round a pocket hole that stay on the drawing."""
_ROUND_OUTLINE = 15.0
"""The same round an opening: arcs may bulge beyond its corners."""
_WAVE, _WAVE_LONG = 0.6, 8.0


@dataclass(frozen=True, slots=True)
class Strip:
    """How distances along a part lie on paper: ``factor`` paper mm a mm; ``gaps`` are the stretches left out (mm from the left end, in order)."""

    length: float
    factor: float
    gaps: tuple[tuple[float, float], ...] = ()

    def at(self, place: float) -> float:
        """Millimetres on paper from the left end of the view."""
        left_out, breaks = 0.0, 0.0
        for low, high in self.gaps:
            if place <= low:
                break
            share = min(1.0, (place - low) / (high - low))
            left_out += share * (high - low)
            breaks += share * GAP
        return (place - left_out) * self.factor + breaks

    @property
    def paper_length(self) -> float:
        """Millimetres on paper, breaks included."""
        return self.at(self.length)


_MOST_BREAKS = 5


def broken(lay: Lay, factor: float, room: float) -> Strip | None:
    """The part at a scale within ``room`` mm of paper with its longest plain stretches cut short, as few as will do; None where none do."""
    length = lay.reach(lay.right).mm
    plain = sorted(_plain_stretches(lay), key=lambda one: (round(one[0] - one[1], 6), one[0]))
    least = (2 * _KEEP + GAP + 6.0) / factor
    plain = [one for one in plain if one[1] - one[0] > least][:_MOST_BREAKS]
    for count in range(1, len(plain) + 1):
        chosen = sorted(plain[:count])
        rest = (length - sum(high - low for low, high in chosen)) * factor + count * GAP
        keep = (room - rest) / count
        if keep < 2 * _KEEP:
            continue
        strip = Strip(length, factor, tuple(_left_out(low, high, keep / factor, least) for low, high in chosen))
        return strip if strip.paper_length <= room + 0.1 else None
    return None


def _left_out(low: float, high: float, keep: float, least: float) -> tuple[float, float]:
    """The middle of a plain stretch, of which so much stays on either side; a break is worth it only from a certain length on."""
    keep = min(keep, (high - low) - (least - keep if keep < least else 0.0), (high - low) * 0.9)
    middle, half = (low + high) / 2, (high - low - keep) / 2
    return (middle - half, middle + half)


def _plain_stretches(lay: Lay) -> list[tuple[float, float]]:
    """The stretches along the part in which nothing changes, in mm from the left end."""
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
        elif isinstance(feature, OutlineCut) and not feature.keep and lay.right.axis is not feature.outline.axis:
            span = feature.outline.bounds[feature.outline.axis.others().index(lay.right.axis)]
            low, high = (place.mm for place in lay.span(lay.right, span.low, span.high))
            busy.append((max(0.0, low - _ROUND_OUTLINE), min(length, high + _ROUND_OUTLINE)))
        elif isinstance(feature, PlaneCut) and feature.face.axis is lay.right.axis:
            busy.append(_slanting_end(lay, feature))
        elif not isinstance(feature, EdgeProfile):
            # A taper or a shaped edge: nothing of such a part is left out.
            return []
    busy.sort()
    found: list[tuple[float, float]] = []
    end = 0.0
    for low, high in busy:
        if low > end:
            found.append((end, low))
        end = max(end, high)
    return found


def _slanting_end(lay: Lay, cut: PlaneCut) -> tuple[float, float]:
    """The stretch at an end that a saw cut slants across, in mm from the left end."""
    body, run = lay.part.body, lay.right.axis
    others = run.others()
    ends = []
    for corner in product(*((body.span(axis).low, body.span(axis).high) for axis in others)):
        fall = sum(
            cut.normal[axis.index] * (place - cut.point.along(axis)).mm
            for axis, place in zip(others, corner, strict=True)
        )
        ends.append(cut.point.along(run).mm - fall / cut.normal[run.index])
    span, forward = body.span(run), lay.right.side > 0
    places = [end - span.low.mm if forward else span.high.mm - end for end in ends]
    outer = 0.0 if cut.face is not lay.right else lay.reach(lay.right).mm
    return (max(0.0, min(outer, *places)), min(lay.reach(lay.right).mm, max(outer, *places)))


@dataclass(frozen=True, slots=True)
class Half:
    """A piece of a broken view: its window on paper, what of the view's plane it holds, and its edges along the breaks."""

    window: Window
    clip: BaseGeometry | None
    edge: BaseGeometry | None


def halves(work: Linework, strip: Strip, left: float, top: float) -> Iterator[Half]:
    """The whole view, or its pieces, with the view's left upper corner at a place on paper."""
    u0, v0, u1, v1 = work.bounds
    whole = Window(strip.factor, (left - u0 * strip.factor, top + v1 * strip.factor))
    if not strip.gaps:
        yield Half(whole, None, None)
        return
    starts = [None, *(high for _, high in strip.gaps)]
    ends = [*(low for low, _ in strip.gaps), None]
    for start, end in zip(starts, ends, strict=True):
        edges = [_edge(u0 + place, v0, v1, strip.factor) for place in (start, end) if place is not None]
        outline = (
            edges[0] if start is not None else [(u0 - 10.0, v0 - 10.0), (u0 - 10.0, v1 + 10.0)],
            edges[-1] if end is not None else [(u1 + 10.0, v0 - 10.0), (u1 + 10.0, v1 + 10.0)],
        )
        clip = shapely.Polygon([*outline[0], *reversed(outline[1])])
        shift = 0.0 if start is None else strip.at(start) - start * strip.factor
        window = Window(strip.factor, (whole.origin[0] + shift, whole.origin[1]))
        yield Half(window, clip, shapely.MultiLineString(edges))


def _edge(u: float, low: float, high: float, factor: float) -> list[tuple[float, float]]:
    """A waving line across the view, from below it to above it."""
    wave = _wave(u, low, high, factor)
    return [(wave[0][0], low - 10.0), *wave, (wave[-1][0], high + 10.0)]


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
    """The stretches of lines within this half."""
    for line in lines:
        if len(line.points) > 1:
            run: BaseGeometry = shapely.LineString(line.points)
            _run(sketch, style, run if half.clip is None else run.intersection(half.clip), half.window)


def _run(sketch: Sketch, style: LineStyle, geometry: BaseGeometry, window: Window) -> None:
    for piece in shapely.get_parts(geometry).tolist():
        if isinstance(piece, shapely.LineString) and len(piece.coords) > 1:
            sketch.shape(style, Poly(tuple(window.at(u, v) for u, v in piece.coords)))
