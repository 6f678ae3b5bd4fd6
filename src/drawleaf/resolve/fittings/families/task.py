"""One fitting line at work: what the families of hardware share to place an item, cut for it and report what does not fit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.held import HeldBy
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Bore, BoxCut, Feature, Fitting, Part
from drawleaf.model.position import Position
from drawleaf.resolve.fittings.families.voids import is_open, meets, void_of
from drawleaf.resolve.machining.spots import SpotReader
from drawleaf.resolve.names.counting import Counting
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.source.models import FittingEntry
from drawleaf.units import ZERO, Length

HAIR = Length.of_inches(Fraction(1, 64))
"""Faces that stand apart by no more than this are flush."""
FLOOR = Length.of_inches(Fraction(1, 8))
"""So much wood stays under a recess that a screw must hold in, or beside a bore: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Tools:
    """What every fitting line is read with; ``shop`` are the parts with their joinery and machining."""

    targets: TargetFinder
    shop: Mapping[str, Part]
    evaluator: Evaluator
    hardware: Mapping[str, HardwareItem]
    spots: SpotReader
    sources: Sources
    findings: Findings


@dataclass(frozen=True, slots=True)
class Carried:
    """What an item carries: the id of its assembly or part, and the parts of it."""

    id: str
    parts: tuple[Part, ...]


