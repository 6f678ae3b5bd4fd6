"""``helps:`` of joints, machining and hardware: which scrap is set where while the line's work is done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from drawleaf.english import listed
from drawleaf.model.helps import Help, HelpKind, HelpPlace
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Fitting, Joint, Part
from drawleaf.model.position import Position
from drawleaf.resolve.help_places import Ruler, across, beside, edge_of, from_nearest_end, gaps, in_gap, size_of
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.line_work import work_key
from drawleaf.resolve.names.scopes import AssemblyDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.source.help_models import HelpEntry
from drawleaf.source.models import FittingEntry, JointEntry, MachiningEntry
from drawleaf.units import Length

EXTENTS = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}
PLACED = {HelpKind.BATTEN: ("on", "at"), HelpKind.JIG: ("at",)}
"""What says where it goes, of the kinds whose parts do not say it."""
ALONG = "A fence lies along a side of what comes to the joint; it is clamped to what takes it."


@dataclass(frozen=True, slots=True)
class _Work:
    """One help with the work that it is for. ``line`` is that of the machining, None for joints and hardware."""

    entry: HelpEntry
    kind: HelpKind
    scope: Scope
    joints: Sequence[Joint]
    fittings: Sequence[Fitting]
    line: Position | None
    position: Position


@dataclass(frozen=True, slots=True)
class _Meeting:
    """What comes, with its ``box``, meets the ``receiver`` with its side ``toward`` it, where ``contact`` says."""

    receiver: str
    box: Box
    toward: Face
    contact: Box
    joint: str | None
    leans: bool


class HelpReader:
    """Reads helps once all parts, joints and hardware are in their places."""

    def __init__(
        self,
        targets: TargetFinder,
        parts: Iterable[Part],
        joints: Sequence[Joint],
        fittings: Sequence[Fitting],
        evaluator: Evaluator,
        sources: Sources,
        findings: Findings,
        ruler: Ruler,
    ) -> None:
        self._targets = targets
        self._parts = {part.id: part for part in parts}
        self._joints = joints
        self._fittings = fittings
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings
        self._ruler = ruler

    def read(self, drafts: Iterable[AssemblyDraft]) -> tuple[Help, ...]:
        """All helps, in the order of their lines."""
        found: list[Help] = []
        for draft in drafts:
            if draft.is_out:
                continue
            lines = (*draft.joints(), *draft.machining(), *draft.fittings())
            found += [one for scope, line in lines for entry in line.helps for one in self._help(line, entry, scope)]
        return tuple(found)

    def _help(self, line: JointEntry | MachiningEntry | FittingEntry, entry: HelpEntry, scope: Scope) -> Iterator[Help]:
        kind = self._kind(entry)
        if kind is None or not self._fits(kind, entry):
            return
        place = self._sources.at(line, work_key(line))
        joints = [joint for joint in self._joints if joint.position == place]
        fittings = [fitting for fitting in self._fittings if fitting.position == place]
        if not joints and not fittings and not isinstance(line, MachiningEntry):
            return  # what it joins or holds is left out
        machined = place if isinstance(line, MachiningEntry) else None
        work = _Work(entry, kind, scope, joints, fittings, machined, self._sources.at(entry, kind.value))
        own = self._own(work)
        if own is None:
            return
        match kind:
            case HelpKind.FENCE | HelpKind.STOP:
                yield from self._blocks(work, own)
            case HelpKind.SPACER:
                yield from self._spacers(work, own)
            case HelpKind.BATTEN:
                yield from self._batten(work, own)
            case HelpKind.JIG:
                yield from self._jig(work, own)

    def _kind(self, entry: HelpEntry) -> HelpKind | None:
        given = [kind for kind in HelpKind if getattr(entry, kind.value) is not None]
        if len(given) == 1:
            return given[0]
        self._findings.error(
            "help-kind",
            "a help names one kind of help" if given else "this help does not say what kind it is",
            self._sources.at(entry),
            "The kinds are fence, stop, spacer, batten and jig.",
            "Write “- {fence: bottom}”, or another of the kinds, each in an entry of its own.",
        )
        return None

    def _fits(self, kind: HelpKind, entry: HelpEntry) -> bool:
        """Whether it says only what this kind uses, and all that it needs."""
        for key in ("on", "at"):
            if getattr(entry, key) is not None and key not in PLACED.get(kind, ()):
                where = self._sources.at(entry, key)
                self._findings.error(
                    "help-key", f"“{key}” says nothing of a {kind.value}", where, mend=f"Leave “{key}” out."
                )
                return False
        if kind is HelpKind.BATTEN and entry.on is None:
            where = self._sources.at(entry, kind.value)
            self._findings.error(
                "help-key", "this batten does not say where it lies", where, mend="Add the side: “on: front”."
            )
            return False
        sizes = [key for key in EXTENTS.values() if getattr(entry, key) is not None]
        if kind is HelpKind.JIG and len(sizes) != 3 and (sizes or entry.at is not None):
            lacking = listed([f"“{key}”" for key in EXTENTS.values() if key not in sizes])
            where = self._sources.at(entry, kind.value)
            self._findings.error(
                "help-key", "a jig is drawn by its three sizes", where, mend=f"Add {lacking}, or leave the sizes and “at” out."
            )  # fmt: skip
            return False
        return True

    def _own(self, work: _Work) -> dict[Axis, Length] | None:
        """The extents that the author gives."""
        found: dict[Axis, Length] = {}
        for axis, key in EXTENTS.items():
            text = getattr(work.entry, key)
            if text is None:
                continue
            length = self._evaluator.length(text, work.scope, work.entry, key)
            if length is None:
                return None
            if length.exact_mm <= 0:
                self._place_error(
                    work, f"a {work.kind.value} cannot be {text} along {axis.value}", "Write a size above 0."
                )
                return None
            found[axis] = length
        return found

    # Kinds

    def _blocks(self, work: _Work, own: dict[Axis, Length]) -> Iterator[Help]:
        """A fence or stop for each part, or piece of hardware, that comes."""
        asked = Face(getattr(work.entry, work.kind.value))
        made: list[Help] = []
        free: dict[Face, None] = {}
        for subject, meetings in self._subjects(work).items():
            face = self._turned(subject, asked)
            places: list[HelpPlace] = []
            flush = False
            for one in meetings:
                receiver = self._parts[one.receiver]
                if receiver.tilt is not None or one.leans:
                    self._leans(work, receiver.id if receiver.tilt is not None else subject)
                    return
                for side in Face:
                    if side.axis is not one.toward.axis and beside(one.box, receiver.seen, one.toward, one.contact, side, self._ruler, own):  # fmt: skip
                        free[side] = None
                block = None
                if face.axis is not one.toward.axis:
                    block = beside(one.box, receiver.seen, one.toward, one.contact, face, self._ruler, own)
                if block is not None:
                    flush = block.flush
                    edge = None if flush else from_nearest_end(receiver.body, face, one.box.face(face))
                    places.append(HelpPlace(block.box, receiver.id, one.joint, edge))
            if places:
                serves = frozenset(place.joint or subject for place in places)
                parts = (subject,) if subject in self._parts else ()
                made.append(self._made(work, serves, parts, tuple(places), subject=subject, face=face, flush=flush))
        if not made:
            sides = " or ".join(f"“{work.kind.value}: {face.value}”" for face in free)
            mend = f"Write {sides}." if free else "Leave it out, or say it as a jig: “jig: fence”, with a note."
            message = f"a {work.kind.value} at the {asked.value} finds nothing there to be clamped to"
            self._place_error(work, message, mend)
        yield from made

    def _subjects(self, work: _Work) -> dict[str, list[_Meeting]]:
        """What comes, with all that it is set on."""
        found: dict[str, list[_Meeting]] = {}
        for joint in work.joints:
            insert = self._parts[joint.insert]
            one = _Meeting(joint.receiver, insert.seen, joint.face, joint.contact, joint.id, insert.tilt is not None)
            found.setdefault(joint.insert, []).append(one)
        for fitting in work.fittings:
            if fitting.body is not None:
                toward, receiver = fitting.face.opposite, self._parts[fitting.parts[0]]
                level = receiver.seen.face(fitting.face)
                contact = fitting.body.with_span(toward.axis, Span(level, level))
                one = _Meeting(receiver.id, fitting.body, toward, contact, None, False)
                found.setdefault(fitting.id, []).append(one)
        return found

    def _turned(self, subject: str, face: Face) -> Face:
        """The side as a mirrored twin has it."""
        part = self._parts.get(subject)
        draft = self._targets.draft(part.kind) if part is not None and part.mirrored else None
        return face.opposite if draft is not None and draft.mirror is face.axis else face

    def _spacers(self, work: _Work, own: dict[Axis, Length]) -> Iterator[Help]:
        named = self._named(work, "spacer")
        if named is None:
            return
        rows = [[(part.id, part.seen) for part in named]]
        if work.fittings:
            bodies = [(one.id, one.body) for one in work.fittings if one.body is not None]
            rows = [[*rows[0], body] for body in bodies]
        made: list[Help] = []
        for row in rows:
            found = gaps(row) if len(row) > 1 else None
            if found is None:
                names = listed([f"“{one}”" for one, _ in row])
                several = "they must stand in a row with room between them" if len(row) > 1 else "it has no other side"
                self._place_error(
                    work, f"no spacer goes between {names}: {several}",
                    "Name the two parts that it holds apart: “spacer: [floor, shelf]”.",
                )  # fmt: skip
                return
            axis, rooms = found
            if axis in own:
                where = self._sources.at(work.entry, EXTENTS[axis])
                self._findings.error(
                    "help-key",
                    f"how far a spacer holds them apart along {axis.value} follows from their places",
                    where,
                    mend=f"Leave “{EXTENTS[axis]}” out.",
                )
                return
            for one, other, room in rooms:
                serves = frozenset(
                    [joint.id for joint in work.joints if {one, other} & {joint.insert, joint.receiver}]
                    + [fitting.id for fitting in work.fittings if fitting.id in (one, other)]
                )
                if serves:
                    places = tuple(HelpPlace(box, one) for box in in_gap(room, axis, self._ruler, own))
                    hardware = next((end for end in (one, other) if end not in self._parts), "")
                    made.append(
                        self._made(work, serves, (one, other), places, subject=hardware, exact=room.extent(axis))
                    )
        if not made:
            names = listed([f"“{part.id}”" for part in named])
            message = f"this line sets none of {names}" if len(named) > 1 else f"this line does not set {names}"
            self._place_error(work, message, "Write it at the line that joins one of them.")
        yield from made

    def _batten(self, work: _Work, own: dict[Axis, Length]) -> Iterator[Help]:
        named = self._named(work, "batten")
        on = Face(work.entry.on or "front")
        if named is None:
            return
        at = self._at(work)
        if at is None:
            return
        box = across([part.seen for part in named], on, self._ruler, own, at)
        if box is None or len(named) < 2:
            names = listed([f"“{part.id}”" for part in named])
            message = f"no batten lies flat on the {on.value} of {names}"
            level = [face for face in Face if len(named) > 1 and across([p.seen for p in named], face, self._ruler, own, at)]  # fmt: skip
            sides = " or ".join(f"“on: {face.value}”" for face in level)
            self._place_error(
                work, message, f"Write {sides}." if level else "Name two parts that are level on one side."
            )
            return
        places = (HelpPlace(box, named[0].id, None, edge_of(box, named[0].body, on, [part.seen for part in named])),)
        yield self._made(work, self._all(work), tuple(part.id for part in named), places, face=on)

    def _jig(self, work: _Work, own: dict[Axis, Length]) -> Iterator[Help]:
        at = self._at(work) if work.entry.at is not None else {}
        if at is None:
            return
        places: tuple[HelpPlace, ...] = ()
        size = None
        if own:
            spans = {axis: Span(at.get(axis, own[axis] / 2) - own[axis] / 2, at.get(axis, own[axis] / 2) + own[axis] / 2) for axis in Axis}  # fmt: skip
            box = Box(spans[Axis.X], spans[Axis.Y], spans[Axis.Z])
            size = size_of(box)
            if work.entry.at is not None:
                if len(at) < 3:
                    self._place_error(work, "a jig stands at three coordinates", "Write “at: {x: …, y: …, z: …}”.")
                    return
                places = (HelpPlace(box, ""),)
        name = work.entry.jig or "jig"
        yield Help(
            HelpKind.JIG, name, work.position, self._all(work), work.line, (), places, size, note=work.entry.note
        )

    # What they share

    def _all(self, work: _Work) -> frozenset[str]:
        return frozenset([*(joint.id for joint in work.joints), *(fitting.id for fitting in work.fittings)])

    def _made(self, work: _Work, serves: frozenset[str], parts: tuple[str, ...], places: tuple[HelpPlace, ...], *, subject: str = "", face: Face | None = None, flush: bool = False, exact: Length | None = None) -> Help:  # fmt: skip
        parts = tuple(one for one in parts if one in self._parts)
        return Help(
            work.kind,
            work.kind.value,
            work.position,
            serves,
            work.line,
            parts,
            places,
            size_of(places[0].box),
            subject=subject,
            face=face,
            flush=flush,
            exact=exact,
            note=work.entry.note,
        )

    def _named(self, work: _Work, key: str) -> list[Part] | None:
        """The parts that a spacer or batten names; None where one is not there, or leans."""
        names = getattr(work.entry, key)
        listing = [names] if isinstance(names, str) else names
        places = [work.position for _ in listing]
        targets = self._targets.find_all(listing, work.scope, places)
        if len(targets) < len(listing):
            return None
        found = {part.id: part for target in targets for part in target.parts(self._parts)}
        leaning = next((part.id for part in found.values() if part.tilt is not None), None)
        if leaning is not None:
            self._leans(work, leaning)
            return None
        return list(found.values()) or None

    def _at(self, work: _Work) -> dict[Axis, Length] | None:
        """The coordinates that ``at`` gives."""
        found: dict[Axis, Length] = {}
        for axis in Axis:
            text = getattr(work.entry.at, axis.value, None)
            if text is not None:
                value = self._evaluator.coordinate(text, axis, work.scope, work.entry, "at", axis.value)
                if value is None:
                    return None
                found[axis] = value
        return found

    def _leans(self, work: _Work, part: str) -> None:
        mend = f"Say it as a jig, “jig: {work.kind.value}”, with a note on how it is set."
        self._place_error(
            work, f"“{part}” leans, and where a {work.kind.value} stands at it cannot be worked out", mend
        )

    def _place_error(self, work: _Work, message: str, mend: str) -> None:
        self._findings.error("help-place", message, work.position, _WHY[work.kind], mend)


_WHY = {
    HelpKind.FENCE: ALONG,
    HelpKind.STOP: "A stop is clamped at a side of what comes, to what takes it, or across both where they are flush.",
    HelpKind.SPACER: "A spacer fills the room between two parts, so that it sets how far they stand apart.",
    HelpKind.BATTEN: "A batten lies on one side of all that it is clamped across.",
    HelpKind.JIG: "A jig that has a place is drawn there.",
}
