"""Which parts are cut over their size first, as the trade does it, and what their author says of it.

Every allowance: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from drawleaf.graphs import connected
from drawleaf.model.catalogue import Form
from drawleaf.model.fitted import Fitted, FittedAs
from drawleaf.model.joint_family import CutKind
from drawleaf.model.near import Near
from drawleaf.model.openings import opening_of
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Joint, Making, Part
from drawleaf.model.shapes import PlaneCut
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import KindDraft
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.source.models import FittedEntry
from drawleaf.units import ZERO, Length

INCH = Length.of_inches(1)
MOULDING = INCH
"""What a moulding is cut longer: an end is spoilt by a mitre that does not close, and the tail is sawn off last."""
PANEL, BETWEEN = INCH / 4, INCH / 2
OPENING = INCH / 2
"""What a part of a drawer or door is cut longer; half of it wider."""
GAPS, SLIDES = INCH / 2, INCH * 5 / 2
"""The most that is free, on both sides together, beside a front in its opening, and beside a drawer on slides."""
PROUD, LONG = INCH / 16, INCH / 4
"""How far an edging stands proud of its sheet, on both faces together, and how much longer it is."""
THIN = Length.of_mm(9)
"""A sheet thinner than this closes a case."""
NARROW = INCH * 3
"""A strip no wider than this fits between two parts that nothing joins it to."""
SHORT = INCH * 6
"""A mitred piece shorter than this is a returned end, which is worked on its stick."""


@dataclass(frozen=True, slots=True)
class AsWritten:
    """What the author says of a part: how much longer and wider, and which parts it is marked from. Without a size it is not fitted."""

    length: Length = ZERO
    width: Length = ZERO
    marked_from: tuple[str, ...] = ()
    trim: bool = False

    @property
    def fitted(self) -> bool:
        return bool(self.length or self.width)


class FittedReader:
    """Reads ``fitted`` of the parts."""

    def __init__(self, targets: TargetFinder, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._targets, self._evaluator, self._sources, self._findings = targets, evaluator, sources, findings

    def read(self, kinds: Iterable[KindDraft]) -> dict[str, AsWritten]:
        """What their author says, by the kind of part."""
        return {kind.id: written for kind in kinds if (written := self._one(kind)) is not None}

    def _one(self, kind: KindDraft) -> AsWritten | None:
        entry = kind.entry.fitted
        if entry is None or entry is True:
            return None
        if entry is False:
            return AsWritten()
        sizes = [self._size(kind, entry, key) for key in ("length", "width")]
        at = self._sources.at(kind.entry, "fitted")
        other = "grain_match" if kind.entry.grain_match else "oversize" if kind.entry.oversize else ""
        if other:
            self._findings.error(
                "fitted-twice",
                f"“{kind.id}” has both “fitted” and “{other}”",
                at,
                "Both say how large it is cut at first.",
                "Leave one of them out.",
            )
            return AsWritten()
        if not any(sizes):
            self._findings.error(
                "fitted-nothing",
                f"“{kind.id}” is fitted, but is cut neither longer nor wider at first",
                at,
                mend="Write “fitted: {length: 1/2 in}”, or “fitted: no”.",
            )
        places = [at] * (1 if isinstance(entry.from_, str) else len(entry.from_ or ()))
        found = self._targets.find_all(entry.from_, kind.assembly.scope, places) if entry.from_ else []
        ids = dict.fromkeys(one for target in found for one in target.ids)
        return AsWritten(sizes[0], sizes[1], tuple(ids), entry.trim is not None)

    def _size(self, kind: KindDraft, entry: FittedEntry, key: str) -> Length:
        size = self._evaluator.length(getattr(entry, key), kind.scope, entry, key)
        if size is None:
            return ZERO
        if size < ZERO:
            self._findings.error(
                "not-positive", f"“{key}” is what the part is cut over its size", self._sources.at(entry, key)
            )
            return ZERO
        return size


def fit_parts(
    parts: Sequence[Part],
    joints: Sequence[Joint],
    written: Mapping[str, AsWritten],
    making: Making,
    moving: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Part, ...]:
    """The parts, those that are fitted with their allowance. ``moving`` is the drawer or door that each part of one belongs to."""
    pieces = _Pieces(parts, joints, moving)
    rings = _moulding_rings(pieces)
    found: list[Part] = []
    for part in parts:
        own = written.get(part.kind)
        fitted = _as_written(pieces, rings, part, own) if own is not None else _usual(pieces, rings, part)
        if fitted is not None and _still_fits(part, fitted, making):
            part = replace(part, fitted=fitted)
        found.append(part)
    return tuple(found)


@dataclass(frozen=True)
class _Pieces:
    """The parts with their joints."""

    parts: Sequence[Part]
    joints: Sequence[Joint]
    moving: Mapping[str, str]

    def part(self, part_id: str) -> Part:
        return self._by_id[part_id]

    def into(self, part: Part) -> list[Joint]:
        """The joints in which the part is set into or onto others."""
        return [joint for joint in self.all_of(part) if joint.insert == part.id]

    def all_of(self, part: Part) -> list[Joint]:
        return self._met.get(part.id, [])

    def with_it(self, part: Part) -> list[Part]:
        """The parts of the drawer or door that the part belongs to, itself among them."""
        return self._together.get(self.moving.get(part.id, ""), [])

    @cached_property
    def standing(self) -> Near:
        """The parts that belong to no drawer or door."""
        return Near(part for part in self.parts if part.id not in self.moving)

    @cached_property
    def _by_id(self) -> dict[str, Part]:
        return {part.id: part for part in self.parts}

    @cached_property
    def _met(self) -> dict[str, list[Joint]]:
        found: dict[str, list[Joint]] = {}
        for joint in self.joints:
            for part in dict.fromkeys((joint.insert, joint.receiver)):
                found.setdefault(part, []).append(joint)
        return found

    @cached_property
    def _together(self) -> dict[str, list[Part]]:
        found: dict[str, list[Part]] = {}
        for part in self.parts:
            if part.id in self.moving:
                found.setdefault(self.moving[part.id], []).append(part)
        return found


def _as_written(pieces: _Pieces, rings: Mapping[str, tuple[str, ...]], part: Part, written: AsWritten) -> Fitted | None:
    if not written.fitted:
        return None
    over = tuple(
        (axis, size) for axis, size in ((part.length_axis, written.length), (part.width_axis, written.width)) if size
    )
    mates = [joint.other(part.id) for joint in pieces.all_of(part)]
    usual = _usual(pieces, rings, part)
    sort = FittedAs.FLUSH if written.trim else usual.sort if usual is not None else FittedAs.PART
    return Fitted(sort, over, written.marked_from or tuple(dict.fromkeys(mates)))


def _usual(pieces: _Pieces, rings: Mapping[str, tuple[str, ...]], part: Part) -> Fitted | None:
    """How the trade fits such a part; None where it is cut to size."""
    odd = part.match or part.brought or part.oversize or part.tilt is not None or part.stock.material.form is Form.EDGE
    if odd:
        return None
    if part.id in rings:
        return Fitted(
            FittedAs.MOULDING, ((part.length_axis, max(MOULDING, part.stock.material.extra)),), rings[part.id]
        )
    rules: tuple[Callable[[_Pieces, Part], Fitted | None], ...] = (_opening, _top, _edging, _panel, _between)
    return next((fitted for rule in rules if (fitted := rule(pieces, part)) is not None), None)


def _moulding_rings(pieces: _Pieces) -> dict[str, tuple[str, ...]]:
    """The mouldings that go round a case, with the parts that they are mitred to fit: those that they lie against."""
    mouldings = [part for part in pieces.parts if part.section and not part.section.round and _mitred(part)]
    ids = {part.id: part for part in mouldings}
    mitres = [(joint.insert, joint.receiver) for joint in pieces.joints if joint.family.mitred]
    found: dict[str, tuple[str, ...]] = {}
    for ring in connected(ids, mitres):
        behind = [joint.receiver for joint in pieces.joints if joint.insert in ring and joint.receiver not in ids]
        # A front that comes off is joined to nothing behind it, and is held against it all the same.
        behind += [other for one in ring for other in _behind(pieces, ids[one]) if other not in ids]
        short = any(ids[one].size[0] < SHORT for one in ring)
        if behind and not short and len(ring) > 1:
            found |= dict.fromkeys(ring, tuple(dict.fromkeys(behind)))
    return found


def _behind(pieces: _Pieces, part: Part) -> list[str]:
    """What a moulding's back lies against."""
    return [one for face in (part.thickness.low, part.thickness.high) for one in _lying_against(pieces, part, face)]