@dataclass
class Task:
    """One line of ``hardware:``. Families add to ``fittings`` and ``cuts``; a line with a mistake yields none."""

    tools: Tools
    line: str
    item: HardwareItem
    entry: FittingEntry
    targets: list[Target]
    scope: Scope
    count: int | None
    fittings: list[Fitting] = field(default_factory=list)
    cuts: list[tuple[str, Feature]] = field(default_factory=list)

    # What the source says

    @property
    def position(self) -> Position:
        return self.tools.sources.at(self.entry, "item")

    @property
    def parts(self) -> list[Part]:
        """The parts that ``on`` names, each once."""
        named = {part.id: part for target in self.targets for part in target.parts(dict(self.tools.shop))}
        return list(named.values())

    def say(self, length: Length) -> str:
        return say(length, self.scope.unit)

    def error(self, code: str, message: str, key: str, cause: str = "", mend: str = "") -> None:
        """A mistake at a key of the line."""
        self.tools.findings.error(code, message, self.tools.sources.at(self.entry, key), cause, mend)

    def measure(self, name: str) -> Length:
        """A measure of the item, zero where it has none."""
        return self.item.measure(name) or ZERO

    def length(self, key: str) -> Length | None:
        """The length that the line gives under a key, None where it gives none or a wrong one."""
        return self.tools.evaluator.length(getattr(self.entry, key), self.scope, self.entry, key)

    def needs(self, key: str, example: str) -> bool:
        """Whether a key that the item cannot do without is given."""
        if getattr(self.entry, key) is not None:
            return True
        self.error("hardware-incomplete", f"{self.item.name}: “{key}” is not given", "item", mend=f"Write “{example}”.")
        return False

    def places(self, part: Part, face: Face) -> list[Point]:
        """The places on a face that ``at`` and ``repeat`` give; none where one cannot be worked out or lies beside the part."""
        if self.entry.at is None:
            self.needs("at", "at: {x: 3, z: 1-1/2}")
            return []
        first, flip = self._model(part)
        like = face.opposite if face.axis is flip else face
        found = self.tools.spots.on_face(first, like, self.entry.at, self.entry.repeat, self.scope, self.entry) or []
        return (
            [_like(at, first, part, flip) for at in found] if all(self.on_part(first, like, at) for at in found) else []
        )

    def sided(self, face: Face) -> list[tuple[Part, Face]]:
        """The parts with the face that each is worked on: a twin on the mirror image of it."""
        return [(part, face.opposite if face.axis is self._model(part)[1] else face) for part in self.parts]

    def _model(self, part: Part) -> tuple[Part, Axis | None]:
        """The copy that the line was written for, and the axis along which this one is its mirror image."""
        for target in self.targets:
            copies = target.parts(dict(self.tools.shop))
            if target.kind is not None and any(one.id == part.id for one in copies):
                first = copies[0]
                return first, target.kind.mirror if first.mirrored != part.mirrored else None
        return part, None

    def on_part(self, part: Part, face: Face, at: Point) -> bool:
        """Whether a place lies on the face of a part; reported where not."""
        for axis in face.axis.others():
            span, value = part.seen.span(axis), at.along(axis)
            if not span.low <= value <= span.high:
                counting = Counting(self.tools.evaluator, self.scope)
                self.error(
                    "hardware-off-part",
                    f"{self.item.name} at {axis.value} {counting.say(value, axis)} is beside “{part.id}”",
                    "at",
                    f"The {face.value} of the part has {counting.reaches(part, face)}.{counting.zero()}",
                    f"Give “at” a place on it: {axis.value} {counting.reach(part, axis)}.",
                )
                return False
        return True

    def face(self) -> Face | None:
        """The face that the line names; reported where it names none."""
        return Face(self.entry.face) if self.needs("face", "face: front") and self.entry.face else None

    def hung(self, on: str) -> tuple[Part, Carried] | None:
        """The one part that a door hangs on, and the door; reported where there is not just one. ``on`` names what it may be."""
        carried = self.carried()
        if carried is None:
            return None
        if len(self.parts) != 1:
            self.error(
                "hardware-parts",
                f"{self.item.name}: a door hangs on one part; {len(self.parts)} are named",
                "on",
                mend=f"Name the {on}.",
            )
            return None
        return self.parts[0], carried

    def carried(self) -> Carried | None:
        """What ``carries`` names; reported where it names nothing."""
        if self.entry.carries is None:
            self.needs("carries", "carries: door")
            return None
        target = self.tools.targets.find(self.entry.carries, self.scope, self.tools.sources.at(self.entry, "carries"))
        if target is None or target.left_out:
            return None
        assembly = target.assembly
        inside = {part.id for one in self.targets for part in one.parts(dict(self.tools.shop))}
        whole = self.tools.targets.whole_assembly(assembly, self.entry.carries, target.position) if assembly else target
        if assembly is None or inside & set(whole.ids):
            self.error(
                "hardware-parts",
                f"{self.item.name}: “{self.entry.carries}” belongs to the same assembly as what it moves on",
                "carries",
                "What moves is put together by itself, and hung afterwards.",
                "Give it an assembly of its own.",
            )
            return None
        parts = tuple(whole.parts(dict(self.tools.shop)))
        return Carried(assembly.id, parts) if parts else None

    @property
    def held_by(self) -> HeldBy:
        """What holds it, or its half on the part that it is on."""
        return HeldBy(self.entry.held_by or HeldBy.SCREWS)

    @property
    def other_held_by(self) -> HeldBy:
        """What holds its other half."""
        return HeldBy(self.entry.other_half_held_by or HeldBy.SCREWS)

    def mates(self) -> tuple[Part, ...]:
        """The parts that ``other_half_on`` names; reported where it names none."""
        if self.entry.other_half_on is None:
            self.needs("other_half_on", "other_half_on: panel")
            return ()
        target = self.tools.targets.find(
            self.entry.other_half_on, self.scope, self.tools.sources.at(self.entry, "other_half_on")
        )
        return tuple(target.parts(dict(self.tools.shop))) if target else ()

    # What is made of it

    def place(
        self,
        parts: Sequence[Part],
        face: Face,
        at: Point,
        body: Box | None,
        *,
        count: int = 1,
        moving: str | None = None,
        opens: Face | None = None,
    ) -> None:
        """One more item in its place."""
        made = Fitting(
            id=f"{self.line}-{len(self.fittings) + 1}",
            item=self.item,
            count=count,
            parts=tuple(dict.fromkeys(part.id for part in parts)),
            face=face,
            at=at,
            body=body,
            moving=moving,
            line=self.line,
            position=self.position,
            note=self.entry.note,
            opens=opens,
            held_by=self.held_by,
            other_held_by=self.other_held_by,
        )
        self.fittings.append(made)

    def cut_recess(self, part: Part, into: Face, box: Box) -> None:
        """A square-cornered pocket; ``box`` is cut off where it leaves the part."""
        inside = part.body.overlap(box)
        if inside is not None:
            opened = tuple(face for face in broken_through(inside, part.body, into))
            self._cut(part, BoxCut("recess", inside, into, opened, None, self.position))

    def cut_bore(
        self, part: Part, face: Face, at: Point, diameter: Length, depth: Length | None, kind: str = "recess"
    ) -> None:
        """A round pocket, or a hole of another kind. Those of one line in one part are a row."""
        row = f"{part.id}/{self.line}"
        start = at.moved(face.axis, part.body.face(face))
        self._cut(part, Bore(kind, face, start, face.opposite.normal, diameter, depth, row, self.position))

    def _cut(self, part: Part, cut: Bore | BoxCut) -> None:
        """Cut it; reported where other hardware, a hole or a row of pins has cut there already."""
        own = void_of(cut, part)
        if own is None or min(own.extent(axis).exact_mm for axis in Axis) <= 0:
            self.error(
                "hardware-incomplete",
                f"{self.item.name}: nothing says how wide and deep it is cut into “{part.id}”",
                "item",
                "The sizes are under “measures” in shared/hardware.",
                "Copy an entry of ours of that kind into your own shared/hardware, and change its figures.",
            )
            return
        for other in part.features:
            if isinstance(other, BoxCut) and other.kind != "recess":
                continue
            there = void_of(other, part)
            if there is not None and meets(own, there):
                self.error(
                    "hardware-clearance",
                    f"{self.item.name}: what is cut for it in “{part.id}” runs into a {other.kind} that is there already",
                    "item",
                    "Two holes that meet leave no wood for the screws of either.",
                    "Move one of them.",
                )
                return
        self.cuts.append((part.id, cut))

    def thick_enough(self, part: Part, face: Face, depth: Length, what: str, floor: Length = FLOOR) -> bool:
        """Whether a pocket leaves wood under it; reported where not."""
        wood = part.body.extent(face.axis)
        if depth + floor <= wood:
            return True
        self.error(
            "hardware-wood",
            f"{self.item.name}: {what} is {self.say(depth)} deep, and “{part.id}” only {self.say(wood)} thick there",
            "on",
            f"At least {self.say(floor)} of wood must stay under it.",
            "Take a smaller one, or a thicker part.",
        )
        return False

    def wide_enough(self, part: Part, face: Face, at: Point, reach: Length, what: str, least: Length = FLOOR) -> bool:
        """Whether a round bore keeps wood beside it on all sides; reported where not."""
        for axis in face.axis.others():
            for edge in (axis.low, axis.high):
                room = (part.body.face(edge) - at.along(axis)) * edge.side - reach
                if room < least:
                    self.error(
                        "hardware-wood",
                        f"{self.item.name}: {what} leaves {self.say(max(room, ZERO))} of wood at the {edge.value} of “{part.id}”",
                        "at",
                        f"It needs {self.say(least)}.",
                        f"Move it {self.say(least - room)} away from that edge, or make the part larger.",
                    )
                    return False
        return True

    def in_the_open(self, body: Box, but: Sequence[Part] = (), key: str = "at") -> bool:
        """Whether nothing stands where the item sits; reported where something does."""
        own = {part.id for part in but}
        for part in self.tools.shop.values():
            shared = part.seen.overlap(body) if part.id not in own else None
            if shared is not None and min(shared.extent(axis) for axis in Axis) > HAIR and not is_open(part, shared):
                self.error(
                    "hardware-buried",
                    f"{self.item.name}: “{part.id}” stands where it sits",
                    key,
                    mend="Move it, or mount it on another face.",
                )
                return False
        return True


