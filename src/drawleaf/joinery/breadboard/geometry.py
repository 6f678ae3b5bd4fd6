"""Breadboard end: a cross piece that keeps a glued-up top flat and lets it swell and shrink.

The top has a short tongue all along its end, and tenons that stand out of it. The middle tenon fits and is glued; the outer ones have
room in their mortises on both sides, and their pegs stand in slots.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from drawleaf.joinery.breadboard import BREADBOARD
from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.proportion import Made, Proportion, thinned
from drawleaf.joinery.tenons import floor_of, floored, grown_box, nearest_chisel
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import ZERO, Length

# All common practice, no source.
LENGTH_SHARE = Fraction(2, 5)
TENON_EVERY = Length.of_mm(300)
TENON_SHARE = Fraction(1, 4)
MOVES = Fraction(1, 40)
"""Room on each side of an outer tenon, as a share of how far its outer edge is from the middle of the top."""
PEG_AT = Fraction(2, 5)
_STEP = {"in": Length.of_inches(Fraction(1, 16)), "mm": Length.of_mm(1)}


@dataclass(frozen=True, slots=True)
class Laid:
    """The tongue and its tenons: ``across`` their thickness, ``tenons`` along the end, each with its room; how long each is."""

    across: Span
    tenons: tuple[tuple[Span, Length], ...]
    tongue: Length
    length: Length


@dataclass(frozen=True, slots=True)
class Breadboard:
    """The first part is the top, the second the cross piece at its end. ``thickness`` a third of the wood, ``depth`` the length of the
    tenons, ``haunch`` that of the tongue, ``count`` an odd number of tenons, ``play`` the room beside the outermost."""

    facts: JointFamily = BREADBOARD

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        if not meeting.edge_on or meeting.receiver.grain is not meeting.run or meeting.insert.grain is not meeting.axis:
            return (
                Diagnostic(
                    "breadboard-grain",
                    f"“{meeting.receiver.id}” is no breadboard end for “{meeting.insert.id}”",
                    meeting.position,
                    "It lies along the end of the top, across the top's grain and with its own grain along that end.",
                    "Look at “grain” of both, and at which part is named first: the top.",
                ),
            )
        laid, unit, found = laid_out(meeting, terms), terms.unit, []
        if len(laid.tenons) % 2 == 0:
            found.append(
                Diagnostic(
                    "even-tenons",
                    f"{len(laid.tenons)} tenons have none in the middle",
                    meeting.position,
                    "The middle one is glued, so that the top moves to both sides alike.",
                    "Take an odd number.",
                )
            )
        wood = meeting.receiver.seen.extent(meeting.axis)
        if laid.length + floor_of(replace(terms, play=ZERO)) >= wood:
            found.append(
                Diagnostic(
                    "too-deep",
                    f"Tenons {say(laid.length, unit)} long come out of “{meeting.receiver.id}”, which is {say(wood, unit)} wide",
                    meeting.position,
                    mend=f"Half is plenty: {say(wood / 2, unit)}.",
                )
            )
        if laid.tongue >= laid.length:
            found.append(
                Diagnostic(
                    "no-place-for-haunch",
                    f"The tongue, {say(laid.tongue, unit)}, is as long as the tenons, {say(laid.length, unit)}",
                    meeting.position,
                    mend="Make “haunch” smaller, or “depth” larger.",
                )
            )
        room = meeting.insert.seen.span(meeting.insert.thickness)
        if laid.across.low <= room.low or laid.across.high >= room.high:
            found.append(
                Diagnostic(
                    "tenon-too-thick",
                    f"A tongue {say(laid.across.extent, unit)} thick does not stay within “{meeting.insert.id}”, which is {say(room.extent, unit)} thick",
                    meeting.position,
                    mend=f"A third is usual: {say(room.extent / 3, unit)}.",
                )
            )
        return tuple(found)

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return laid_out(meeting, terms).length

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        laid = laid_out(meeting, terms)
        return (*_top_cuts(meeting, laid, joint), *_end_cuts(meeting, terms, laid, joint))

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)

    def peg_places(self, meeting: Meeting, terms: Terms, count: int | None) -> tuple[tuple[Point, Face], ...]:
        """One peg through the middle of each tenon, from above."""
        laid = laid_out(meeting, terms)
        at = meeting.insert.seen.face(meeting.face) + laid.length * PEG_AT * meeting.face.side
        across = meeting.insert.thickness
        face = across.low if across is Axis.Y else across.high
        middle = meeting.contact.center.moved(meeting.axis, at)
        return tuple((middle.moved(meeting.run, span.middle), face) for span, _ in laid.tenons)

    def peg_room(self, meeting: Meeting, terms: Terms, spot: Point) -> Length:
        """How far the slot in a tenon reaches to either side of its peg; nothing in the middle one."""
        laid = laid_out(meeting, terms)
        return next((room for span, room in laid.tenons if span.middle == spot.along(meeting.run)), ZERO)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        grooves = [cut for cut in made.cuts(made.receiver) if cut.kind == CutKind.GROOVE]
        if not grooves:
            return ()
        across, axis = made.insert.thickness, made.joint.face.axis
        thick, wood = grooves[0].box.extent(across), made.insert.seen.extent(across)
        return (
            thinned(CutKind.TONGUE, thick, wood),
            Proportion(
                name="length of the tenons",
                figure=made.joint.depth,
                of=made.receiver.seen.extent(axis),
                of_name="width",
                words="The tenons of the {insert} reach {figure} into {of} of the {receiver}: {share} of its width.",
                rule="tenons reach a third to two thirds into a breadboard end",
                low=made.receiver.seen.extent(axis) * Fraction(3, 10),
                high=made.receiver.seen.extent(axis) * Fraction(7, 10),
                mend_low="Make “depth” {low} or more.",
                mend_high="Make “depth” no more than {high}.",
            ),
        )


def laid_out(meeting: Meeting, terms: Terms) -> Laid:
    """Tongue and tenons as the line and the rules of thumb lay them out."""
    across, run = meeting.insert.thickness, meeting.run
    room, step = meeting.insert.seen.span(across), _STEP[terms.unit]
    thick = terms.thickness or nearest_chisel(room.extent / 3, terms)
    place = Span(room.middle - thick / 2, room.middle + thick / 2)
    length = terms.depth or floored(meeting.receiver.seen.extent(meeting.axis) * LENGTH_SHARE, step)
    tongue = terms.haunch or min(floored(thick, step), length / 2)
    whole = meeting.contact.span(run)
    count = terms.count or max(3, 2 * int(whole.extent.ratio(TENON_EVERY) / 2) + 1)
    wide = floored(whole.extent / count * TENON_SHARE, step * 2)
    tenons = []
    for number in range(count):
        apart = floored(whole.extent * Fraction(abs(2 * number + 1 - count), 2 * count), step)
        middle = whole.middle + (apart if 2 * number + 1 > count else -apart)
        off = abs(middle - whole.middle)
        span = Span(middle - wide / 2, middle + wide / 2)
        tenons.append((span, _room(off + wide / 2, terms, whole, step) if off else ZERO))
    return Laid(place, tuple(tenons), tongue, length)


def _room(off: Length, terms: Terms, whole: Span, step: Length) -> Length:
    """Room beside a tenon whose outer edge is so far from the middle: all of ``play`` at the rim, less nearer in."""
    if terms.play:
        return terms.play * min(Fraction(1), off.ratio(whole.extent / 2))
    return step * (off * MOVES).ratio(step).__ceil__()


def _top_cuts(meeting: Meeting, laid: Laid, joint: str) -> list[tuple[str, BoxCut]]:
    insert, face, run, across = meeting.insert, meeting.face, meeting.run, meeting.insert.thickness
    end, body, along = grown_box(meeting), insert.body.span(across), insert.body.span(run)
    found: list[tuple[str, BoxCut]] = []

    def cut(box: Box, into: Face) -> None:
        if all(box.extent(axis).exact_mm > 0 for axis in Axis):
            opened = broken_through(box, insert.body, into)
            found.append((insert.id, BoxCut(CutKind.BREADBOARD_TONGUE, box, into, opened, joint, meeting.position)))

    cut(end.with_span(across, Span(body.low, laid.across.low)), across.low)
    cut(end.with_span(across, Span(laid.across.high, body.high)), across.high)
    span = end.span(meeting.axis)
    outer = Span(span.low + laid.tongue, span.high) if face.side > 0 else Span(span.low, span.high - laid.tongue)
    beyond = end.with_span(meeting.axis, outer)
    edges = [along.low, *(edge for one, _ in laid.tenons for edge in (one.low, one.high)), along.high]
    for low, high in zip(edges[::2], edges[1::2], strict=True):
        cut(beyond.with_span(run, Span(low, high)), face)
    return found


def _end_cuts(meeting: Meeting, terms: Terms, laid: Laid, joint: str) -> list[tuple[str, BoxCut]]:
    receiver, into, run, across = meeting.receiver, meeting.face.opposite, meeting.run, meeting.insert.thickness
    surface = receiver.seen.face(into)
    found: list[tuple[str, BoxCut]] = []

    def cut(kind: str, depth: Length, along: Span) -> None:
        floor = surface - depth * into.side
        box = receiver.body.with_span(meeting.axis, Span.between(surface, floor))
        box = box.with_span(across, laid.across).with_span(run, along)
        opened = broken_through(box, receiver.body, into)
        found.append((receiver.id, BoxCut(kind, box, into, opened, joint, meeting.position)))

    cut(CutKind.GROOVE, laid.tongue + floor_of(replace(terms, play=ZERO)), receiver.body.span(run))
    for span, room in laid.tenons:
        cut(CutKind.MORTISE, laid.length + floor_of(replace(terms, play=ZERO)), Span(span.low - room, span.high + room))
    return found
