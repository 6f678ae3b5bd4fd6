"""The resolved plan: every part placed and sized, every joint found, every fastener positioned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from drawleaf.language import Words
from drawleaf.model.about import About as About
from drawleaf.model.about import Revision as Revision
from drawleaf.model.catalogue import Catalogue, HardwareItem, Stock
from drawleaf.model.checks import CheckSettings
from drawleaf.model.coats import Filling as Filling
from drawleaf.model.coats import FinishCoat as FinishCoat
from drawleaf.model.cuts import Bore as Bore
from drawleaf.model.cuts import BoxCut as BoxCut
from drawleaf.model.cuts import EdgeProfile as EdgeProfile
from drawleaf.model.film import Film
from drawleaf.model.fitted import Fitted, FittedAs
from drawleaf.model.held import HeldBy
from drawleaf.model.helps import Help
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.making import Making as Making
from drawleaf.model.making import NamedLength as NamedLength
from drawleaf.model.note import Note as Note
from drawleaf.model.other_sheets import OtherSheet
from drawleaf.model.place import Axis, Box, Face, Point
from drawleaf.model.position import Position
from drawleaf.model.shapes import OutlineCut, PlaneCut, Section, Tilt
from drawleaf.model.shapes import Vector as Vector
from drawleaf.model.work_order import WorkOrder
from drawleaf.units import ZERO, Length, LengthFormat

Feature = BoxCut | Bore | EdgeProfile | OutlineCut | PlaneCut


@dataclass(frozen=True, slots=True)
class GlueUp:
    """A panel made of strips glued edge to edge. Strips run along the grain; ``across`` is the axis they are laid along.

    ``extra`` is what the glued panel is made larger all round, trimmed after the glue is dry.
    """

    strips: int
    strip_width: Length
    across: Axis
    extra: Length


@dataclass(frozen=True, slots=True)
class Part:
    """One piece of wood in its place.

    ``seen`` is bounded by the faces that the author wrote; ``body`` is the finished blank that the shop cuts: ``seen`` plus
    what joinery hides. ``features`` are then machined out of ``body``. ``thickness`` is the axis across the stock;
    ``grain`` the axis along the grain (None: any direction will do).
    ``kind`` is the source part that copies share (``case.side`` for ``case.side`` and ``case.side.mirrored``). Parts with the same
    ``match`` are cut from one strip in the order in which they stand, so that the grain runs on from one to the next. ``oversize`` is how much larger along each edge the part
    is sawn at first, to be trimmed later. ``section`` is the cross section of a moulding or a round that has one (``body`` is then the box
    around it); ``tilt`` how a part leans that does not stand square: its boxes and features are written as it would stand upright.
    """

    id: str
    kind: str
    name: str
    assembly: str
    stock: Stock
    thickness: Axis
    grain: Axis | None
    seen: Box
    body: Box
    features: tuple[Feature, ...]
    glue_up: GlueUp | None
    mirrored: bool
    position: Position
    note: str = ""
    match: str = ""
    oversize: Length = ZERO
    section: Section | None = None
    tilt: Tilt | None = None
    brought: str = ""
    """The joint that brings this part along, such as a spline; empty for the parts that the author drew."""
    fitted: Fitted | None = None
    """How it is cut over its size and marked from the standing piece; None where it is cut to size at once."""

    # Ids are unique in a plan: the hash of all features of a part, and of its joints, takes far longer and tells no more.
    def __hash__(self) -> int:
        return hash(self.id)

    def moved(self, by: Point) -> Part:
        """The same part at another place."""
        return replace(
            self,
            seen=self.seen.shifted(by),
            body=self.body.shifted(by),
            features=tuple(feature.moved(by) for feature in self.features),
            section=self.section.moved(by) if self.section else None,
            tilt=self.tilt.moved(by) if self.tilt else None,
        )

    @property
    def length_axis(self) -> Axis:
        """The axis along which the part's length is stated: with the grain, else the longer face side."""
        if self.grain is not None:
            return self.grain
        a, b = self.thickness.others()
        return a if self.body.extent(a) >= self.body.extent(b) else b

    @property
    def width_axis(self) -> Axis:
        a, b = self.thickness.others()
        return b if self.length_axis is a else a

    @property
    def size(self) -> tuple[Length, Length, Length]:
        """Finished length, width, thickness of the blank."""
        return tuple(self.body.extent(axis) for axis in (self.length_axis, self.width_axis, self.thickness))  # type: ignore[return-value]

    @property
    def fitted_as(self) -> FittedAs | None:
        """Why its last size is marked from the standing piece; None where it is cut to size at once."""
        return self.fitted.sort if self.fitted is not None else None

    @property
    def rough(self) -> tuple[Length, Length]:
        """Length and width as sawn at first: the finished size, and what is taken off later."""
        length, width, _ = self.size
        longer, wider = (
            self.fitted.more(axis) if self.fitted else ZERO for axis in (self.length_axis, self.width_axis)
        )
        return length + self.oversize * 2 + longer, width + self.oversize * 2 + wider


