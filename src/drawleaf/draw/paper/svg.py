"""Shapes on paper and the one place that writes them as SVG.

Coordinates are millimetres on paper, y downwards. A drawing is decided first, as a ``Sketch`` of fills, strokes and text
runs; ``write`` makes the element tree of it, by svgwrite. Numbers are rounded here and handed on as text, so that the bytes
do not depend on a library's way of writing them. All strokes of one style go into one path, because renderers are slow on
thousands of elements.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from xml.etree.ElementTree import indent, tostring

import svgwrite
from svgwrite.base import BaseElement

from drawleaf.draw.paper.style import FONT, HATCH, WHITE, LineStyle
from drawleaf.model.drawings import Pane

Pt = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Poly:
    """A run of straight lines; closed when the last point joins the first."""

    points: tuple[Pt, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle."""

    center: Pt
    radius: float


Stroke = Poly | Circle


@dataclass(frozen=True, slots=True)
class Fill:
    """An area of one colour. Under the lines, rings are filled by the even-odd rule: a hole is a ring inside a ring. Marks over
    the lines may lie upon one another, so each of their rings is filled."""

    rings: tuple[Stroke, ...]
    color: str
    name: str = "fill"


@dataclass(frozen=True, slots=True)
class TextRun:
    """A word or figure set at its baseline. ``turn`` is degrees anticlockwise about (x, y); ``label`` groups the runs of one label."""

    text: str
    at: Pt
    size: float
    weight: int
    color: str
    anchor: str = "start"
    turn: float = 0.0
    label: int = 0


@dataclass(slots=True)
class Sketch:
    """A drawing in the making. Under-fills are painted first, then strokes in the order of their styles, over-fills, text."""

    under: list[Fill] = field(default_factory=list)
    strokes: dict[LineStyle, list[Stroke]] = field(default_factory=dict)
    over: list[Fill] = field(default_factory=list)
    texts: list[TextRun] = field(default_factory=list)
    labels: int = 0
    blanks: list[Stroke] = field(default_factory=list)
    """White areas over the hatching and under all other lines, such as a screw in cut wood."""
    rough: bool = False
    """Made only to see how much room it takes: a picture is stood for by lines that reach as far."""
    panes: list[Pane] = field(default_factory=list)
    """Which parts are seen where (``draw/picture/panes.py``). Nothing of it is written into the SVG."""

    def line(self, style: LineStyle, *points: Pt) -> None:
        """A run of straight lines through the points."""
        self.strokes.setdefault(style, []).append(Poly(points))

    def shape(self, style: LineStyle, shape: Stroke) -> None:
        self.strokes.setdefault(style, []).append(shape)

    def fill(self, color: str, *rings: Stroke, name: str = "fill") -> None:
        """An area painted before all lines."""
        self.under.append(Fill(rings, color, name))

    def cover(self, color: str, *rings: Stroke, name: str = "mark") -> None:
        """An area painted over the lines: arrow heads, dots, balloons."""
        self.over.append(Fill(rings, color, name))

    def moved(self, dx: float, dy: float) -> Sketch:
        """The same drawing shifted on paper."""
        return Sketch(
            [Fill(tuple(_moved(ring, dx, dy) for ring in fill.rings), fill.color, fill.name) for fill in self.under],
            {style: [_moved(shape, dx, dy) for shape in shapes] for style, shapes in self.strokes.items()},
            [Fill(tuple(_moved(ring, dx, dy) for ring in fill.rings), fill.color, fill.name) for fill in self.over],
            [replace(run, at=(run.at[0] + dx, run.at[1] + dy)) for run in self.texts],
            self.labels,
            [_moved(shape, dx, dy) for shape in self.blanks],
            panes=[_moved_pane(pane, dx, dy) for pane in self.panes],
        )

    def new_label(self) -> int:
        """A number that marks the runs of one label as belonging together."""
        self.labels += 1
        return self.labels


def _moved(shape: Stroke, dx: float, dy: float) -> Stroke:
    if isinstance(shape, Circle):
        return Circle((shape.center[0] + dx, shape.center[1] + dy), shape.radius)
    return Poly(tuple((x + dx, y + dy) for x, y in shape.points), shape.closed)


def _moved_pane(pane: Pane, dx: float, dy: float) -> Pane:
    left, top, right, bottom = pane.box
    sight = pane.sight
    if sight is not None:
        sight = replace(sight, origin=(sight.origin[0] + dx, sight.origin[1] + dy))
    return replace(pane, box=(left + dx, top + dy, right + dx, bottom + dy), sight=sight)


def rectangle(left: float, top: float, right: float, bottom: float) -> Poly:
    """An upright rectangle as a closed run."""
    return Poly(((left, top), (right, top), (right, bottom), (left, bottom)), closed=True)


