"""Prisms: what is cut away along a straight run with a slanting section. Shared by dovetails and sliding dovetails."""

from __future__ import annotations

from drawleaf.joinery.family import Meeting
from drawleaf.model.place import Axis, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.shapes import Corner, Outline, OutlineCut
from drawleaf.units import Length

BEYOND = Length.of_mm(1)
"""So far a cutter runs past the wood where a cut is open."""


def prism(
    meeting: Meeting,
    part: Part,
    kind: str,
    into: Face,
    run: Axis,
    along: Span,
    points: list[tuple[Length, Length]],
    joint: str,
) -> OutlineCut:
    """What is cut from a part ``along`` its run; ``points`` go round the section, each by its place along the joint's axis and then across it."""
    first = run.others()[0] is meeting.axis
    corners = tuple(Corner(deep, wide) if first else Corner(wide, deep) for deep, wide in points)
    body = part.body.span(run)
    opened = tuple(end for end in (run.low, run.high) if along.end(end.side) == body.end(end.side))
    return OutlineCut(kind, into, Outline(run, corners), along, opened, False, joint, meeting.position)
