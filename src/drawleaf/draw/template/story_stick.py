"""A strip of wood to set holes out with: full size about each hole, the wood between them left out, their distances printed."""

from __future__ import annotations

from itertools import pairwise

from drawleaf.draw.paper.dimensions import Dimension, place_dimensions
from drawleaf.draw.paper.lettering import Rich, label, length_label, place_centered
from drawleaf.draw.paper.style import BREAK, CENTER, NARROW, SOFT_INK, VISIBLE
from drawleaf.draw.paper.svg import Circle, Sketch
from drawleaf.draw.picture.lay import face_name
from drawleaf.draw.template.subject import Subject
from drawleaf.model.place import Face
from drawleaf.units import ZERO, LengthFormat

_ABOUT, _GAP = 24.0, 8.0
"""Strip shown on either side of a hole, and the clear paper between two pieces of it, in mm."""


def is_stick(subject: Subject, widest: float) -> bool:
    """Whether holes in one line stand too far apart for a template on one sheet, and their pieces of a strip do not."""
    across = (subject.right - subject.left).mm
    pieces = len(subject.holes) * (2 * _ABOUT + _GAP) - _GAP
    return across > widest >= pieces and len({hole.up for hole in subject.holes}) == 1


def compose_stick(form: LengthFormat, subject: Subject) -> tuple[Sketch, float]:
    """The strip from above, its upper edge at 0, and how far down it reaches with its dimensions."""
    sketch = Sketch()
    high = (subject.high - subject.low).mm
    level = (subject.high - subject.holes[0].up).mm
    middles = [_ABOUT + k * (2 * _ABOUT + _GAP) for k in range(len(subject.holes))]
    for x, hole in zip(middles, subject.holes, strict=True):
        for y in (0.0, high):
            sketch.line(VISIBLE, (x - _ABOUT, y), (x + _ABOUT, y))
        for end in (x - _ABOUT, x + _ABOUT):
            sketch.line(BREAK, (end, 0.0), (end, high))
        radius = hole.diameter.mm / 2
        sketch.shape(NARROW, Circle((x, level), radius))
        sketch.line(CENTER, (x - radius - 2.5, level), (x + radius + 2.5, level))
        sketch.line(CENTER, (x, level - radius - 2.5), (x, level + radius + 2.5))
    right = middles[-1] + _ABOUT
    edge = _edge(subject)
    from_edge = (
        subject.holes[0].up
        if edge is subject.lay.up.opposite
        else subject.lay.reach(subject.lay.up) - subject.holes[0].up
    )
    low_end, high_end = (level, high) if edge is subject.lay.up.opposite else (0.0, level)
    depth = right - middles[-1]
    starts = (depth, 0.0) if edge is subject.lay.up.opposite else (0.0, depth)
    place_dimensions(
        sketch, "right", right, [Dimension(low_end, high_end, length_label(form, from_edge), starts)], level=True
    )
    apart = [
        Dimension(a, b, length_label(form, other.across - one.across), (high - level, high - level))
        for (a, one), (b, other) in pairwise(zip(middles, subject.holes, strict=True))
    ]
    low = high + place_dimensions(sketch, "bottom", high, apart)
    name = label(face_name(subject.lay.part, edge))
    y = name.height / 2 + 1.4 if edge is subject.lay.up else high - name.height / 2 - 1.4
    place_centered(sketch, name, (middles[0] - _ABOUT + name.width / 2 + 1.5, y), color=SOFT_INK)
    return sketch, low


def stick_lines(subject: Subject) -> tuple[Rich, ...]:
    """How the strip is marked and used."""
    part, edge = subject.lay.part, face_name(subject.lay.part, _edge(subject))
    who = f"{subject.item.number} {subject.item.name}"
    return (
        ("Mark the holes on a straight strip of wood at these distances, and bore them.",),
        (
            f"Lay it on the {face_name(part, subject.lay.face)} of {who}, edge on the {edge}: its holes must stand over the others.",
        ),
        ("Hold it on the wall where the piece will hang, that edge level, and mark the wall through the holes.",),
    )


def _edge(subject: Subject) -> Face:
    """The edge of the part that the strip's edge stands for."""
    return subject.lay.up.opposite if subject.low == ZERO else subject.lay.up