def number(value: float) -> str:
    """A coordinate as written in the file: hundredths of a millimetre, no trailing zeros, no minus zero."""
    # As ``trimmed`` has it, without its other uses: a booklet has a million of them.
    text = f"{float(value):.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def write(sketch: Sketch, width: float, height: float, title: str, desc: str) -> str:
    """The SVG file as text, ``width`` by ``height`` mm, with title and description for those who do not see it."""
    w, h = number(width), number(height)
    # Validation takes ten times as long as the drawing itself: the tests do it on the finished files.
    svg = svgwrite.Drawing(size=(f"{w}mm", f"{h}mm"), viewBox=f"0 0 {w} {h}", role="img", debug=False)
    svg.elements.remove(svg.defs)  # nothing is defined once and used again
    svg.set_desc(title, desc)
    for element in _elements(svg, sketch):
        svg.add(element)
    tree = svg.get_xml()
    indent(tree, space="")
    return tostring(tree, encoding="unicode") + "\n"


def _elements(svg: svgwrite.Drawing, sketch: Sketch) -> Iterator[BaseElement]:
    """What the drawing consists of, in the order in which it is painted."""
    yield from (_fill(svg, fill, evenodd=True) for fill in _merged(sketch.under))
    styles = sorted((style for style in sketch.strokes if sketch.strokes[style]), key=lambda style: style.order)
    yield from (_stroked(svg, style, sketch.strokes[style]) for style in styles if style.order <= HATCH.order)
    if sketch.blanks:
        yield _fill(svg, Fill(tuple(sketch.blanks), WHITE, "blank"), evenodd=False)
    yield from (_stroked(svg, style, sketch.strokes[style]) for style in styles if style.order > HATCH.order)
    yield from (_fill(svg, fill, evenodd=False) for fill in _merged(sketch.over))
    yield from (_text(svg, run) for run in sketch.texts)


def _merged(fills: Iterable[Fill]) -> list[Fill]:
    """Neighbours of one colour and name as one path, in painting order. Areas that share a path must not overlap."""
    merged: list[Fill] = []
    for fill in fills:
        if merged and (merged[-1].color, merged[-1].name) == (fill.color, fill.name):
            merged[-1] = Fill((*merged[-1].rings, *fill.rings), fill.color, fill.name)
        else:
            merged.append(fill)
    return merged


def _fill(svg: svgwrite.Drawing, fill: Fill, *, evenodd: bool) -> BaseElement:
    path = svg.path(path_data(fill.rings, closed=True), class_=fill.name, fill=fill.color)
    if evenodd and len(fill.rings) > 1:
        path["fill-rule"] = "evenodd"
    return path


def _stroked(svg: svgwrite.Drawing, style: LineStyle, shapes: Iterable[Stroke]) -> BaseElement:
    path = svg.path(
        path_data(shapes),
        class_=style.name,
        fill="none",
        stroke=style.color,
        stroke_width=number(style.width),
        stroke_linecap=style.cap,
        stroke_linejoin="round",
    )
    if style.dash:
        path["stroke-dasharray"] = " ".join(number(d) for d in style.dash)
    return path


def path_data(shapes: Iterable[Stroke], *, closed: bool = False) -> str:
    """The ``d`` attribute of all shapes together."""
    parts: list[str] = []
    for shape in shapes:
        if isinstance(shape, Circle):
            (x, y), r = shape.center, number(shape.radius)
            left, right, level = number(x - shape.radius), number(x + shape.radius), number(y)
            parts.append(f"M{left} {level}A{r} {r} 0 1 1 {right} {level}A{r} {r} 0 1 1 {left} {level}Z")
        else:
            points = [f"{number(x)} {number(y)}" for x, y in shape.points]
            parts.append("M" + "L".join(points) + ("Z" if closed or shape.closed else ""))
    return "".join(parts)


def _text(svg: svgwrite.Drawing, run: TextRun) -> BaseElement:
    x, y = number(run.at[0]), number(run.at[1])
    text = svg.text(
        run.text,
        x=[x],
        y=[y],
        font_family=FONT,
        font_size=number(run.size),
        font_weight=run.weight,
        text_anchor=run.anchor,
        fill=run.color,
    )
    if run.turn:
        text["transform"] = f"rotate({number(-run.turn)} {x} {y})"
    return text


def turned(point: Pt, about: Pt, degrees: float) -> Pt:
    """A point turned anticlockwise (as seen on paper) about another."""
    if not degrees:
        # Rounded as if it had been turned.
        return (about[0] + (point[0] - about[0]), about[1] + (point[1] - about[1]))
    angle = math.radians(degrees)
    dx, dy = point[0] - about[0], point[1] - about[1]
    return (
        about[0] + dx * math.cos(angle) + dy * math.sin(angle),
        about[1] - dx * math.sin(angle) + dy * math.cos(angle),
    )
