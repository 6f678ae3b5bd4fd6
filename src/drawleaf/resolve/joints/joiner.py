"""Joint lines applied to parts: grown bodies, cuts, and fasteners kept out of each other's way."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from drawleaf.english import counted
from drawleaf.joinery.clearing import keep_apart
from drawleaf.joinery.crowding import between_rows, in_row, is_crowded
from drawleaf.joinery.family import Bringing, LoosePiece, Meeting, Running
from drawleaf.joinery.fastening import plan_fasteners
from drawleaf.joinery.friendly import INCHES, Ruler
from drawleaf.joinery.leaning import deepened, trimmed
from drawleaf.joinery.leaning_fasteners import plan_leaning
from drawleaf.joinery.leaning_pins import plan_leaning_pins
from drawleaf.joinery.pins import plan_pins
from drawleaf.joinery.planned import Asked, FasteningTerms, Planned, Result
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Fastener, Feature, Joint, Part
from drawleaf.model.position import Position
from drawleaf.resolve.joints.joining import Line
from drawleaf.resolve.joints.loose_pieces import Pieces, named
from drawleaf.resolve.names.findings import Findings
from drawleaf.units import Length

PINS = ("dowels", "pegs", "tenons")
"""Fastenings with holes of their own in both parts."""


@dataclass(frozen=True, slots=True)
class Joined:
    """What joints make of parts: their grown bodies, what is cut and bored, the joints with their fasteners, and the loose pieces that
    joints bring along."""

    bodies: dict[str, Part]
    cuts: dict[str, list[Feature]]
    joints: tuple[Joint, ...]
    pieces: Pieces


@dataclass(frozen=True, slots=True)
class Drafted:
    """Joints before their fasteners are kept out of each other's way: each fastener with the place that asks for it."""

    bodies: dict[str, Part]
    cuts: dict[str, list[Feature]]
    joints: tuple[Joint, ...]
    planned: tuple[tuple[Planned, Position], ...]
    pieces: tuple[LoosePiece, ...]


class Joiner:
    """Applies joint lines to parts: growth first, for all; then cuts; then fasteners, kept out of each other's way."""

    def __init__(self, hardware: Mapping[str, HardwareItem], findings: Findings, ruler: Ruler = INCHES) -> None:
        """``ruler`` has the round figures of the units that the booklet prints."""
        self._hardware = hardware
        self._findings = findings
        self._ruler = ruler

    def join(self, parts: Iterable[Part], lines: list[Line]) -> Joined:
        """Everything at once."""
        return self.settle(self.draft(parts, lines))

    def draft(self, parts: Iterable[Part], lines: list[Line]) -> Drafted:
        """The grown bodies, the cuts, and the fasteners where their rows want them."""
        bodies = self.grown(parts, lines)
        cuts: dict[str, list[Feature]] = {}
        joints: list[Joint] = []
        planned: list[tuple[Planned, Position]] = []
        pieces: list[LoosePiece] = []
        told: list[Diagnostic] = []
        between: dict[frozenset[str], list[Planned]] = {}
        for line in lines:
            for number, met in enumerate(line.meetings, start=1):
                meeting = replace(met, insert=bodies[met.insert.id], receiver=bodies[met.receiver.id])
                joint = _joint(line, number, meeting)
                joints.append(joint)
                # Of all lines that join these two parts: one of them may have been written twice.
                driven = between.setdefault(frozenset((meeting.insert.id, meeting.receiver.id)), [])
                if meeting.leaning is not None and meeting.leaning.trim is not None:
                    trim = replace(meeting.leaning.trim, joint=joint.id)
                    cuts.setdefault(meeting.insert.id, []).append(trim)
                for part_id, cut in line.family.cuts(meeting, line.terms, joint.id):
                    cuts.setdefault(part_id, []).append(cut)
                if isinstance(line.family, Bringing):
                    pieces += line.family.pieces(meeting, line.terms, joint)
                for fastening in line.fastenings:
                    fasteners, found = self._planned(line, meeting, fastening, joint.id)
                    told += (*found, *self._crowding(line, meeting, fastening, joint.id, fasteners))
                    planned += [(fastener, fastening.position) for fastener in fasteners]
                    crossed = between_rows(driven, fasteners, fastening.position, line.terms.unit)
                    self._findings.extend(() if crossed is None else (crossed,))
                    driven += fasteners
        self._findings.extend(_once_a_line(told))
        return Drafted(bodies, cuts, tuple(joints), tuple(planned), tuple(pieces))

    def _crowding(
        self, line: Line, meeting: Meeting, fastening: FasteningTerms, joint: str, fasteners: tuple[Planned, ...]
    ) -> tuple[Diagnostic, ...]:
        """The report where a row's own fasteners stand too close; fewer are tried, until they have the usual room."""

        def fits(count: int) -> bool:
            fewer, _ = self._planned(line, meeting, replace(fastening, count=count, every=None), joint)
            return not is_crowded(fewer, (meeting.insert, meeting.receiver))

        parts = (meeting.insert, meeting.receiver)
        found = in_row(fasteners, parts, fastening.position, line.terms.unit, fits)
        return () if found is None else (found,)

    def settle(self, drafted: Drafted) -> Joined:
        """The joints with their fasteners, those of different joints kept apart."""
        bodies, pieces = drafted.bodies, drafted.pieces
        cuts = {part: list(made) for part, made in drafted.cuts.items()}
        settled, found = keep_apart(drafted.planned)
        self._findings.extend(found)
        driven: dict[str, list[Fastener]] = {}
        for one in settled:
            driven.setdefault(one.fastener.joint or "", []).append(one.fastener)
            for part_id, feature in (*((one.pocket,) if one.pocket is not None else ()), *one.made):
                cuts.setdefault(part_id, []).append(feature)
        joints = tuple(replace(joint, fasteners=tuple(driven.get(joint.id, ()))) for joint in drafted.joints)
        return Joined(bodies, cuts, joints, named(pieces, tuple(bodies.values())))

    def _planned(self, line: Line, meeting: Meeting, fastening: FasteningTerms, joint: str) -> Result:
        """The fasteners of one entry of ``with:`` at one meeting."""
        asked = Asked(meeting, line.terms, fastening, self._hardware, joint, self._ruler)
        if meeting.leaning is not None and line.family.facts.square_end:
            return (), (_only_glued(meeting, fastening),)
        if meeting.leaning is not None:
            return (plan_leaning_pins if fastening.kind in PINS else plan_leaning)(meeting.leaning, asked)
        return (plan_pins if fastening.kind in PINS else plan_fasteners)(line.family, asked)

    def grown(self, parts: Iterable[Part], lines: list[Line]) -> dict[str, Part]:
        """Every part by its id, with what joinery hides added to its body."""
        grown: dict[tuple[str, Face], tuple[Length, Line, Meeting]] = {}
        for line in lines:
            for meeting in line.meetings:
                key = (meeting.insert.id, meeting.leaning.own_face if meeting.leaning else meeting.face)
                growth = line.family.growth(meeting, line.terms)
                if key in grown and grown[key][0] != growth:
                    self._tell_uneven(grown[key], growth, line, meeting)
                if key not in grown or growth > grown[key][0]:
                    grown[key] = (growth, line, meeting)
        bodies = {part.id: part for part in parts}
        for (part_id, face), (growth, _, meeting) in grown.items():
            if meeting.leaning is not None:
                bodies[part_id] = deepened(trimmed(bodies[part_id], meeting.leaning), meeting.leaning, growth)
                continue
            bodies[part_id] = replace(bodies[part_id], body=bodies[part_id].body.grown(face, growth))
        return bodies

    def _tell_uneven(self, before: tuple[Length, Line, Meeting], growth: Length, line: Line, meeting: Meeting) -> None:
        first, earlier = say(before[0], line.terms.unit), before[2]
        if earlier.receiver.id == meeting.receiver.id:
            self._findings.error(
                "uneven-depth",
                f"Two joints let “{meeting.insert.id}” into “{meeting.receiver.id}”, {first} and {say(growth, line.terms.unit)} deep",
                line.position,
                f"One face is cut to one line. The other joint stands in line {before[1].position.line}: one may be left over from a change.",
                "Take this line out, or the other one.",
            )
            return
        self._findings.error(
            "uneven-depth",
            f"The {meeting.face.value} of “{meeting.insert.id}” is let in {first} at one place and {say(growth, line.terms.unit)} at another",
            line.position,
            f"It enters “{earlier.receiver.id}” and “{meeting.receiver.id}”, and one face is cut to one line.",
            "Give both joints the same depth.",
        )


