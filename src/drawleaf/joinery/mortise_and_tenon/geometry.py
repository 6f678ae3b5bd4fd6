"""Mortise and tenon: the end of one part, thinned to a tongue, stands in a square hole in the other. Blind, through, haunched or loose."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.mortise_and_tenon import MORTISE_AND_TENON
from drawleaf.joinery.proportion import Made, Proportion, thinned
from drawleaf.joinery.tenons import (
    Tenons,
    floor_of,
    goes_through,
    mortise_cuts,
    peg_spots,
    tenon_cuts,
    tenon_length,
    tenons_of,
)
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Face, Point
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class MortiseAndTenon:
    """The insert grows by the length of its tenon. A loose tenon leaves both parts as they are: it is planned with the fasteners, which
    know its size."""

    facts: JointFamily = MORTISE_AND_TENON

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        if not meeting.edge_on:
            return (_broad_face(meeting),)
        if terms.loose:
            return ()
        tenons = tenons_of(meeting, terms)
        return tuple(_problems(meeting, terms, tenons))

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO if terms.loose else tenon_length(meeting, terms)

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        if terms.loose:
            return ()
        tenons = tenons_of(meeting, terms)
        return (*tenon_cuts(meeting, tenons, joint), *mortise_cuts(meeting, terms, tenons, joint))

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)

    def peg_places(self, meeting: Meeting, terms: Terms, count: int | None) -> tuple[tuple[Point, Face], ...]:
        """Where pegs cross the tenons, and the face that they are driven from."""
        return () if terms.loose else peg_spots(meeting, terms, count)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        """Thickness, length and width of the tenon, and the wood beside the mortise."""
        mortises = [cut for cut in made.cuts(made.receiver) if cut.kind == CutKind.MORTISE]
        if not mortises or not made.joint.depth:
            return ()
        axis = made.joint.face.axis
        first = mortises[0].box
        across = min(axis.others(), key=lambda one: first.extent(one).exact_mm)
        grain = made.receiver.grain
        a, b = axis.others()
        if grain in (a, b) and made.insert.seen.extent(a) == made.insert.seen.extent(b):
            across = b if grain is a else a
        along = b if across is a else a
        thick, wood = first.extent(across), made.insert.seen.extent(across)
        found = [thinned(CutKind.TENON, thick, wood), _width(first.extent(along), thick)]
        side = min(
            first.span(across).low - made.receiver.body.span(across).low,
            made.receiver.body.span(across).high - first.span(across).high,
        )
        found.append(_wall(side, made.receiver.body.extent(across), thick))
        room = made.receiver.seen.extent(axis)
        if made.joint.depth < room:
            found.append(_length(made.joint.depth, room, thick))
        return tuple(found)


def _problems(meeting: Meeting, terms: Terms, tenons: Tenons):
    insert, receiver, unit = meeting.insert, meeting.receiver, terms.unit
    room = insert.seen.span(tenons.axis_across)
    if tenons.across.low < room.low or tenons.across.high > room.high:
        yield Diagnostic(
            "tenon-too-thick",
            f"A tenon {say(tenons.across.extent, unit)} thick does not stay within “{insert.id}”, which is {say(room.extent, unit)} thick",
            meeting.position,
            mend=f"A third of the thickness is usual: {say(room.extent / 3, unit)}. Look at “offset” too.",
        )
    if any(span.extent.exact_mm <= 0 for span in tenons.widths):
        yield Diagnostic(
            "no-tenon-left",
            f"Its shoulders leave nothing of the tenon of “{insert.id}”",
            meeting.position,
            f"They meet over {say(meeting.contact.extent(tenons.axis_along), unit)}.",
            "Make “shoulder” or “offset” smaller.",
        )
    wood = receiver.seen.extent(meeting.axis)
    if not terms.through and tenons.length + floor_of(terms) >= wood:
        yield Diagnostic(
            "too-deep",
            f"A tenon {say(tenons.length, unit)} long, with room at the bottom, comes out of “{receiver.id}”, which is {say(wood, unit)} thick",
            meeting.position,
            mend=f"Two thirds are usual: {say(wood * Fraction(2, 3), unit)}. Or write “through: yes”.",
        )
    if terms.through and not goes_through(meeting, tenons):
        yield Diagnostic(
            "not-through",
            f"A tenon {say(tenons.length, unit)} long does not go through “{receiver.id}”, which is {say(wood, unit)} thick",
            meeting.position,
            mend="Leave out “depth”, or make it more than that.",
        )
    if terms.haunch is not None and (not tenons.haunches or terms.haunch >= tenons.length):
        yield Diagnostic(
            "no-place-for-haunch",
            f"The tenon of “{insert.id}” has no place for a haunch {say(terms.haunch, unit)} high",
            meeting.position,
            "A haunch stands beside a tenon at the end of its part, and is shorter than the tenon.",
            f"Leave “haunch” out, or bring the edge of “{insert.id}” to the end of “{receiver.id}”.",
        )
    for axis, spans in ((tenons.axis_across, (tenons.across,)), (tenons.axis_along, tenons.widths)):
        body = receiver.seen.span(axis)
        if any(span.low <= body.low or span.high >= body.high for span in spans):
            yield Diagnostic(
                "mortise-breaks-out",
                f"The mortise for “{insert.id}” breaks out at the side of “{receiver.id}”",
                meeting.position,
                f"The tenon would lie at the very {axis.low.value} or {axis.high.value} of it, or beyond.",
                "Give it a “shoulder” or an “offset” there, or use “bridle”, which is open.",
            )
            return


def _width(wide: Length, thick: Length) -> Proportion:
    return Proportion(
        name="width of the tenon",
        figure=wide,
        of=thick,
        of_name="thickness of the tenon",
        words="Each tenon of the {insert} is {figure} wide.",
        rule="a tenon is up to about twelve times as wide as it is thick; a wider one is made as two",
        high=thick * 12,
        mend_high="Make two of it with “count: 2”: across its width a wide tenon shrinks, and works loose.",
    )


def _wall(side: Length, wood: Length, thick: Length) -> Proportion:
    # Across the face of a wide board a fifth would be far more wood than any wall needs: as much as the mortise is wide will do.
    enough = min(wood * Fraction(1, 5), thick)
    return Proportion(
        name="wood beside the mortise",
        figure=side,
        of=wood,
        of_name="thickness",
        words="Beside the mortise for the {insert} {figure} of the {receiver} is left.",
        rule="a wall beside a mortise: a fifth of the wood, or in a broad face as much as the mortise is wide",
        low=enough,
        least=enough * Fraction(5, 12),
        mend_low="Leave {low} or more: move the part in from the face, or use “offset”.",
    )


def _length(long: Length, wood: Length, thick: Length) -> Proportion:
    # Across a broad rail half would be far more than any muntin needs: four times its thickness holds it.
    return Proportion(
        name="length of the tenon",
        figure=long,
        of=wood,
        of_name="thickness",
        words="The tenon of the {insert} reaches {figure} into {of} of the {receiver}: {share} of it.",
        rule="a blind tenon: half to four fifths of the part that receives it, or in a broad one four times as long as thick",
        low=min(wood * Fraction(9, 20), thick * 4),
        high=wood * Fraction(17, 20),
        mend_low="Make “depth” {low} or more.",
        mend_high="Make “depth” no more than {high}, or let it come through.",
    )


def _broad_face(meeting: Meeting) -> Diagnostic:
    return Diagnostic(
        "broad-face",
        f"“{meeting.insert.id}” meets “{meeting.receiver.id}” with its broad face; a tenon is cut on an edge or an end",
        meeting.position,
        mend="Use “butt”, or name the other part first.",
    )
