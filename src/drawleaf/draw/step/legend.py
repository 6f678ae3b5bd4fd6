"""The legend of a step's drawing, which says what its marks mean: screws, those that go in from behind, clamps, diagonals."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from drawleaf.draw.paper.frame import extent
from drawleaf.draw.paper.lettering import cap_height, label, place
from drawleaf.draw.paper.style import MEASURE
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import Vector, View
from drawleaf.draw.step.clamps import clamp_sign
from drawleaf.draw.step.fastener_marks import END_ON, fastener_reach, mark
from drawleaf.draw.step.help_marks import help_sign
from drawleaf.model.catalogue import PLUG, FastenerKind
from drawleaf.model.plan import Fastener
from drawleaf.model.steps import Pose, Scene

_SIGN, _GAP, _APART = 7.0, 1.6, 5.0
_AWAY = 1e-9
ROW = 6.2
"""Millimetres from one row of signs to the next."""


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
    alike: int = 1,
) -> list[Entry]:
    """What the drawing shows of each kind of mark."""
    found: list[Entry] = []
    if scene.pose is not Pose.UPRIGHT:
        found.append(_words(f"The piece lies {scene.pose} here."))
    elif side := unusual_side(view):
        found.append(_words(f"Seen from {side}."))
    if alike > 1:
        found.append(_words(alike_words(alike)))
    for name in ("screw", FastenerKind.BRAD, FastenerKind.PEG, FastenerKind.DOWEL, FastenerKind.LOOSE_TENON, "plug"):
        brads = name != "screw"
        some = [f for f in scene.fasteners if _called(f) == name]
        for behind in (False, True):
            ways = {_end_on(view, window, f, offsets) for f in some if _behind(view, f) is behind}
            for end_on in sorted(ways):
                found.append(_fastener(name, brads, behind, end_on))
    if clamps:
        found.append(Entry(clamp_sign, "clamp"))
    if helps:
        found.append(Entry(help_sign, "scrap that comes off again"))
    if diagonals:
        found.append(Entry(_diagonal, "measure A and B: equal"))
    return found


def unusual_side(view: View) -> str:
    """``the back``, ``below``, or ``the back and below``: where the eye is, if not in front of the piece and above it, where a reader takes
    it to be: left is on the right then. Empty for the usual views."""
    _, y, z = view.axes[2]
    return " and ".join(name for name, there in (("the back", y > _AWAY), ("below", z < -_AWAY)) if there)


def alike_words(count: int) -> str:
    """That one stands for so many."""
    return f"1 of {count}, all alike." if count > 2 else "1 of 2, both alike."


def _words(words: str) -> Entry:
    return Entry(lambda sketch, at: None, words, 0.0)


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
    """The signs with their words in rows below all that is drawn, no wider than the ``room`` (mm)."""
    if not found:
        return
    left, _, right, bottom = extent(sketch)
    y = bottom + 5.5
    for row in _rows(found, room):
        wide = sum(map(_width, row)) + _APART * (len(row) - 1)
        x = (left + right) / 2 - wide / 2
        for one in row:
            _draw(sketch, one, x, y)
            x += _width(one) + _APART
        y += ROW


def add_column(sketch: Sketch, found: Sequence[Entry], left: float, top: float) -> None:
    """The signs with their words one below the other, from a corner on paper."""
    wide = max((one.sign for one in found), default=0.0)
    for place_in, one in enumerate(found):
        _draw(sketch, one, left + (wide - one.sign if one.sign else 0.0), top + ROW * (place_in + 0.5))


def column_size(found: Sequence[Entry]) -> tuple[float, float]:
    """How wide and high (mm) the signs with their words are, one below the other."""
    return max(map(_width, found), default=0.0), ROW * len(found)


def rows_height(found: Sequence[Entry], room: float) -> float:
    """How much height (mm) the signs take in rows no wider than the ``room`` (mm)."""
    return 2.4 + ROW * len(_rows(found, room)) if found else 0.0


def _rows(found: Sequence[Entry], room: float) -> list[list[Entry]]:
    rows: list[list[Entry]] = [[]]
    used = 0.0
    for entry in found:
        wide = _width(entry)
        if rows[-1] and used + wide > room:
            rows.append([])
            used = 0.0
        rows[-1].append(entry)
        used += wide + _APART
    return rows


def _width(one: Entry) -> float:
    return one.sign + _GAP + label(one.words).width


def _draw(sketch: Sketch, one: Entry, x: float, y: float) -> None:
    """A sign from ``x`` on, its middle at ``y``, and its words; all words of a row stand on one line, whether they have descenders or not."""
    one.paint(sketch, (x + one.sign / 2, y))
    place(sketch, label(one.words), (x + one.sign + _GAP, y + cap_height() / 2))
