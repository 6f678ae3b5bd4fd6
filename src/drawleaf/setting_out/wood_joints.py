"""Joints in solid wood as the bench sets them out: tenons with their shoulders, mortises, laps, fingers, tails. Steps and drawings ask here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.joinery import BENCH
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face, Span
from drawleaf.model.plan import BoxCut, Feature, Joint, Part, Plan
from drawleaf.model.settings import MortiseSettings, TenonSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import ZERO, Length

TENONS = (CutKind.TENON, CutKind.TONGUE, CutKind.BREADBOARD_TONGUE)
MORTISES = (CutKind.MORTISE, CutKind.HAUNCH)
FINGERS = (CutKind.FINGER, CutKind.TAIL, CutKind.SOCKET)
JOINTED = frozenset((*TENONS, *MORTISES, CutKind.PEG_SLOT, *(work.kind for work in BENCH)))
"""Kinds of cuts that the files for these joints make, word and draw."""


def takes_glue(joint: Joint) -> bool:
    """Whether glue goes into a joint: all over it, or on the one tenon that keeps a breadboard end centred."""
    return joint.glued or bool(joint.family.glued_at)


@dataclass(frozen=True, slots=True)
class TenonEnd:
    """What stands at one end or edge of a part: ``length`` beyond the shoulder at ``face``, ``thick`` across and ``widths`` along.

    ``haunch`` is the length of the short tongue beside or between the tenons, zero where there is none.
    """

    part: Part
    joint: Joint
    face: Face
    across: Axis
    along: Axis
    thick: Span
    widths: tuple[Span, ...]
    length: Length
    haunch: Length = ZERO

    @property
    def offset(self) -> tuple[Face, Length]:
        """The face of the part that the tenon is nearer to, and how far it stands from there."""
        return _nearer(self.part, self.across, self.thick)

    @property
    def settings(self) -> TenonSettings:
        """What the tools are set to for it, and what is marked on it."""
        low = self.part.seen.span(self.along).low
        near = self.offset[1]
        return TenonSettings(
            self.thick.extent,
            self.length,
            self.haunch,
            cheeks=(near, self.part.seen.extent(self.across) - self.thick.extent - near),
            edges=self.edges,
            places=tuple((one.low - low, one.high - low) for one in self.widths),
            on_end=self.face.axis is self.part.length_axis,
        )

    @property
    def edges(self) -> tuple[Length, Length]:
        """How much is sawn off beside the tenons at the low and at the high edge of the part."""
        seen = self.part.seen.span(self.along)
        return self.widths[0].low - seen.low, seen.high - self.widths[-1].high


@dataclass(frozen=True, slots=True)
class Mortise:
    """A square hole: its two sides along the grain of its part, how far it lies from the nearer face across, how deep (None: through)."""

    part: Part
    cut: BoxCut
    along: Axis
    across: Axis

    @property
    def depth(self) -> Length | None:
        return None if self.cut.into.opposite in self.cut.open else self.cut.box.extent(self.cut.into.axis)

    @property
    def width(self) -> Length:
        return self.cut.box.extent(self.across)

    @property
    def length(self) -> Length:
        return self.cut.box.extent(self.along)

    @property
    def offset(self) -> tuple[Face, Length]:
        return _nearer(self.part, self.across, self.cut.box.span(self.across))

    @property
    def end(self) -> Face:
        """The end that the mortise is measured from."""
        return _nearer(self.part, self.along, self.cut.box.span(self.along))[0]

    @property
    def reach(self) -> tuple[Length, Length]:
        """From where to where it runs, from that end."""
        edge = self.part.body.face(self.end)
        a, b = (abs(at - edge) for at in (self.cut.box.span(self.along).low, self.cut.box.span(self.along).high))
        return min(a, b), max(a, b)


@dataclass(frozen=True, slots=True)
class Mortising:
    """The mortises of one joint in one part, with the haunches beside them."""

    part: Part
    cuts: tuple[BoxCut, ...]

    @property
    def mortises(self) -> tuple[Mortise, ...]:
        return tuple(mortise_of(self.part, cut) for cut in self.cuts if cut.kind == CutKind.MORTISE)

    @property
    def settings(self) -> MortiseSettings:
        """What the tools are set to for them; all mortises of one joint are in one line and are alike but for their length."""
        some = self.mortises
        first = some[0]
        chisel = min(min(one.length, one.width) for one in some)
        return MortiseSettings(chisel, first.width, first.offset[1], first.depth)


def mortisings(part: Part) -> tuple[Mortising, ...]:
    """All mortises of a part, joint by joint."""
    found: dict[str | None, list[BoxCut]] = {}
    for cut in part.features:
        if isinstance(cut, BoxCut) and cut.kind in MORTISES:
            found.setdefault(cut.joint, []).append(cut)
    return tuple(Mortising(part, tuple(cuts)) for cuts in found.values())


def crosses(joint: Joint) -> bool:
    """Whether the parts of a joint are drawn through one another: laps, fingers, tails, mitres."""
    return joint.family.crossing


def several_channels(joints: Sequence[Joint]) -> bool:
    """Whether these joints have more than one channel or mortise: in several parts, or one for each part that comes; panels side by side
    share a groove."""
    alone = not joints[0].family.panel
    return len({one.receiver for one in joints}) > 1 or (alone and len({one.insert for one in joints}) > 1)


def channel_word(joint: Joint, several: bool = False) -> str:
    """What takes the part that is let in: ``dado``, ``mortises``."""
    return joint.family.plural if several else joint.family.noun


def mortise_of(part: Part, cut: BoxCut) -> Mortise:
    a, b = cut.into.axis.others()
    along = part.grain if part.grain in (a, b) else max((a, b), key=lambda axis: cut.box.extent(axis).exact_mm)
    return Mortise(part, cut, along, b if along is a else a)  # type: ignore[arg-type]


def tenon_ends(plan: Plan, part: Part) -> tuple[TenonEnd, ...]:
    """Every tenon, tongue and breadboard tongue of a part, in joint order."""
    found = []
    for joint in plan.joints:
        if joint.insert != part.id:
            continue
        cuts = joint_cuts(part, joint, TENONS)
        if cuts:
            found.append(_tenon(plan, part, joint, cuts))
    return tuple(found)


def joint_cuts(part: Part, joint: Joint, kinds: tuple[str, ...]) -> list[BoxCut]:
    """What this joint cut from the part, of these kinds."""
    return [one for one in part.features if isinstance(one, BoxCut) and one.joint == joint.id and one.kind in kinds]


def _tenon(plan: Plan, part: Part, joint: Joint, cuts: list[BoxCut]) -> TenonEnd:
    if joint.family.forked:
        across, face = part.thickness, _bridle_end(part, cuts)
        box = cuts[0].box
        along = next(axis for axis in Axis if axis not in (across, face.axis))
        thick = _left(part.seen.span(across), [cut.box.span(across) for cut in cuts])
        return TenonEnd(part, joint, face, across, along, thick, (box.span(along),), box.extent(face.axis))
    face, receiver = joint.face, plan.part(joint.receiver)
    mortises = joint_cuts(receiver, joint, (CutKind.MORTISE,))
    channels = mortises or joint_cuts(receiver, joint, (CutKind.GROOVE, CutKind.DADO))
    across = _across(joint, cuts)
    along = next(axis for axis in face.axis.others() if axis is not across)
    thick = channels[0].box.span(across)
    edges = sorted({(cut.box.span(along).low, cut.box.span(along).high) for cut in cuts if cut.into.axis is not across})
    body = part.seen.span(along)
    widths = _between(body, [Span(*edge) for edge in edges if edge != (body.low, body.high)])
    haunch = ZERO
    if joint.family.caps_end:
        haunch = joint.depth - min(cut.box.extent(face.axis) for cut in cuts if cut.into is face)
    elif joint_cuts(receiver, joint, (CutKind.HAUNCH,)):
        haunch = joint_cuts(receiver, joint, (CutKind.HAUNCH,))[0].box.extent(face.axis)
    return TenonEnd(part, joint, face, across, along, thick, widths, joint.depth, haunch)


def _across(joint: Joint, cuts: list[BoxCut]) -> Axis:
    """The axis of the cheeks: they are cut first."""
    return next((cut.into.axis for cut in cuts if cut.into.axis is not joint.face.axis), joint.face.axis.others()[0])


def _bridle_end(part: Part, cuts: list[BoxCut]) -> Face:
    run = part.length_axis
    box = cuts[0].box
    return run.high if box.span(run).high == part.body.span(run).high else run.low


def _left(whole: Span, gone: list[Span]) -> Span:
    """What is left in the middle of a span when pieces of its two ends are gone."""
    low = max((one.high for one in gone if one.low == whole.low), default=whole.low)
    high = min((one.low for one in gone if one.high == whole.high), default=whole.high)
    return Span(low, high)


def _between(whole: Span, gone: list[Span]) -> tuple[Span, ...]:
    """The stretches of a span that are left between those that are gone."""
    found, at = [], whole.low
    for one in sorted(gone, key=lambda span: span.low):
        if one.low > at:
            found.append(Span(at, one.low))
        at = max(at, one.high)
    if at < whole.high:
        found.append(Span(at, whole.high))
    return tuple(found) or (whole,)


def _nearer(part: Part, axis: Axis, span: Span) -> tuple[Face, Length]:
    body = part.body.span(axis)
    below, above = span.low - body.low, body.high - span.high
    return (axis.low, below) if below <= above else (axis.high, above)


def of_kinds(part: Part, kinds: tuple[str, ...]) -> list[Feature]:
    """The features of a part that are of these kinds."""
    return [feature for feature in part.features if feature.kind in kinds]


def finger_spans(cut: BoxCut | OutlineCut, run: Axis) -> Span:
    """Along the corner, from where to where a gap, socket or the waste between tails reaches where it is widest."""
    if isinstance(cut, BoxCut):
        return cut.box.span(run)
    return cut.outline.span(run)