def _lying_against(pieces: _Pieces, part: Part, face: Face) -> list[str]:
    """What lies against a face of a part, whatever joins it there."""
    return [
        other.id
        for other in pieces.parts
        if other.body.face(face.opposite) == part.body.face(face)
        and all(_shared(other, part, axis) for axis in face.axis.others())
    ]


def _mitred(part: Part) -> bool:
    return any(isinstance(cut, PlaneCut) and cut.kind == CutKind.MITRE for cut in part.features)


def _opening(pieces: _Pieces, part: Part) -> Fitted | None:
    """A part of a drawer or door that is made to its opening: longer at first; a front that fills its opening wider too."""
    own = pieces.with_it(part)
    if not own:
        return None
    over: list[tuple[Axis, Length]] = []
    seen: list[str] = []
    for axis, more in ((part.length_axis, OPENING), (part.width_axis, OPENING / 2)):
        found = opening_of(part, own, pieces.standing, axis)
        if found is None:
            continue
        fills = found.beside == ZERO and found.gaps <= GAPS
        if fills or (axis is part.length_axis and found.gaps <= SLIDES):
            over.append((axis, more))
            seen += [found.low, found.high]
    return Fitted(FittedAs.OPENING, tuple(over), tuple(dict.fromkeys(seen))) if over else None