def _once_a_line(told: Iterable[Diagnostic]) -> list[Diagnostic]:
    """One message for all places of a line that have the same mistake for the same reason: the first, and how many there are besides."""
    alike: dict[tuple[str, Position | None, str], list[Diagnostic]] = {}
    for one in told:
        alike.setdefault((one.code, one.position, one.mend), []).append(one)
    return [
        replace(
            first, message=f"{first.message}, and so at {counted(len(more), 'more place', 'more places')} of this line"
        )
        if more
        else first
        for first, *more in alike.values()
    ]


def _only_glued(meeting: Meeting, fastening: FasteningTerms) -> Diagnostic:
    return Diagnostic(
        "slant-held",
        f"Glue alone holds the end of “{meeting.insert.id}” in its hole in “{meeting.receiver.id}”",
        fastening.position,
        "At a slant screws and pins have no straight way into it; the hole holds it all round.",
        "Write “with: [glue]”.",
    )


def _joint(line: Line, number: int, meeting: Meeting) -> Joint:
    growth = line.family.growth(meeting, line.terms)
    if meeting.overlap is not None:
        width = min(meeting.overlap.extent(axis) for axis in Axis)
    elif meeting.edge_on:
        width = meeting.contact.extent(meeting.insert.thickness)
    else:
        width = min(meeting.contact.extent(axis) for axis in meeting.axis.others())
    return Joint(
        id=f"{line.id}-{number}",
        line=line.id,
        family=line.family.facts,
        insert=meeting.insert.id,
        receiver=meeting.receiver.id,
        face=meeting.face,
        contact=meeting.contact,
        depth=growth,
        width=width,
        glued=line.glued and not line.family.facts.glued_at,  # that one place is glued without a word
        fasteners=(),
        position=line.position,
        normal=meeting.leaning.normal if meeting.leaning else None,
        area=meeting.leaning.area if meeting.leaning else None,
        after_assembly=line.terms.after_assembly,
        run=line.family.run_of(meeting) if isinstance(line.family, Running) else None,
    )
