"""What a part is besides a box: a moulded or round section, and how it leans."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from math import atan, ceil, cos, hypot, pi, radians, sin, tan

from drawleaf.model.catalogue import Form, ProfileCorner
from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import Corner, Outline, PlaneCut, Section, Tilt
from drawleaf.resolve.names.axes import share_of_turn
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import KindDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.outlines import OutlineError, Written, closed_outline, crosses_itself, reach_of
from drawleaf.resolve.parts.profiles import ProfilePlace, ProfileReader
from drawleaf.resolve.parts.twins import transferred, transferred_outline
from drawleaf.source.models import At, ProfileEntry, SectionEntry
from drawleaf.source.names import did_you_mean
from drawleaf.units import Length

STEEPEST = 60
"""Degrees that a part may lean; beyond it the author means a part that lies down."""

SLIGHTEST = 1e-6
"""Degrees under which nothing leans."""

SLACK = 0.001
"""Millimetres that an arc may seem to bulge out of its wood."""

FINEST = Fraction(1, 1000)
"""Millimetres to which the blank of a leaning part is rounded up."""


class Former:
    """Gives placed parts their sections and their lean."""

    def __init__(
        self,
        profiles: Mapping[str, ProfileEntry],
        top: Scope,
        evaluator: Evaluator,
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._profiles = profiles
        self._top = top
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings

    def form(self, kind: KindDraft, parts: list[Part]) -> list[Part]:
        """All copies of a kind with what its entry says of section and lean."""
        entry = kind.entry
        if not parts:
            return parts
        first = parts[0]
        shaped = entry.section is not None or _has_section(first)
        if not (shaped or entry.lean or entry.turn or entry.around):
            return parts
        section = self._section(kind, first) if shaped else None
        tilt = self._tilt(kind, first)
        formed = replace(first, section=section, tilt=tilt)
        ends: tuple[PlaneCut, ...] = ()
        if tilt is not None:
            formed, ends = self._cut_to(kind, formed, tilt)
        formed = replace(formed, features=(*formed.features, *ends))
        copies = [_copied(formed, first, other, kind.mirror) for other in parts[1:]]
        if entry.around is not None:
            copies = [_turned(copy, share_of_turn(number, len(parts))) for number, copy in enumerate(copies, start=2)]
        return [formed, *copies]

    def _section(self, kind: KindDraft, part: Part) -> Section | None:
        entry = kind.entry.section or SectionEntry()
        width, thick = part.width_axis, part.thickness
        if entry.round is not None or part.stock.material.form is Form.ROD:
            if part.seen.extent(width) != part.seen.extent(thick):
                self._findings.error(
                    "round-not-square",
                    f"“{kind.id}” is round, but not as wide as it is thick",
                    self._where(kind, "round"),
                    mend="Give it the same size along both axes across its length.",
                )
                return None
            return Section("round", _circle(part), round=True)
        face = Face(entry.face) if entry.face else thick.low
        over = any(around.entry.upside_down for around in kind.assembly.lineage())
        up = Face(entry.top) if entry.top else width.low if over else width.high
        for key, word, axis in (("face", face, thick), ("top", up, width)):
            if word.axis is not axis:
                self._findings.error(
                    "section-face",
                    f"The {key} of “{kind.id}”'s section cannot look to the {word.value}",
                    self._where(kind, key),
                    mend=f"Write “{axis.low.value}” or “{axis.high.value}”.",
                )
                return None
        own = part.stock.material.profile(part.stock.nominal)
        if entry.profile is None and own:
            return self._profiled(kind, part, _bought(own), part.stock.nominal, face, up)
        wanted = entry.profile or part.stock.profile
        profile = self._profiles.get(wanted)
        if profile is None:
            self._findings.error(
                "unknown-profile",
                f"There is no profile “{wanted}”" if wanted else "A section names a profile, or is round",
                self._where(kind, "profile"),
                mend=did_you_mean(wanted, self._profiles),
            )
            return None
        outs = self._drawn(profile, part.seen.extent(face.axis), part.seen.extent(up.axis))
        name = profile.name or wanted
        return None if outs is None else self._profiled(kind, part, outs, name, face, up)

    def _where(self, kind: KindDraft, key: str) -> Position:
        """Where that key of a section is, or the nearest thing that is there."""
        entry = kind.entry.section
        if entry is None:
            return self._sources.at(kind.entry, "stock")
        return (
            self._sources.at(entry, key) if getattr(entry, key) is not None else self._sources.at(kind.entry, "section")
        )

    def _drawn(self, profile: ProfileEntry, thick: Length, wide: Length) -> list[ProfilePlace] | None:
        """The corners of a profile of the plan, on wood so thick and wide; None where one cannot be worked out."""
        return ProfileReader(self._top, self._evaluator, self._sources, self._findings).corners(profile, thick, wide)

    def _profiled(
        self, kind: KindDraft, part: Part, corners: list[ProfilePlace], name: str, face: Face, up: Face
    ) -> Section | None:
        run = part.length_axis
        back, bottom = part.seen.face(face.opposite), part.seen.face(up.opposite)
        first, second = run.others()
        written: list[Written] = []
        for index, corner in enumerate(corners):
            if (
                min(corner.out, corner.up).exact_mm < 0
                or corner.out > part.seen.extent(face.axis)
                or corner.up > part.seen.extent(up.axis)
            ):
                self._findings.error(
                    "profile-size",
                    f"Corner {index + 1} of the profile lies outside the wood of “{kind.id}”",
                    corner.position or self._where(kind, "profile"),
                    "A profile fits into the thickness and width of the part that has it.",
                )
                return None
            place = {face.axis: back + corner.out * face.side, up.axis: bottom + corner.up * up.side}
            written.append(Written(place[first], place[second], radius=corner.arc))
        try:
            outline = closed_outline(run, written)
        except OutlineError as error:
            at = corners[error.corner].position if error.corner < len(corners) else None
            self._findings.error("profile-outline", error.message, at or self._where(kind, "profile"))
            return None
        if crosses_itself(outline):
            self._findings.error(
                "profile-outline",
                f"The profile of “{kind.id}” crosses itself",
                self._where(kind, "profile"),
                mend="Write its corners in order round it.",
            )
            return None
        for axis, (low, high) in zip(run.others(), reach_of(outline), strict=True):
            span = part.seen.span(axis)
            if low < span.low.mm - SLACK or high > span.high.mm + SLACK:
                self._findings.error(
                    "profile-size",
                    f"An arc of the profile bulges out of the wood of “{kind.id}”",
                    self._where(kind, "profile"),
                    "A profile fits into the thickness and width of the part that has it.",
                    "Begin the arc farther inside, or give it a larger radius.",
                )
                return None
        return Section(name, outline)

    def _tilt(self, kind: KindDraft, part: Part) -> Tilt | None:
        entry = kind.entry
        lean: list[tuple[Face, Fraction]] = []
        for word, text in entry.lean.items():
            angle = self._evaluator.degrees(text, kind.scope, entry, "lean", word)
            if angle is None:
                return None
            face = Face(word)
            if face.axis is Axis.Z or any(face.axis is other.axis for other, _ in lean):
                self._findings.error(
                    "lean-side",
                    f"“{kind.id}” cannot lean to the {word}"
                    if face.axis is Axis.Z
                    else f"“{kind.id}” leans to both sides",
                    self._sources.at(entry, "lean", word),
                    mend="A part leans left or right, and front or back.",
                )
                return None
            if abs(angle) > STEEPEST:
                self._findings.error(
                    "lean-too-far",
                    f"“{kind.id}” leans {float(angle):g}°; up to {STEEPEST}° make sense",
                    self._sources.at(entry, "lean", word),
                )
                return None
            lean.append((face, angle))
        turn = Fraction(0)
        if entry.turn is not None:
            turned = self._evaluator.degrees(entry.turn, kind.scope, entry, "turn")
            if turned is None:
                return None
            turn = turned
        if not lean and not turn:
            return None
        return Tilt(self._about(kind, part), tuple(lean), turn)

    def _about(self, kind: KindDraft, part: Part) -> Point:
        about = kind.entry.pivot
        centre = part.seen.center
        if isinstance(about, At):
            for axis in Axis:
                text = getattr(about, axis.value)
                if text is not None:
                    at = self._evaluator.coordinate(text, axis, kind.scope, about, axis.value)
                    centre = centre if at is None else centre.moved(axis, at)
            return centre
        face = Face(about) if about else Face.BOTTOM
        return centre.moved(face.axis, part.seen.face(face))

    def _cut_to(self, kind: KindDraft, part: Part, tilt: Tilt) -> tuple[Part, tuple[PlaneCut, ...]]:
        """The ends of a leaning part cut level with the piece, and the blank as long as its longest edge then is."""
        cuts: list[PlaneCut] = []
        for word, text in kind.entry.level_ends.items():
            face = Face(word)
            level = self._evaluator.coordinate(text, face.axis, kind.scope, kind.entry, "level_ends", word)
            if level is None:
                continue
            normal = tilt.back_direction(face.normal)
            if normal[face.axis.index] * face.side < 0.3:
                self._findings.error(
                    "cut-to-side",
                    f"The {word} of “{kind.id}” leans too far to be cut off there",
                    self._sources.at(kind.entry, "level_ends", word),
                )
                continue
            # The plane through the level, in the upright frame: all points p with normal · p = offset.
            on_piece = [value.mm for value in (tilt.about.x, tilt.about.y, tilt.about.z)]
            on_piece[face.axis.index] = level.mm
            on_plane = tilt.back((on_piece[0], on_piece[1], on_piece[2]))
            offset = sum(n * p for n, p in zip(normal, on_plane, strict=True))
            longest = _longest(part, face, normal, offset)
            end = Length.of_mm(ceil(Fraction(longest) * face.side / FINEST) * FINEST * face.side)
            part = replace(part, body=part.body.with_face(face, end))
            point = Point(*(Length.of_mm(Fraction(value)) for value in on_plane))
            cuts.append(
                PlaneCut("level end", face, point, normal, None, self._sources.at(kind.entry, "level_ends", word))
            )
        return part, tuple(cuts)


def _longest(part: Part, face: Face, normal: tuple[float, float, float], offset: float) -> float:
    """Where the longest line along a part meets the plane: one of its edges, or of a round part the highest place of its rim."""
    if part.section is None or not part.section.round:
        reach = [_reach(part, face, corner, normal, offset) for corner in part.seen.corners]
        return max(value * face.side for value in reach) * face.side
    a, b = (axis.index for axis in face.axis.others())
    rise = hypot(normal[a], normal[b]) / abs(normal[face.axis.index])
    radius = part.seen.extent(part.thickness).mm / 2
    return _reach(part, face, part.seen.center.mm, normal, offset) + radius * rise * face.side


def _reach(
    part: Part, face: Face, corner: tuple[float, float, float], normal: tuple[float, float, float], offset: float
) -> float:
    """Where the edge through a corner, along the face's axis, meets the plane."""
    index = face.axis.index
    rest = sum(normal[i] * corner[i] for i in range(3) if i != index)
    return (offset - rest) / normal[index]


