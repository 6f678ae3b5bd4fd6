"""How the bench makes a sliding dovetail: the socket first, then the tail that is fitted to it; and how far it is glued."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import atan, degrees

from drawleaf.joinery.bench import BenchWork, Cut, CutNote, Note, first_outline, reach_within
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Feature, Joint, Part, Plan
from drawleaf.model.settings import Settings, Value
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import Length

SOCKET, TAIL = "sliding socket", "sliding tail"
GLUED = Length.of_mm(50)
"""So much of a long sliding dovetail is glued, at the end that shows: 2 in. Common practice, no source."""
SHORT = Length.of_mm(100)
"""A sliding dovetail up to this length is glued all along. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Section:
    """A socket across its run: how wide at its mouth (the ``neck`` of the tail) and at its floor, how deep; the cut that it is read from."""

    part: Part
    cut: OutlineCut
    into: Axis
    across: Axis
    neck: Length
    wide: Length
    deep: Length

    @property
    def run(self) -> Axis:
        return self.cut.outline.axis

    @property
    def angle(self) -> Fraction:
        """Of the bit, in whole degrees."""
        lean = (self.wide - self.neck) / 2
        return Fraction(round(degrees(atan(lean.mm / self.deep.mm))))

    @property
    def mouth(self) -> Span:
        """From where to where it is open in the face, across its run."""
        middle = self.cut.outline.span(self.across).middle
        return Span(middle - self.neck / 2, middle + self.neck / 2)

    @property
    def edge(self) -> Face:
        """The side of the part that the socket is measured from: the nearer one."""
        body = self.part.body.span(self.across)
        return self.across.low if self.mouth.low - body.low <= body.high - self.mouth.high else self.across.high

    @property
    def lines(self) -> tuple[Length, Length]:
        """How far the two lines of its mouth are from that side."""
        edge = self.part.body.face(self.edge)
        near, far = sorted((abs(self.mouth.low - edge), abs(self.mouth.high - edge)))
        return near, far

    @property
    def stops(self) -> tuple[tuple[Face, Length], ...]:
        """The ends where it stops short, and how far."""
        body, span = self.part.body.span(self.run), self.cut.span
        ends = ((self.run.low, span.low - body.low), (self.run.high, body.high - span.high))
        return tuple((face, room) for face, room in ends if room)


def section(part: Part, cut: OutlineCut) -> Section:
    """A socket as one reads it off its outline: widths at the face of the part and at its floor."""
    into = cut.into.axis
    across = next(axis for axis in cut.outline.axis.others() if axis is not into)
    points = cut.outline.points(into)
    surface = part.body.face(cut.into)
    at_face = [wide for deep, wide in points if deep == surface]
    floor = max((deep for deep, _ in points), key=lambda deep: (surface - deep) * cut.into.side)
    at_floor = [wide for deep, wide in points if deep == floor]
    return Section(
        part,
        cut,
        into,
        across,
        max(at_face) - min(at_face),
        max(at_floor) - min(at_floor),
        abs(surface - floor),
    )


def section_of(receiver: Part, joint: Joint) -> Section | None:
    """The socket of a joint; None where it has none."""
    cut = first_outline(receiver, joint, SOCKET)
    return None if cut is None else section(receiver, cut)


def glued_end(receiver: Part, joint: Joint) -> tuple[Face, Span] | None:
    """The end that is glued where the joint is long: the stopped one, else the front, the bottom or the left."""
    found = section_of(receiver, joint)
    if found is None or found.cut.span.extent <= SHORT:
        return None
    face = found.run.high if any(end is found.run.high for end, _ in found.stops) else found.run.low
    edge = found.cut.span.end(face.side)
    inner = edge - GLUED * face.side
    return face, Span.between(edge, inner)


def size_line(receiver: Part, joint: Joint) -> tuple[Note, ...]:
    """The line under a detail."""
    found = section_of(receiver, joint)
    if found is None:
        return ()
    sizes: Note = ("Socket ", found.neck, " wide at its mouth, ", found.wide, " at its floor, ", found.deep, " deep.")
    return (sizes, (f"Its sides lean {found.angle} degrees.",))


@dataclass(frozen=True, slots=True)
class SlidingSettings(Settings):
    """A socket or tail: how wide at the face or shoulder (``neck``) and at its widest (``wide``), how deep or long, the ``angle`` of the
    bit in degrees."""

    neck: Length
    wide: Length
    depth: Length
    angle: Fraction


@dataclass(frozen=True, slots=True)
class SlidingTailSettings(SlidingSettings):
    """``on_end``: the tail stands on an end of its part, not along an edge."""

    on_end: bool


@dataclass(frozen=True, slots=True)
class SocketRunSettings(SlidingSettings):
    """``offset`` is how far the nearer line is from the side that the socket is measured from; ``stops`` how far short of an end it stops."""

    offset: Length
    stops: tuple[Length, ...]

    def named(self) -> Iterator[tuple[str, Value]]:
        yield from (("neck", self.neck), ("wide", self.wide), ("depth", self.depth), ("angle", self.angle))
        yield "offset", self.offset
        yield from (("stop", room) for room in self.stops)


