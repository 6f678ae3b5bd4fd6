"""A line below a step's drawing that says what its marks mean: screws, those that go in from behind, clamps, diagonals."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from drawleaf.draw.paper.frame import extent
from drawleaf.draw.paper.lettering import label, place
from drawleaf.draw.paper.style import MEASURE
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import Vector, View
from drawleaf.draw.step.clamp_marks import wedge
from drawleaf.draw.step.fastener_marks import END_ON, fastener_reach, mark
from drawleaf.draw.step.help_marks import help_sign
from drawleaf.model.catalogue import PLUG, FastenerKind
from drawleaf.model.plan import Fastener
from drawleaf.model.steps import Pose, Scene

_SIGN, _GAP, _APART, _ROW = 7.0, 1.6, 5.0, 6.2


class Entry(NamedTuple):
    """How a sign is painted about a point, and what it means."""

    paint: Callable[[Sketch, Pt], None]
    words: str
    sign: float = _SIGN
    """How wide the sign is."""


def entries(
    view: View,
    window: Window,
    scene: Scene,
    offsets: Mapping[str, Vector],
    *,
    clamps: bool,
    diagonals: bool,
    helps: bool = False,
) -> list[Entry]:
    """What the drawing shows of each kind of mark."""
    found: list[Entry] = []
    if scene.pose is not Pose.UPRIGHT:
        found.append(Entry(lambda sketch, at: None, f"The piece lies {scene.pose} here.", 0.0))
    for name in ("screw", FastenerKind.BRAD, FastenerKind.PEG, FastenerKind.DOWEL, FastenerKind.LOOSE_TENON, "plug"):
        brads = name != "screw"
        some = [f for f in scene.fasteners if _called(f) == name]
        for behind in (False, True):
            ways = {_end_on(view, window, f, offsets) for f in some if _behind(view, f) is behind}
            for end_on in sorted(ways):
                found.append(_fastener(name, brads, behind, end_on))
    if clamps:
        found.append(Entry(lambda sketch, at: wedge(sketch, (at[0] - 2.8, at[1]), (1.0, 0.0)), "clamp presses here"))
    if helps:
        found.append(Entry(help_sign, "scrap that comes off again"))
    if diagonals:
        found.append(Entry(_diagonal, "measure A and B: equal"))
    return found


def _called(fastener: Fastener) -> str:
    if fastener.item.pin:
        return fastener.item.kind
    if fastener.item.kind == PLUG:
        return "plug"
    return FastenerKind.BRAD if fastener.item.kind == FastenerKind.BRAD else "screw"


def _behind(view: View, fastener: Fastener) -> bool:
    return float(view.axes[2] @ np.array(fastener.direction)) > 0.1


def _end_on(view: View, window: Window, fastener: Fastener, offsets: Mapping[str, Vector]) -> bool:
    head, hole = (window.point(view, point) for point in fastener_reach(fastener, offsets))
    return ((head[0] - hole[0]) ** 2 + (head[1] - hole[1]) ** 2) ** 0.5 < END_ON


def _fastener(name: str, brad: bool, behind: bool, end_on: bool) -> Entry:
    def paint(sketch: Sketch, at: Pt) -> None:
        reach = 0.0 if end_on else 3.0
        mark(sketch, (at[0] - reach, at[1]), (at[0] + reach, at[1]), brad=brad, behind=behind)

    return Entry(paint, f"{name} driven from behind" if behind else name)


def _diagonal(sketch: Sketch, at: Pt) -> None:
    sketch.line(MEASURE, (at[0] - 3.0, at[1] + 1.2), (at[0] + 3.0, at[1] - 1.2))


def add_legend(sketch: Sketch, found: Sequence[Entry], room: float) -> None:
    """The signs with their words in rows below all that is drawn, no wider than the ``room``."""
    if not found:
        return
    left, _, right, bottom = extent(sketch)
    rows: list[list[Entry]] = [[]]
    used = 0.0
    for entry in found:
        wide = entry.sign + _GAP + label(entry.words).width
        if rows[-1] and used + wide > room:
            rows.append([])
            used = 0.0
        rows[-1].append(entry)
        used += wide + _APART
    y = bottom + 5.5
    for row in rows:
        wide = sum(one.sign + _GAP + label(one.words).width for one in row) + _APART * (len(row) - 1)
        x = (left + right) / 2 - wide / 2
        for one in row:
            text = label(one.words)
            one.paint(sketch, (x + one.sign / 2, y))
            place(sketch, text, (x + one.sign + _GAP, y + (text.above - text.below) / 2))
            x += one.sign + _GAP + text.width + _APART
        y += _ROW
