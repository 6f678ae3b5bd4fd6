"""Distances from one datum along one line (superimposed running dimensions, ISO 129-1): a small circle at the datum, an arrow at each
place, its distance at the end of its extension line."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.lettering import Label, place_centered
from drawleaf.draw.paper.style import DIMENSION
from drawleaf.draw.paper.svg import Circle, Pt, Sketch

_CLEAR, _LINE, _END, _JOG = 1.0, 6.0, 7.6, 3.4
_GAP, _WORD_GAP = 1.4, 2.4
"""Between values that stand one below the other, and side by side."""
_CIRCLE = 0.9
_FAR = 7.0
"""A level value is at most so many mm beside its place."""

Mark = tuple[float, Label]
"""A place along the side on paper, and the words for its distance."""


def place_running(
    sketch: Sketch,
    side: str,
    edge: float,
    datum: Mark,
    marks: Sequence[Mark],
    start: float = 0.0,
    limit: float = 1e9,
    least: float = -1e9,
) -> float:
    """Draws the distances outside ``side`` (right, left, bottom or top) of a view whose outline there is at ``edge``; extension lines begin
    ``start`` inside it; no value stands past ``limit`` along the side, nor before ``least``. Values are read from the bottom; below and above
    a view from the right where they are too many to stand level near their places. Returns how many mm they reach out."""
    upright = side in ("right", "left")
    out = 1.0 if side in ("right", "bottom") else -1.0

    def at(along: float, away: float) -> Pt:
        return (edge + out * away, along) if upright else (along, edge + out * away)

    every = sorted([datum, *marks], key=lambda mark: mark[0])
    wanted = [along for along, _ in every]
    turn = not upright and not near(every, limit, least, upright=False)
    places = spread(wanted, [_room(text, upright=upright or turn) for _, text in every], limit, least)
    deep = [text.width if upright or turn else text.height for _, text in every]
    for (along, text), where, depth in zip(every, places, deep, strict=True):
        bend = [at(along, _CLEAR - start), at(along, _END)]
        bend += [at(where, _END + _JOG), at(where, _END + _JOG + 0.8)]
        sketch.line(DIMENSION, *bend)
        place_centered(sketch, text, at(where, _END + _JOG + 1.4 + depth / 2), turn=90 if turn else 0)
    furthest = [min(every, key=lambda m: m[0])[0], max(every, key=lambda m: m[0])[0]]
    sketch.shape(DIMENSION, Circle(at(datum[0], _LINE), _CIRCLE))
    for end in furthest:
        if abs(end - datum[0]) > _CIRCLE:
            sign = 1.0 if end > datum[0] else -1.0
            sketch.line(DIMENSION, at(datum[0] + sign * _CIRCLE, _LINE), at(end, _LINE))
    for along, _ in marks:
        if abs(along - datum[0]) > 1.5:
            arrow(sketch, at(along, _LINE), at(datum[0], _LINE), length=min(2.5, abs(along - datum[0]) - _CIRCLE))
    return _END + _JOG + 1.4 + max(deep)


def near(marks: Sequence[Mark], limit: float = 1e9, least: float = -1e9, *, upright: bool) -> bool:
    """Whether the values of marks in rising order all stand level near their places along a side: an ``upright`` one, or one below or above a view."""
    wanted = [along for along, _ in marks]
    places = spread(wanted, [_room(text, upright=upright) for _, text in marks], limit, least)
    return max(abs(a - b) for a, b in zip(places, wanted, strict=True)) <= _FAR


def _room(text: Label, *, upright: bool) -> float:
    """Millimetres of the side that a value takes."""
    return text.height + _GAP if upright else text.width + _WORD_GAP


def spread(wanted: Sequence[float], sizes: Sequence[float], limit: float = 1e9, least: float = -1e9) -> list[float]:
    """Places for labels along a line: as near as can be to where each is wanted (in rising order), none upon its neighbour, none past the limit
    and none before ``least``; where there is too little room for both, past the limit."""
    groups: list[tuple[list[int], float, float]] = []  # members, middle, size together
    for index, place in enumerate(wanted):
        groups.append(([index], place, sizes[index]))
        while len(groups) > 1 and groups[-2][1] + groups[-2][2] / 2 > groups[-1][1] - groups[-1][2] / 2 + 1e-9:
            second, first = groups.pop(), groups.pop()
            members = first[0] + second[0]
            size = first[2] + second[2]
            low = sum(wanted[i] - _before(members, sizes, i) for i in members) / len(members)
            groups.append((members, low + size / 2, size))
    found: list[float] = []
    for members, middle, size in groups:
        low = middle - size / 2
        found += [low + _before(members, sizes, i) for i in members]
    for i in reversed(range(len(found))):
        found[i] = min(found[i], limit - sizes[i] / 2)
        limit = found[i] - sizes[i] / 2
    for i in range(len(found)):
        found[i] = max(found[i], least + sizes[i] / 2)
        least = found[i] + sizes[i] / 2
    return found


def _before(members: Sequence[int], sizes: Sequence[float], index: int) -> float:
    """From the start of a group to the middle of one of its labels."""
    return sum(sizes[i] for i in members if i < index) + sizes[index] / 2