def _like(at: Point, first: Part, part: Part, flip: Axis | None) -> Point:
    """A place on the first copy, at the like place of another."""
    for axis in Axis:
        own, new = first.seen.span(axis), part.seen.span(axis)
        into = at.along(axis) - own.low
        at = at.moved(axis, new.high - into if axis is flip else new.low + into)
    return at


def outwards(face: Face, surface: Length, out: Length) -> Span:
    """From a surface so far out along the way that a face looks; a negative distance goes into the wood."""
    ends = sorted((surface, surface + out * face.side))
    return Span(ends[0], ends[1])


def around(middle: Length, extent: Length) -> Span:
    return Span(middle - extent / 2, middle + extent / 2)


def block(point: Point, spans: Mapping[Axis, Span]) -> Box:
    """A box by its spans; of no thickness at the point on an axis that is not given."""
    box = Box(Span(point.x, point.x), Span(point.y, point.y), Span(point.z, point.z))
    for axis, span in spans.items():
        box = box.with_span(axis, span)
    return box


def with_cuts(parts: Sequence[Part], cuts: Sequence[tuple[str, Feature]]) -> tuple[Part, ...]:
    """The parts with what hardware needs cut into them, after all else."""
    by_part: dict[str, list[Feature]] = {}
    for part_id, feature in cuts:
        by_part.setdefault(part_id, []).append(feature)
    return tuple(
        replace(part, features=(*part.features, *by_part[part.id])) if part.id in by_part else part for part in parts
    )
