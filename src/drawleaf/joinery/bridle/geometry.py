"""Bridle: an open mortise and tenon. The end of one part is forked; the other, thinned on both faces, stands in the fork."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.bench import BenchWork
from drawleaf.joinery.bridle import BRIDLE
from drawleaf.joinery.bridle.bench import FORK
from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.flat import flat_problems
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.tenons import nearest_chisel
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Bridle:
    """Both parts are drawn full length, through one another. ``thickness`` is that of the tenon, a third of the wood unless given (common
    practice, no source)."""

    facts: JointFamily = BRIDLE
    bench: tuple[BenchWork, ...] = (FORK,)

    def meets(self, insert: Part, receiver: Part, overlap: Box, terms: Terms) -> tuple[Face, Box] | None:
        axis = insert.thickness
        cheek = _tenon(overlap, axis, terms).low
        return axis.low, overlap.with_span(axis, Span(cheek, cheek))

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        insert, receiver = meeting.insert, meeting.receiver
        assert meeting.overlap is not None
        mend = "A bridle joins parts that lie flat on the same side. Use “mortise_and_tenon”."
        found = list(flat_problems(meeting, mend, terms.unit))
        room = meeting.overlap.span(insert.thickness)
        tenon = _tenon(meeting.overlap, insert.thickness, terms)
        if tenon.low <= room.low or tenon.high >= room.high:
            found.append(
                Diagnostic(
                    "tenon-too-thick",
                    f"A tenon {say(tenon.extent, terms.unit)} thick leaves nothing of the fork: they share {say(room.extent, terms.unit)}",
                    meeting.position,
                    mend=f"A third is usual: {say(room.extent / 3, terms.unit)}.",
                )
            )
        run = receiver.length_axis
        shared, whole = meeting.overlap.span(run), receiver.seen.span(run)
        if shared.low != whole.low and shared.high != whole.high:
            found.append(
                Diagnostic(
                    "no-end-to-fork",
                    f"“{receiver.id}” has no end there that could be forked",
                    meeting.position,
                    mend="Name the part that ends there after “in:”, or use “half_lap”.",
                )
            )
        return tuple(found)

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        overlap, insert, receiver = meeting.overlap, meeting.insert, meeting.receiver
        assert overlap is not None
        axis = insert.thickness
        tenon, body = _tenon(overlap, axis, terms), insert.body.span(axis)
        found: list[tuple[str, BoxCut]] = []
        for side, span in ((axis.low, Span(body.low, tenon.low)), (axis.high, Span(tenon.high, body.high))):
            box = overlap.with_span(axis, span)
            opened = broken_through(box, insert.body, side)
            found.append((insert.id, BoxCut(CutKind.TENON, box, side, opened, joint, meeting.position)))
        slot = overlap.with_span(axis, tenon)
        into = _open_end(slot, receiver)
        opened = broken_through(slot, receiver.body, into)
        found.append((receiver.id, BoxCut(CutKind.FORK, slot, into, opened, joint, meeting.position)))
        return tuple(found)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)

    def peg_places(self, meeting: Meeting, terms: Terms, count: int | None) -> tuple[tuple[Point, Face], ...]:
        """Pegs through fork and tenon, in a row across the joint."""
        assert meeting.overlap is not None
        axis = meeting.insert.thickness
        face = axis.low if axis is Axis.Y else axis.high
        along = max(axis.others(), key=lambda one: meeting.overlap.extent(one).exact_mm)  # type: ignore[union-attr]
        span, several = meeting.overlap.span(along), count or 1
        return tuple(
            (meeting.overlap.center.moved(along, span.low + span.extent * Fraction(2 * i + 1, 2 * several)), face)
            for i in range(several)
        )

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        forks = [cut for cut in made.cuts(made.receiver) if cut.kind == CutKind.FORK]
        if not forks:
            return ()
        thick, wood = forks[0].box.extent(made.receiver.thickness), made.receiver.body.extent(made.receiver.thickness)
        return (
            Proportion(
                name="thickness of the tenon",
                figure=thick,
                of=wood,
                of_name="thickness",
                words="The tenon of the {insert} fills {figure} of the {of} of the fork in the {receiver}: {share}.",
                rule="a bridle: a third of the thickness each",
                low=wood / 4,
                high=wood / 2,
                most=wood * Fraction(3, 4),
                mend_low="Make “thickness” {low} or more.",
                mend_high="Make “thickness” no more than {high}.",
            ),
        )


def _tenon(overlap: Box, axis: Axis, terms: Terms) -> Span:
    """The middle of what the parts share."""
    room = overlap.span(axis)
    thick = terms.thickness or nearest_chisel(room.extent / 3, terms)
    return Span(room.middle - thick / 2, room.middle + thick / 2)


def _open_end(slot: Box, part: Part) -> Face:
    """The end of the part that the slot is sawn from."""
    run = part.length_axis
    for face in (run.low, run.high):
        if slot.face(face) == part.body.face(face):
            return face
    return next((face for face in Face if slot.face(face) == part.body.face(face)), run.high)