@dataclass(frozen=True, slots=True)
class Fastener:
    """One screw or brad in its place: driven at ``at`` (its head), along ``direction``, through one part into another.

    A ``slotted`` one goes through a slot, in which it slides when the wood moves. ``wide`` is the axis along which a flat one, a loose
    tenon, is wide. A head that is hidden lies ``sunk`` below the face,
    and ``at`` with it; ``plug`` is what covers it, filler where there is none. ``open_wide`` is how wide its counterbore is where that stays
    open. ``washer`` is what lies under a head that slides.
    """

    item: HardwareItem
    at: Point
    direction: Vector
    through: str
    into: str
    joint: str | None
    temporary: bool = False
    slotted: bool = False
    wide: Axis | None = None
    sunk: Length = ZERO
    plug: HardwareItem | None = None
    washer: HardwareItem | None = None
    open_wide: Length | None = None

    @property
    def counterbore(self) -> Length | None:
        """How wide the hole is in which its head lies, under a plug or open; None where it is only countersunk."""
        return self.plug.diameter if self.plug is not None else self.open_wide

    @property
    def under_filler(self) -> bool:
        """Whether filler covers its head."""
        return bool(self.sunk) and self.plug is None and self.open_wide is None

    @property
    def mouth(self) -> Point:
        """Where its hole opens in the face that it is driven into."""
        if not self.sunk:
            return self.at
        x, y, z = (
            self.at.along(axis) - self.sunk * Fraction(self.direction[axis.index]).limit_denominator(10**6)
            for axis in Axis
        )
        return Point(x, y, z)


def in_own_frame(part: Part, fastener: Fastener) -> Fastener:
    """The fastener as it stands to a part of its own: the same, but for a part that leans, which is set out and bored upright."""
    if part.tilt is None:
        return fastener
    at = Point(*(Length.of_mm(Fraction(value).limit_denominator(1000)) for value in part.tilt.back(fastener.at.mm)))
    x, y, z = (round(step, 6) + 0.0 for step in part.tilt.back_direction(fastener.direction))
    return replace(fastener, at=at, direction=(x, y, z))


@dataclass(frozen=True, slots=True)
class Joint:
    """How one part (``insert``) meets another (``receiver``).

    ``face`` is the insert's face that meets the receiver (its end, for a shelf in a dado); ``contact`` the touching area as a
    box of no thickness at the seen faces; ``depth`` how far the insert is let in (zero for a butt). ``line`` is shared by all joints
    that one source line made. ``glued`` and ``fasteners`` are its fastenings. Where a part leans, ``normal`` is the direction from the
    insert into the receiver and ``area`` how many square millimetres touch; ``contact`` is then the box around them.
    ``after_assembly``: its rabbet is cut with a bearing bit when the parts around it stand.
    """

    id: str
    line: str
    family: JointFamily
    insert: str
    receiver: str
    face: Face
    contact: Box
    depth: Length
    width: Length
    glued: bool
    fasteners: tuple[Fastener, ...]
    position: Position
    normal: Vector | None = None
    area: float | None = None
    after_assembly: bool = False
    run: Axis | None = None
    """The axis that the joint runs along, where that is not the longer side of its contact."""

    def __hash__(self) -> int:
        return hash(self.id)

    def other(self, part: str) -> str:
        """The id of the part that one of the two meets here."""
        return self.receiver if part == self.insert else self.insert


@dataclass(frozen=True, slots=True)
class Fitting:
    """A bought item in its place. ``parts`` are what it is mounted on; ``body`` its outline for drawings, None if not drawn.

    ``moving`` names the part or assembly that it carries (the drawer on its slides); ``opens`` is the side of the piece that a drawer on
    slides comes out at.
    """

    id: str
    item: HardwareItem
    count: int
    parts: tuple[str, ...]
    face: Face
    at: Point
    body: Box | None
    moving: str | None
    line: str
    position: Position
    note: str = ""
    held_by: HeldBy = HeldBy.SCREWS
    other_held_by: HeldBy = HeldBy.SCREWS
    opens: Face | None = None

    def __hash__(self) -> int:
        return hash(self.id)

    def moved(self, by: Point) -> Fitting:
        """The same item at another place."""
        return replace(self, at=self.at.shifted(by), body=self.body.shifted(by) if self.body else None)


