"""Channels: the square-cornered trench that an insert's edge enters. Shared by dado, groove and rabbet."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.joinery.family import Meeting, Terms
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.place import Box, Face, Span
from drawleaf.model.plan import BoxCut
from drawleaf.units import ZERO, Length

# A channel may take half of the thickness; 1/32 in more is let pass, as sheets are that much under their nominal size.
# Common practice, no source.
ALLOWANCE = Length.of_inches(Fraction(1, 32))


def depth_problems(meeting: Meeting, terms: Terms, noun: str, share: Fraction) -> tuple[Diagnostic, ...]:
    """Depth against the receiver's thickness: not through it, and advice where it takes more than ``share`` of it."""
    if not meeting.edge_on:
        return (_broad_face(meeting, noun),)
    thickness = meeting.receiver.seen.extent(meeting.axis)
    depth, wood = say(terms.depth, terms.unit), say(thickness, terms.unit)
    if terms.depth.exact_mm <= 0:
        return (
            Diagnostic(
                "no-depth",
                f"A {noun} needs a depth",
                meeting.position,
                "The depth is how far the part is let in.",
                "Write “depth: 1/4”.",
            ),
        )
    if terms.depth >= thickness:
        return (
            Diagnostic(
                "too-deep",
                f"A {noun} {depth} deep goes right through “{meeting.receiver.id}”, which is {wood} thick",
                meeting.position,
                mend=f"A third of the thickness is plenty: {say(thickness / 3, terms.unit)}.",
            ),
        )
    if terms.depth > thickness * share + ALLOWANCE:
        left = say(thickness - terms.depth, terms.unit)
        return (
            Diagnostic(
                "deep-cut",
                f"A {noun} {depth} deep leaves only {left} of “{meeting.receiver.id}”",
                meeting.position,
                f"A {noun} seldom takes more than {_share(share)} of the thickness (common practice, no source).",
                f"Make it {say(thickness / 3, terms.unit)} to {say(thickness * share, terms.unit)} deep.",
                Severity.ADVICE,
            ),
        )
    return ()


def stop_problems(meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
    """Stops must be at the ends of the channel and leave some of it."""
    found: list[Diagnostic] = []
    run = meeting.run
    for face, distance in terms.stopped:
        if face.axis is not run:
            ends = f"“{run.low.value}” or “{run.high.value}”"
            found.append(
                Diagnostic(
                    "no-such-end",
                    f"The channel in “{meeting.receiver.id}” has no {face.value} end",
                    meeting.position,
                    f"It runs from {run.low.value} to {run.high.value}.",
                    f"Stop it at {ends}.",
                )
            )
        elif distance.exact_mm <= 0:
            found.append(
                Diagnostic(
                    "not-positive",
                    f"A channel that stops {say(distance, terms.unit)} from the {face.value} does not stop short",
                    meeting.position,
                )
            )
    stops = sum((distance for face, distance in terms.stopped if face.axis is run), ZERO)
    length = meeting.receiver.seen.extent(run)
    if not found and stops >= length:
        found.append(
            Diagnostic(
                "no-channel-left",
                f"The stops take {say(stops, terms.unit)}; “{meeting.receiver.id}” is only {say(length, terms.unit)} long there",
                meeting.position,
            )
        )
    return tuple(found)


def channel_cuts(meeting: Meeting, terms: Terms, kind: str, joint: str) -> tuple[tuple[str, BoxCut], ...]:
    """The channel in the receiver, as wide as the insert is thick; and a notch in the insert where a stop is in its way."""
    receiver, insert = meeting.receiver, meeting.insert
    into = meeting.face.opposite
    run, across = meeting.run, meeting.insert.thickness
    along = channel_run(meeting, terms)
    width = insert.seen.span(across).overlap(receiver.body.span(across))
    if width is None:
        return ()
    void = receiver.body.with_span(meeting.axis, _deep(receiver.seen.face(into), into, terms.depth))
    void = void.with_span(run, along).with_span(across, width)
    cuts = [(receiver.id, BoxCut(kind, void, into, broken_through(void, receiver.body, into), joint, meeting.position))]
    for face in (run.low, run.high):
        cuts += _tongue_notch(meeting, terms, along, face, joint)
    return tuple(cuts)


def channel_run(meeting: Meeting, terms: Terms) -> Span:
    """From where to where the channel runs: through the whole receiver, but for the ends that are stopped."""
    body, seen = meeting.receiver.body.span(meeting.run), meeting.receiver.seen.span(meeting.run)
    low, high = body.low, body.high
    for face, distance in terms.stopped:
        if face is meeting.run.low:
            low = seen.low + distance
        elif face is meeting.run.high:
            high = seen.high - distance
    return Span(low, high)


def broken_through(void: Box, body: Box, into: Face) -> tuple[Face, ...]:
    """The faces of a body that a void lies open at; always the one it is cut into."""
    return tuple(face for face in Face if face is into or void.face(face) == body.face(face))


def _tongue_notch(meeting: Meeting, terms: Terms, along: Span, end: Face, joint: str) -> list[tuple[str, BoxCut]]:
    """Where the insert reaches beyond a stop, the corner of its tongue is cut away."""
    insert = meeting.insert
    body = insert.body.span(meeting.run)
    beyond = along.low - body.low if end.side < 0 else body.high - along.high
    stopped_here = any(face is end for face, _ in terms.stopped)
    if not stopped_here or beyond.exact_mm <= 0:
        return []
    tongue = _deep(insert.body.face(meeting.face), meeting.face, insert_depth(meeting))
    cut_away = Span(body.low, along.low) if end.side < 0 else Span(along.high, body.high)
    void = insert.body.with_span(meeting.axis, tongue).with_span(meeting.run, cut_away)
    opened = broken_through(void, insert.body, meeting.face)
    return [(insert.id, BoxCut("notch", void, meeting.face, opened, joint, meeting.position))]


def insert_depth(meeting: Meeting) -> Length:
    """How far the insert's body stands beyond its seen face at the meeting."""
    return abs(meeting.insert.body.face(meeting.face) - meeting.insert.seen.face(meeting.face))


def _deep(surface: Length, face: Face, depth: Length) -> Span:
    """The span from a face inwards."""
    return Span(surface, surface + depth) if face.side < 0 else Span(surface - depth, surface)


def _broad_face(meeting: Meeting, noun: str) -> Diagnostic:
    return Diagnostic(
        "broad-face",
        f"“{meeting.insert.id}” meets “{meeting.receiver.id}” with its broad face; a {noun} takes an edge or an end",
        meeting.position,
        mend="Use “butt”, or let the other part in.",
    )


def _share(share: Fraction) -> str:
    return {Fraction(1, 2): "half", Fraction(2, 3): "two thirds"}.get(share, str(share))