def _top(pieces: _Pieces, part: Part) -> Fitted | None:
    """A glued-up top that lies on the piece and has nothing joined to it: it is trimmed over what it lies on."""
    joints = pieces.all_of(part)
    lies = joints and all(joint.insert == part.id and joint.face is Face.BOTTOM for joint in joints)
    if part.glue_up is None or not lies:
        return None
    beneath = _lying_against(pieces, part, Face.BOTTOM)
    return Fitted(FittedAs.TOP, (), tuple(beneath)) if beneath else None


def _edging(pieces: _Pieces, part: Part) -> Fitted | None:
    """A strip glued along the edge of a sheet, to be trimmed flush with its faces."""
    joints = pieces.all_of(part)
    if len(joints) != 1 or part.section is not None or not part.stock.material.solid:
        return None
    (joint,) = joints
    sheet = pieces.part(joint.receiver)
    edge = (
        joint.insert == part.id and sheet.stock.material.form is Form.SHEET and joint.face.axis is not sheet.thickness
    )
    if (
        not joint.family.set_on
        or not joint.glued
        or joint.fasteners
        or not edge
        or part.width_axis is not sheet.thickness
    ):
        return None
    thick, high = sheet.body.extent(sheet.thickness), part.size[1]
    broad = part.stock.width
    if not thick - PROUD <= high <= thick + PROUD * 2 or (broad is not None and high + PROUD > broad):
        return None
    over = ((sheet.thickness, PROUD),)
    if part.body.span(part.length_axis) == sheet.body.span(part.length_axis):
        over = (*over, (part.length_axis, LONG))
    return Fitted(FittedAs.EDGING, over, (sheet.id,))


def _panel(pieces: _Pieces, part: Part) -> Fitted | None:
    """A thin sheet that lies in rabbets and closes a case."""
    joints = pieces.into(part)
    rabbets = [joint for joint in joints if joint.family.channel is CutKind.RABBET]
    if part.stock.material.form is not Form.SHEET or part.stock.thickness >= THIN or len(rabbets) < 2:
        return None
    if any(joint.face.axis is part.thickness for joint in rabbets):
        return None
    over = tuple((axis, PANEL) for axis in (part.length_axis, part.width_axis))
    return Fitted(FittedAs.PANEL, over, tuple(dict.fromkeys(joint.receiver for joint in joints)))


def _between(pieces: _Pieces, part: Part) -> Fitted | None:
    """A strip held by its face, whose ends meet other parts that nothing joins it to: a lining or a scribed strip."""
    joints = pieces.all_of(part)
    axis = part.length_axis
    held = joints and all(joint.family.set_on and joint.face.axis is not axis for joint in joints)
    if not held or not part.stock.material.solid or part.section is not None or part.size[1] > NARROW:
        return None
    joined = {end for joint in joints for end in (joint.insert, joint.receiver)}
    ends = [_touching(pieces, part, face, joined) for face in (axis.low, axis.high)]
    if not all(ends):
        return None
    return Fitted(FittedAs.BETWEEN, ((axis, BETWEEN),), tuple(dict.fromkeys(one for end in ends for one in end)))


def _touching(pieces: _Pieces, part: Part, face: Face, joined: set[str]) -> list[str]:
    """What stands against a face of the part and is not joined to it."""
    across = face.axis.others()
    return [
        other.id
        for other in pieces.parts
        if other.id not in joined
        and other.assembly == part.assembly
        and other.body.face(face.opposite) == part.body.face(face)
        and all(_shared(other, part, axis) for axis in across)
    ]


def _shared(one: Part, other: Part, axis: Axis) -> bool:
    both = one.body.span(axis).overlap(other.body.span(axis))
    return both is not None and both.extent > ZERO


def _still_fits(part: Part, fitted: Fitted, making: Making) -> bool:
    """Whether the stock that is sold is large enough for what it is cut over: a part that takes a whole board is cut to size."""
    length, width = replace(part, fitted=fitted).rough
    if part.glue_up is not None:
        return True
    if part.stock.material.form is Form.SHEET:
        trim = making.sheet_trim * 2
        return any(
            (length + trim <= one and width + trim <= other)
            for sheet in part.stock.sheets
            for one, other in ((sheet.length, sheet.width), (sheet.width, sheet.length))
        )
    if part.stock.width is not None and width > max(part.size[1], part.stock.width):
        return False
    longest = max((one for board in part.stock.boards for one in board.lengths), default=None)
    return longest is None or length + making.end_trim * 2 <= longest
