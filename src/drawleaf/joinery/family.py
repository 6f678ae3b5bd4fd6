"""What a joint family is: one folder that says how two parts meet, what grows, what is cut and how it is held.

A family is a frozen value with the methods of ``Family``; ``joinery.FAMILIES`` lists them all. Resolve asks for growth first,
for every joint of the plan, and for cuts when all bodies are known, because a channel runs as far as its part's body.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol, runtime_checkable

from drawleaf.joinery.leaning import Leaning
from drawleaf.joinery.screws import Hold
from drawleaf.model.catalogue import Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.place import Axis, Box, Face, Point
from drawleaf.model.plan import Feature, Joint, Part
from drawleaf.model.position import Position
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class LooseTenon:
    """The sizes of a loose tenon, None where they follow the rule."""

    thickness: Length | None = None
    width: Length | None = None
    length: Length | None = None


@dataclass(frozen=True, slots=True)
class Terms:
    """What one joint line says. Lengths are None where the line leaves them to the family.

    ``depth`` is how far let in, ``play`` the room left at the bottom, ``stopped`` the ends that stop short. ``thickness`` and ``shoulder``
    size a tongue or tenon, ``offset`` its distance from faces of its part; ``count``, ``pitch`` and ``slope`` lay out fingers, tails and
    tenons; ``spline`` is (thickness, depth in each part); ``on`` the side on which the first part of a half lap lies. ``unit`` is for messages.
    """

    depth: Length = ZERO
    play: Length = ZERO
    stopped: tuple[tuple[Face, Length], ...] = ()
    unit: Literal["in", "mm"] = "in"
    thickness: Length | None = None
    shoulder: Length | None = None
    offset: tuple[tuple[Face, Length], ...] = ()
    haunch: Length | None = None
    through: bool = False
    loose: bool = False
    count: int | None = None
    pitch: Length | None = None
    slope: Fraction | None = None
    on: Face | None = None
    spline: tuple[Length, Length] | None = None
    after_assembly: bool = False
    tenon: LooseTenon | None = None
    """What the line says of its loose tenons."""
    piece_stock: Stock | None = None
    """What a loose piece that the joint brings along is made of."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two parts that touch. ``face`` is the insert's face that meets the receiver; ``contact`` has no thickness along its axis.

    Of families whose parts are drawn through one another (a mitre, a lap, dovetails), ``overlap`` is the room that both would take.
    Where one of them leans, ``leaning`` has the rest. ``mirror`` is the axis along which the insert is the mirror image of the one that the
    line was written for.
    """

    insert: Part
    receiver: Part
    face: Face
    contact: Box
    position: Position
    overlap: Box | None = None
    leaning: Leaning | None = None
    mirror: Axis | None = None

    def side(self, face: Face) -> Face:
        """The insert's side that a line means by a face: a twin is worked on its mirror image."""
        return face.opposite if face.axis is self.mirror else face

    @property
    def axis(self) -> Axis:
        return self.face.axis

    @property
    def run(self) -> Axis:
        """The axis that a channel for the insert runs along: neither into the receiver nor across the insert's thickness."""
        return next(axis for axis in Axis if axis not in (self.axis, self.insert.thickness))

    @property
    def edge_on(self) -> bool:
        """Whether the insert meets the receiver with an edge or end, not with its broad face."""
        return self.insert.thickness is not self.axis


@dataclass(frozen=True, slots=True)
class Drive:
    """How fasteners go: through which part into which, entering at ``head`` (a face of the part driven through)."""

    through: Part
    into: Part
    head: Face


class Family(Protocol):
    """A joint family."""

    @property
    def facts(self) -> JointFamily:
        """What every room may know of it: its word in the source, its words, how it holds."""
        ...

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        """What speaks against this joint at this meeting."""
        ...

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        """How much the insert's body grows at the meeting face."""
        ...

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, Feature], ...]:
        """Part ids with what is cut from them. The meeting's parts have their grown bodies by now."""
        ...

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        """How fasteners go, through the given part or through the one that the trade would choose."""
        ...


@runtime_checkable
class Crossing(Protocol):
    """What a family adds whose parts are drawn through one another: mitres, laps, fingers and tails."""

    def meets(self, insert: Part, receiver: Part, overlap: Box, terms: Terms) -> tuple[Face, Box] | None:
        """The insert's face that meets the receiver, and the contact (no thickness along that face's axis), given the room that both would
        take; None where they do not cross in the way of this family."""
        ...


@runtime_checkable
class Running(Protocol):
    """What a family adds whose joints do not run along the longer side of where the parts touch."""

    def run_of(self, meeting: Meeting) -> Axis:
        """The axis that the joint runs along: a section across it shows the joint."""
        ...


@dataclass(frozen=True, slots=True)
class LoosePiece:
    """A part that a joint brings along, such as a spline, and the joints by which it sits in the parts that the author drew. It has no id
    yet: its ``kind`` is the word for it, by which resolve names it. The joints follow the part's own."""

    part: Part
    joints: tuple[Joint, ...]


@runtime_checkable
class Bringing(Protocol):
    """What a family adds whose joints bring loose pieces along."""

    def pieces(self, meeting: Meeting, terms: Terms, joint: Joint) -> tuple[LoosePiece, ...]:
        """The loose pieces of one joint. The meeting's parts have their grown bodies by now."""
        ...


@runtime_checkable
class Straightened(Protocol):
    """What a family adds that joins leaning parts alone."""

    @property
    def straight(self) -> Family:
        """The family that is meant where the part stands straight."""
        ...


@runtime_checkable
class Slanted(Protocol):
    """What a family adds that has another for parts that lean."""

    @property
    def slanted(self) -> Family:
        """The family that is meant where a part leans."""
        ...


@runtime_checkable
class Pegged(Protocol):
    """What a family adds whose tenons can be pegged."""

    def peg_places(self, meeting: Meeting, terms: Terms, count: int | None) -> tuple[tuple[Point, Face], ...]:
        """Where pegs cross the tenons, and the face that each is driven from; ``count`` are asked for, None leaves it to the family."""
        ...


@runtime_checkable
class Pinned(Protocol):
    """What a family adds whose fasteners go in elsewhere than along the axis in which its parts meet."""

    def pinned(self, meeting: Meeting, drive: Drive) -> tuple[Hold, Box]:
        """The wood along a fastener's way, and the patch of the head's face over which fasteners are spread."""
        ...


def along_joint(meeting: Meeting, through: Part) -> Drive:
    """Fasteners along the joint's axis, through the given part into the other."""
    if through.id == meeting.receiver.id:
        return Drive(meeting.receiver, meeting.insert, meeting.face)
    return Drive(meeting.insert, meeting.receiver, meeting.face.opposite)


def broad_side(meeting: Meeting) -> Part:
    """The part whose thickness lies along the joint: fasteners go through it. Where both or neither do, the insert."""
    insert_lies = meeting.insert.thickness is meeting.axis
    receiver_lies = meeting.receiver.thickness is meeting.axis
    return meeting.receiver if receiver_lies and not insert_lies else meeting.insert
