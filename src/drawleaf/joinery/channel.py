"""Channels: the square-cornered trench that an insert's edge enters. Shared by dado, groove and rabbet."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.family import Meeting, Terms
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Box, Face, Span
from drawleaf.model.plan import BoxCut
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Depths:
    """How deep a channel may go, as shares of the thickness that it is cut into: under ``low`` it hardly holds, over ``high`` it
    weakens the part, over ``most`` it leaves too little. ``words`` say the custom."""

    low: Fraction
    high: Fraction
    most: Fraction
    words: str


# Common practice, no source. `high` has a little over, because a depth that is right for the label is a shade more of stock that runs thin.
TRENCH = Depths(Fraction(1, 5), Fraction(11, 20), Fraction(3, 4), "a third of the thickness, at most half")
STEP = Depths(Fraction(3, 10), Fraction(18, 25), Fraction(17, 20), "half to two thirds of the thickness")
# A groove along an edge: as wide as its panel is thick, between its two lips.
LIPS = Depths(Fraction(1, 6), Fraction(11, 20), Fraction(2, 3), "a third of the thickness wide, at most half")
ALONG_EDGE = Depths(Fraction(0), Fraction(11, 20), Fraction(3, 4), "at most half the width of the part")


def depth_problems(meeting: Meeting, terms: Terms, noun: str) -> tuple[Diagnostic, ...]:
    """Depth against the receiver's thickness: not through it. How much of it a channel should take is a matter of proportions."""
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
    return ()


def no_play(meeting: Meeting, terms: Terms, insert: str, noun: str) -> tuple[Diagnostic, ...]:
    """What speaks against a clearance where the ``insert`` bottoms out; ``noun`` is what it lies in."""
    if not terms.play:
        return ()
    return (
        Diagnostic(
            "clearance-in-dado",
            f"{insert} bottoms out in its {noun}, so there is no “clearance”",
            meeting.position,
            mend="Leave it out, or use “groove”, in which a panel may move.",
        ),
    )


def channel_proportions(made: Made, noun: str, depths: Depths) -> tuple[Proportion, ...]:
    """Depth of a channel against what it is cut into; for one along an edge, how wide it is between its lips as well."""
    axis, receiver = made.joint.face.axis, made.receiver
    cuts = made.cuts(receiver)
    if not cuts:
        return ()
    depth, wood = max(cut.box.extent(axis) for cut in cuts), receiver.body.extent(axis)
    if axis is receiver.thickness:
        return (_depth_proportion(noun, depth, wood, "thickness", depths),)
    found = (_depth_proportion(noun, depth, wood, "width", ALONG_EDGE),)
    if made.insert.thickness is not receiver.thickness:
        return found
    across = receiver.thickness
    wide, thick = max(cut.box.extent(across) for cut in cuts), receiver.body.extent(across)
    return (
        *found,
        Proportion(
            name=f"width of the {noun}",
            figure=wide,
            of=thick,
            of_name="thickness",
            words=f"The {noun} for the {{insert}} is {{figure}} wide along the edge of the {{receiver}}, {{share}} of its thickness of {{of}}.",
            rule=f"a {noun} along an edge is {LIPS.words}",
            low=thick * LIPS.low,
            high=thick * LIPS.high,
            most=thick * LIPS.most,
            mend_low="Take a panel {low} thick or more, or make the {receiver} of thinner stock.",
            mend_high="Take a panel no more than {high} thick: the lips beside it carry the {receiver}.",
        ),
    )


def _depth_proportion(noun: str, depth: Length, wood: Length, of_name: str, depths: Depths) -> Proportion:
    return Proportion(
        name=f"depth of the {noun}",
        figure=depth,
        of=wood,
        of_name=of_name,
        words=f"The {noun} for the {{insert}} goes {{figure}} deep into the {{receiver}}, {{share}} of its {of_name} of {{of}}.",
        rule=f"a {noun} takes {depths.words}",
        low=wood * depths.low,
        high=wood * depths.high,
        most=wood * depths.most,
        mend_low="Make “depth” {low} or more: a shallower channel hardly holds.",
        mend_high="Make “depth” no more than {high}: what is left beside the channel carries the {receiver}.",
    )


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


def channel_cuts(meeting: Meeting, terms: Terms, kind: CutKind, joint: str) -> tuple[tuple[str, BoxCut], ...]:
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
    return (*cuts, *tongue_notches(meeting, terms, along, joint))


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


def tongue_notches(meeting: Meeting, terms: Terms, along: Span, joint: str) -> list[tuple[str, BoxCut]]:
    """Where the insert reaches beyond a stop, the corner of its tongue is cut away: from where the channel runs, given as ``along``."""
    ends = (meeting.run.low, meeting.run.high)
    return [cut for end in ends for cut in _tongue_notch(meeting, terms, along, end, joint)]


def _tongue_notch(meeting: Meeting, terms: Terms, along: Span, end: Face, joint: str) -> list[tuple[str, BoxCut]]:
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
    return [(insert.id, BoxCut(CutKind.NOTCH, void, meeting.face, opened, joint, meeting.position))]


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
