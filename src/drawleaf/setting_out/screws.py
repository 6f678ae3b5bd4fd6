"""Screws as they are set out and bored for: the line they stand on, the clearance hole and the pilot hole."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.friendly import from_low_end
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Fastener, Part, Plan, in_own_frame
from drawleaf.model.screw_sizes import shank
from drawleaf.units import ZERO, Length, LengthFormat, Units

SIXTY_FOURTH = Fraction(1, 64)
SLOT_HOLES = 4
"""How long a slot is, in holes: one more on either side, half a hole of wood between them cleared. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class ScrewLine:
    """Screws of one size through one part into another. ``along`` are distances from the ``end`` face, nearest first;
    ``across`` the distance of the line from the ``edge`` face, both of the part that the screws go through."""

    item: HardwareItem
    through: str
    into: str
    face: Face
    end: Face
    along: tuple[Length, ...]
    edge: Face
    across: Length
    slotted: bool = False
    sunk: Length = ZERO
    plug: HardwareItem | None = None
    counterbore: Length | None = None

    @property
    def count(self) -> int:
        return len(self.along)


def screw_lines(plan: Plan, fasteners: tuple[Fastener, ...]) -> tuple[ScrewLine, ...]:
    """The fasteners gathered into lines by size, by their hole and by the two parts they join, in the order driven."""
    groups: dict[tuple, list[Fastener]] = {}
    for fastener in fasteners:
        # A screw held fast between others in slots stands in a line of its own: its hole is another.
        plug = fastener.plug.id if fastener.plug is not None else ""
        hole = fastener.slotted, fastener.sunk, plug, fastener.counterbore
        key = fastener.item.id, fastener.through, fastener.into, fastener.joint, hole
        groups.setdefault(key, []).append(fastener)
    found: list[ScrewLine] = []
    for group in groups.values():
        part = plan.part(group[0].through)
        found += _rows(part, [in_own_frame(part, fastener) for fastener in group])
    return tuple(found)


def _rows(part: Part, group: list[Fastener]) -> list[ScrewLine]:
    """One line, or several side by side where the screws stand in rows."""
    run, across = _run(part, group)
    rows: dict[Length, list[Fastener]] = {}
    for fastener in group:
        rows.setdefault(fastener.at.along(across), []).append(fastener)
    return [_line(part, row, run, across) for row in rows.values()]


def _run(part: Part, group: list[Fastener]) -> tuple[Axis, Axis]:
    """The axis along which the screws are spread, and the other one of the face they enter."""
    a, b = entered_face(group[0]).axis.others()

    def spread(axis: Axis) -> Length:
        values = [fastener.at.along(axis) for fastener in group]
        return max(values) - min(values)

    return (a, b) if (spread(a), part.body.extent(a)) >= (spread(b), part.body.extent(b)) else (b, a)


def entered_face(fastener: Fastener) -> Face:
    """The face that the head sits on."""
    axis = max(Axis, key=lambda axis: abs(fastener.direction[axis.index]))
    return Face.of(axis, -1 if fastener.direction[axis.index] > 0 else 1)


def _line(part: Part, group: list[Fastener], run: Axis, across: Axis) -> ScrewLine:
    face = entered_face(group[0])
    span = part.body.span(run)
    low, high = min(f.at.along(run) for f in group), max(f.at.along(run) for f in group)
    end = run.low if from_low_end(low - span.low, span.high - high) else run.high
    line = group[0].at.along(across)
    edge = _nearer(part, across, line)
    along = tuple(sorted(abs(fastener.at.along(run) - part.body.face(end)) for fastener in group))
    first = group[0]
    across_edge = abs(line - part.body.face(edge))
    hidden = (first.slotted, first.sunk, first.plug, first.counterbore)
    return ScrewLine(first.item, first.through, first.into, face, end, along, edge, across_edge, *hidden)


def _nearer(part: Part, axis: Axis, at: Length) -> Face:
    span = part.body.span(axis)
    return axis.low if at - span.low <= span.high - at else axis.high


def clearance_hole(gauge: int) -> Length:
    """The hole through the first part: the shank, up to the next 1/64 in, so that the screw pulls the parts together."""
    return Length.of_inches(-((-shank(gauge).inches) // SIXTY_FOURTH) * SIXTY_FOURTH)


def clearance_bit(gauge: int, lengths: LengthFormat) -> Length:
    """The clearance hole as a plan in these units prints it: up to the next size in millimetres, never down onto the shank."""
    hole = clearance_hole(gauge)
    if lengths.units is not Units.MM:
        return hole
    return Length(-((-hole.exact_mm) // lengths.mm_step) * lengths.mm_step)


def pilot_hole(gauge: int, gravity: float) -> Length:
    """The lead hole in the part that holds the thread, in 1/64 in.

    Root diameter is two-thirds of the shank (Wood Handbook, chapter 8). All of it in hard wood, of a specific gravity over 0.6 (NDS 12.1.5.3,
    side loads, from memory): at the 90% that withdrawal asks for, a screw snaps or strips in maple. 70% below (NDS 12.1.5, withdrawal).
    NDS asks for no hole at 0.5 and below; we bore 70% there too, because screws near an end split a board.
    """
    root = shank(gauge).inches * Fraction(2, 3)
    hole = root * (1 if gravity > 0.6 else Fraction(7, 10))
    sixty_fourths = max(1, int(hole / SIXTY_FOURTH + Fraction(1, 2)))
    return Length.of_inches(sixty_fourths * SIXTY_FOURTH)