@dataclass(frozen=True, slots=True)
class Assembly:
    """A named group of parts, perhaps within another. ``parts`` lists its own; ``children`` the assemblies directly inside."""

    id: str
    name: str
    parent: str | None
    parts: tuple[str, ...]
    children: tuple[str, ...]
    loose: bool
    position: Position


@dataclass(frozen=True, slots=True)
class Plan:
    """A whole resolved plan in one edition. Parts, joints and fittings are in source order; ids are unique."""

    name: str
    edition: str | None
    about: About
    lengths: LengthFormat
    paper: str
    dimensions: tuple[NamedLength, ...]
    stocks: tuple[Stock, ...]
    parts: tuple[Part, ...]
    assemblies: tuple[Assembly, ...]
    joints: tuple[Joint, ...]
    fittings: tuple[Fitting, ...]
    finish: tuple[FinishCoat, ...]
    notes: tuple[Note, ...]
    making: Making
    catalogue: Catalogue
    checks: CheckSettings = CheckSettings()
    order: WorkOrder = WorkOrder()
    film: Film | None = None
    other_sheets: tuple[OtherSheet, ...] = ()
    """What changes where a sheet is not as thick as the plan has it."""
    filling: tuple[Filling, ...] = ()
    """Where the author has gaps at joints filled."""
    helps: tuple[Help, ...] = ()
    """Scraps that hold or guide the work while it is done."""
    _parts: dict[str, Part] = field(default_factory=dict, init=False, repr=False, compare=False)
    _joints: dict[str | None, Joint] = field(default_factory=dict, init=False, repr=False, compare=False)
    _assemblies: dict[str, Assembly] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Parts, joints and assemblies by id, noted when the first is asked for."""
    _met: dict[str, list[tuple[int, Joint]]] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Joints with their places in the order of the source, by the parts that they join."""

    @property
    def words(self) -> Words:
        """Our own words in the plan's language and units."""
        return Words(self.about.language, self.lengths.units)

    @property
    def hangs(self) -> bool:
        """Whether the piece hangs on a wall rather than stands on the floor."""
        return any(fitting.item.family.hangs for fitting in self.fittings)

    def part(self, part_id: str) -> Part:
        """The part of that id. Raises KeyError where there is none."""
        if not self._parts:
            self._parts.update((part.id, part) for part in self.parts)
        return self._parts[part_id]

    def joint(self, joint_id: str | None) -> Joint:
        """The joint of that id, which a cut or bore names. Raises KeyError where there is none."""
        if not self._joints:
            self._joints.update((joint.id, joint) for joint in self.joints)
        return self._joints[joint_id]

    def joints_of(self, parts: Iterable[str]) -> tuple[Joint, ...]:
        """The joints in which any of these parts meets another, in source order."""
        if not self._met:
            for place, joint in enumerate(self.joints):
                for part in {joint.insert, joint.receiver}:
                    self._met.setdefault(part, []).append((place, joint))
        found = {place: joint for part in parts for place, joint in self._met.get(part, ())}
        return tuple(found[place] for place in sorted(found))

    def assembly(self, assembly_id: str) -> Assembly:
        """The assembly of that id. Raises KeyError where there is none."""
        if not self._assemblies:
            self._assemblies.update((assembly.id, assembly) for assembly in self.assemblies)
        return self._assemblies[assembly_id]

    def authors_line(self, part: Part) -> Position:
        """The line of the plan's own file that put the part there: its own, or for a part of a component that of the assembly that takes it."""
        own = next((assembly.position.file for assembly in self.assemblies if assembly.parent is None), "")
        by_id = {assembly.id: assembly for assembly in self.assemblies}
        position, home = part.position, by_id.get(part.assembly)
        while position.file != own and home is not None:
            position, home = home.position, by_id.get(home.parent or "")
        return position

    def parts_in(self, assembly_id: str) -> tuple[Part, ...]:
        """All parts of an assembly and of those inside it."""
        wanted = {assembly_id}
        for assembly in self.assemblies:
            if assembly.parent in wanted:
                wanted.add(assembly.id)
        return tuple(part for part in self.parts if part.assembly in wanted)
