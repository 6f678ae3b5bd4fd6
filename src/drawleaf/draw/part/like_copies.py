"""Parts of one row of the cut list stand in different places and ways up: how the sides of one answer to those of another."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.derive.cut_list.shape_key import Turn, described, turns_of
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part

Sides = dict[Face, Face]
"""For each side of one part, the side of the other that is the same side of the same piece."""


def same_sides(other: Part, first: Part) -> Iterator[Sides]:
    """All ways in which ``other`` can be turned (never mirrored) to be the very piece ``first``, the least turned first."""
    own = turns_of(first)[0]
    wanted = described(first, own)
    turns = [turn for turn in turns_of(other) if turn.keeps_hand is own.keeps_hand and described(other, turn) == wanted]
    for turn in sorted(turns, key=lambda turn: _moved(turn, own)):
        yield {face: _answer(face, turn, own) for face in Face}


def _answer(face: Face, turn: Turn, own: Turn) -> Face:
    place, side = turn.face(face)
    return Face.of(own.axes[place], -side if own.flips[place] else side)


def _moved(turn: Turn, own: Turn) -> int:
    """How many sides change their name."""
    return sum(_answer(face, turn, own) is not face for axis in Axis for face in (axis.low, axis.high))
