"""Screws and brads where a part leans: square to the receiver's face, through the receiver into the end that lies against it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from drawleaf.joinery import screws
from drawleaf.joinery.family import Drive
from drawleaf.joinery.fastening import chosen_for
from drawleaf.joinery.leaning import Leaning
from drawleaf.joinery.planned import Asked, Planned, Result
from drawleaf.joinery.rows import row
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Point, Span
from drawleaf.model.plan import Fastener, Part
from drawleaf.model.shapes import Vector
from drawleaf.units import Length

STRAIGHT = 1e-3
"""A screw that drifts by less than this, to its length, runs straight along the part."""
BESIDE = 4.0
"""Millimetres from the middle of a screw's point to the face of the wood: half its shank and wood to cover it. Common practice, no source."""


def plan_leaning(leaning: Leaning, asked: Asked) -> Result:
    """The fasteners of one entry of ``with:`` at one meeting of which a part leans."""
    meeting, fastening = asked.meeting, asked.fastening
    insert, receiver = meeting.insert, meeting.receiver
    if fastening.kind not in ("screws", "brads") or (
        fastening.through is not None and receiver.id not in fastening.through
    ):
        return (), (
            Diagnostic(
                "leaning-drive",
                f"Where “{insert.id}” meets “{receiver.id}” at an angle, screws go through “{receiver.id}” into its end",
                fastening.position,
                "A screw set any other way would not run square to a face.",
                f"Write “screws: {{through: {receiver.id}}}”, or leave “through” out.",
            ),
        )
    drive = Drive(receiver, insert, meeting.face)
    half = Fraction(leaning.length / 2).limit_denominator(1000)
    stretch = Span(Length.of_mm(-half), Length.of_mm(half))
    places = row(stretch, fastening.count, fastening.every, fastening.ends)
    through = _length(leaning.through)
    hold = screws.Hold(through, through, _room(insert, leaning, places))
    chosen, found = chosen_for(asked, hold, drive)
    if chosen is None:
        return (), found
    direction = (-leaning.normal[0] + 0.0, -leaning.normal[1] + 0.0, -leaning.normal[2] + 0.0)
    head = np.array(leaning.middle) + np.array(leaning.normal) * leaning.through
    planned = []
    for place in places:
        at = head + np.array(leaning.along) * place.mm
        point = Point(*(_length(float(value)) for value in at))
        fastener = chosen.sunk(Fastener(chosen.item, point, direction, receiver.id, insert.id, asked.joint))
        slide = max(Axis, key=lambda axis: abs(leaning.along[axis.index]))
        planned.append(Planned(fastener, slide, Span(point.along(slide), point.along(slide))))
    return tuple(planned), found


def _room(insert: Part, leaning: Leaning, places: Sequence[Length]) -> Length:
    """How far screws at these places may run into the insert: less than its length where it leans, since there they drift to a side."""
    whole = insert.body.extent(leaning.own_face.axis)
    if insert.tilt is None:
        return whole
    drift = insert.tilt.back_direction((-leaning.normal[0], -leaning.normal[1], -leaning.normal[2]))
    room = whole.mm
    for place in places:
        at = insert.tilt.back(_triple(np.array(leaning.middle) + np.array(leaning.along) * place.mm))
        for axis in leaning.own_face.axis.others():
            step, span = drift[axis.index], insert.body.span(axis)
            if abs(step) > STRAIGHT:
                beside = span.high.mm - at[axis.index] if step > 0 else at[axis.index] - span.low.mm
                room = min(room, max(0.0, beside - BESIDE) / abs(step))
    return _length(room)


def _triple(point: NDArray[np.float64]) -> Vector:
    x, y, z = point.tolist()
    return (x, y, z)


def _length(mm: float) -> Length:
    return Length.of_mm(Fraction(mm).limit_denominator(10**6))