def _socket(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> SocketRunSettings:
    (cut,) = cuts
    assert isinstance(cut, OutlineCut)
    one = section(part, cut)
    return SocketRunSettings(
        one.neck, one.wide, one.deep, one.angle, one.lines[0], tuple(room for _, room in one.stops)
    )


def _tail(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> SlidingTailSettings:
    joint = plan.joint(cuts[0].joint)
    found = section_of(plan.part(joint.receiver), joint)
    assert found is not None
    return SlidingTailSettings(found.neck, found.wide, found.deep, found.angle, joint.face.axis is part.length_axis)


def _socket_agrees(told: SocketRunSettings, part: Part, cut: Feature) -> bool:
    """Mouth and floor by the area of the void within the wood, which is as deep as the line says."""
    if not isinstance(cut, OutlineCut):
        return False
    into = cut.into.axis
    across = next(axis for axis in cut.outline.axis.others() if axis is not into)
    wide, deep = cut.outline.span(across), reach_within(part, cut, into)
    outside = cut.outline.span(into).extent - deep
    area = abs(_area(cut)) - outside.mm * told.neck.mm
    body_run, span = part.body.span(cut.outline.axis), cut.span
    stops = tuple(room for room in (span.low - body_run.low, body_run.high - span.high) if room)
    side = part.body.span(across)
    lean = (told.wide - told.neck) / 2
    near = min(wide.low - side.low, side.high - wide.high) + lean
    sound = deep == told.depth and wide.extent == told.wide and stops == told.stops and near == told.offset
    return sound and abs(area - (told.neck + told.wide).mm / 2 * deep.mm) < 0.01


def _tail_agrees(told: SlidingTailSettings, part: Part, cut: Feature) -> bool:
    """What is taken off beside a tail is as long as the tail and leans by the difference of its widths."""
    if not isinstance(cut, OutlineCut):
        return False
    axes = cut.outline.axis.others()
    slants = [
        (abs(b.u - a.u), abs(b.v - a.v))
        for a, b in zip(cut.outline.corners, (*cut.outline.corners[1:], cut.outline.corners[0]), strict=True)
        if a.u != b.u and a.v != b.v
    ]
    along = axes.index(next(axis for axis in axes if axis is not part.thickness))
    return [(one[along], one[1 - along]) for one in slants] == [(told.depth, (told.wide - told.neck) / 2)]


def _area(cut: OutlineCut) -> float:
    corners = cut.outline.corners
    return sum(a.u.mm * b.v.mm - b.u.mm * a.v.mm for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)) / 2


def _socket_marks(part: Part, cuts: tuple[Cut, ...]) -> Note:
    """``on the inside face: lines 200 mm and 215 mm from the bottom end, stopping 12 mm from the front edge``."""
    (cut,) = cuts
    assert isinstance(cut, OutlineCut)
    one = section(part, cut)
    words: Note = ("on the ", cut.into, ": lines ", one.lines[0], " and ", one.lines[1], " from the ", one.edge)
    for face, room in one.stops:
        words = (*words, ", stopping ", room, " from the ", face)
    return words


def _socket_notes(plan: Plan, part: Part) -> Iterable[CutNote]:
    for (cut,) in SOCKETS.pieces(part):
        assert isinstance(cut, OutlineCut)
        one = section(part, cut)
        note: Note = ("Socket of a sliding dovetail, ", one.neck, " wide at the face, ", one.wide, " at its floor, ")
        note = (*note, one.deep, " deep")
        for face, room in one.stops:
            note = (*note, ", stops ", room, " from the ", face)
        at = part.body.with_span(one.across, one.mouth).with_span(one.run, cut.span)
        yield CutNote(at, ((one.edge, one.lines),), note)


def _tail_notes(plan: Plan, part: Part) -> Iterable[CutNote]:
    for cuts in TAILS.pieces(part):
        joint = plan.joint(cuts[0].joint)
        told = _tail(plan, part, cuts)
        end = joint.face.axis
        edge = part.body.face(joint.face)
        inner = edge - told.depth * joint.face.side
        at: Box = part.body.with_span(end, Span.between(edge, inner))
        note: Note = ("Sliding tail, ", told.depth, " long, ", told.wide, " wide at its end, ")
        yield CutNote(
            at, ((joint.face, (told.depth,)),), (*note, told.neck, f" at the shoulder ({told.angle} degrees)")
        )


SOCKETS = BenchWork(
    SOCKET,
    "sliding-socket",
    ("Cut the sliding socket in the {}", "Cut the sliding sockets in the {}"),
    SocketRunSettings,
    _socket,
    _socket_agrees,
    notes=_socket_notes,
    marks=_socket_marks,
)
TAILS = BenchWork(
    TAIL,
    "sliding-tail",
    ("Cut the sliding tail on the {}", "Cut the sliding tails on the {}"),
    SlidingTailSettings,
    _tail,
    _tail_agrees,
    whole_joint=True,
    notes=_tail_notes,
)
WORKS = (SOCKETS, TAILS)