def _has_section(part: Part) -> bool:
    """Whether its stock has a section of its own: a moulding with a profile, a round rod, wood that is run to a profile of the plan."""
    material = part.stock.material
    return material.form is Form.ROD or bool(material.profile(part.stock.nominal) or part.stock.profile)


def _bought(corners: Iterable[ProfileCorner]) -> list[ProfilePlace]:
    return [ProfilePlace(corner.out, corner.up, corner.arc) for corner in corners]


def _circle(part: Part) -> Outline:
    """A full circle as two half turns."""
    run = part.length_axis
    a, b = run.others()
    across, up = part.seen.span(a), part.seen.span(b)
    return Outline(run, (Corner(across.low, up.middle, 180.0), Corner(across.high, up.middle, 180.0)))


def _turned(part: Part, degrees: Fraction) -> Part:
    """A copy around an upright: turned with all that it is, so that it leans the same way as seen from the upright."""
    tilt = part.tilt or Tilt(part.seen.center, ())
    slope = {Axis.X: 0.0, Axis.Y: 0.0}
    for face, angle in tilt.lean:
        slope[face.axis] += face.side * tan(radians(angle))
    c, s = cos(radians(degrees)), sin(radians(degrees))
    turned = {Axis.X: slope[Axis.X] * c - slope[Axis.Y] * s, Axis.Y: slope[Axis.X] * s + slope[Axis.Y] * c}
    lean = tuple(
        (axis.high if value > 0 else axis.low, Fraction(round(angle * 1_000_000), 1_000_000))
        for axis, value in turned.items()
        if (angle := abs(atan(value)) * 180 / pi) > SLIGHTEST
    )
    return replace(part, tilt=replace(tilt, lean=lean, turn=tilt.turn + degrees))


def _copied(formed: Part, first: Part, copy: Part, mirror: Axis | None) -> Part:
    """A copy with the section, the lean and the cut ends of the first."""
    flip = mirror if mirror is not None and copy.mirrored != first.mirrored else None
    section = formed.section
    if section is not None:
        section = replace(section, outline=transferred_outline(section.outline, first, copy, flip))
    tilt = formed.tilt
    body = copy.body
    if tilt is not None:
        for axis in Axis:
            if axis is flip:
                about = (first.seen.span(axis).low + copy.seen.span(axis).high) / 2
                tilt = tilt.mirrored(axis, about)
                body = body.with_span(axis, formed.body.span(axis).mirrored(about))
            else:
                by = copy.seen.span(axis).low - first.seen.span(axis).low
                step = {one: by if one is axis else by * 0 for one in Axis}
                tilt = tilt.moved(Point(step[Axis.X], step[Axis.Y], step[Axis.Z]))
                body = body.with_span(axis, formed.body.span(axis).shifted(by))
    features = tuple(transferred(feature, first, copy, mirror) for feature in formed.features)
    return replace(copy, section=section, tilt=tilt, body=body, features=features)
