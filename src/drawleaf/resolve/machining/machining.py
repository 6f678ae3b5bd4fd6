"""``machining:`` as features of parts: shelf-pin rows, holes, notches, edges. A twin is machined as its mirror image."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial
from typing import Any, Protocol

from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.wording import say
from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Bore, BoxCut, Feature, Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import OutlineCut
from drawleaf.resolve.machining.edges import EdgeReader
from drawleaf.resolve.machining.facing import facing, opposite
from drawleaf.resolve.machining.metric_bits import with_sold_bit
from drawleaf.resolve.machining.recesses import RecessReader
from drawleaf.resolve.machining.repeated import report_repeated
from drawleaf.resolve.machining.shaping import ShapeReader
from drawleaf.resolve.machining.slanting import SlantReader
from drawleaf.resolve.machining.spots import MOST_SPOTS, SpotReader
from drawleaf.resolve.names.counting import Counting
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import AssemblyDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.resolve.parts.twins import transferred
from drawleaf.source.machining_models import EDGE_KINDS
from drawleaf.source.models import BoreEntry, MachiningEntry, NotchEntry, PinRows
from drawleaf.units import ZERO, Length

EXTENT_KEYS = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}
# A blind hole keeps this much wood under it, or the point of the bit comes through: common practice, no source.
FLOOR = Length.of_inches(Fraction(1, 16))


class Reader(Protocol):
    """Reads what one key of a machining line says, as features of the part."""

    def __call__(self, part: Part, entry: Any, scope: Scope, position: Position) -> Sequence[Feature]: ...


class Machinist:
    """Reads machining lines and gives the features of each part. Parts come with their grown bodies."""

    def __init__(
        self,
        targets: TargetFinder,
        shop: Mapping[str, Part],
        evaluator: Evaluator,
        sources: Sources,
        findings: Findings,
        metric: bool = False,
    ) -> None:
        """``metric``: whether the booklet prints millimetres alone, so that holes and rounded edges take metric bits."""
        self._targets = targets
        self._metric = metric
        self._shop = dict(shop)
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings
        self._spots = SpotReader(evaluator, sources, findings)
        self._rows: dict[str, int] = {}
        edges = EdgeReader(evaluator, sources, findings)
        shapes = ShapeReader(evaluator, sources, findings)
        slants = SlantReader(evaluator, sources, findings)
        # A new kind of machining: its reader in a file of its own, and a line here.
        self._readers: dict[str, Reader] = {
            "shelf_pins": self._pins,
            "bore": partial(self._bores, kind="hole"),
            "finger_hole": partial(self._bores, kind="finger hole"),
            "notch": self._notch,
            "recess": RecessReader(evaluator, sources, findings).read,
            "shape": shapes.shape,
            "cutout": shapes.cutout,
            "taper": slants.taper,
            "angle_cut": slants.trim,
            **{key: partial(edges.read, kind=key.replace("_", " ")) for key in EDGE_KINDS},
        }

    def work(self, assemblies: Iterable[AssemblyDraft]) -> dict[str, list[Feature]]:
        """All that is machined, by part."""
        features = self._worked(assemblies, lambda entry: True)
        report_repeated(features, self._findings)
        return features

    def openings(self, assemblies: Iterable[AssemblyDraft]) -> dict[str, list[Feature]]:
        """Cutouts and notches alone: what joints may meet the walls of."""
        return self._worked(assemblies, lambda entry: entry.cutout is not None or entry.notch is not None)

    def _worked(
        self, assemblies: Iterable[AssemblyDraft], asked: Callable[[MachiningEntry], bool]
    ) -> dict[str, list[Feature]]:
        features: dict[str, list[Feature]] = {}
        for assembly in assemblies:
            if assembly.is_out:
                continue
            for scope, entry in assembly.machining():
                for part_id, feature in self._line(scope, entry) if asked(entry) else ():
                    features.setdefault(part_id, []).append(feature)
        return features

    def _line(self, scope: Scope, entry: MachiningEntry) -> list[tuple[str, Feature]]:
        kind = self._kind(entry)
        names = [entry.in_] if isinstance(entry.in_, str) else entry.in_
        position = self._sources.at(entry, "in_")
        found = self._targets.find_all(names, scope, [position] * len(names))
        if kind is None:
            return []
        if entry.shelf_pins is not None and entry.shelf_pins.face is None:
            return self._pins_opposite(found, entry.shelf_pins, scope, entry)
        made: list[tuple[str, Feature]] = []
        for target in found:
            if not target.left_out:
                made += self._on_target(target, kind, scope, entry)
        return made

    def _kind(self, entry: MachiningEntry) -> str | None:
        given = [kind for kind in self._readers if getattr(entry, kind) is not None]
        if len(given) == 1:
            return given[0]
        message = "One line of machining does one thing" if given else "This line does not say what is done"
        self._findings.error(
            "machining-kind", message, self._sources.at(entry), f"It can be {', '.join(self._readers)}."
        )
        return None

    def _on_target(self, target: Target, kind: str, scope: Scope, entry: MachiningEntry) -> list[tuple[str, Feature]]:
        """Worked out once, on the first copy named, and carried over to the others."""
        parts = target.parts(self._shop)
        if target.sort == "assembly":
            self._findings.error(
                "machining-target",
                f"“{target.written}” is an assembly; machining is done on one part",
                target.position,
                mend="Name the part.",
            )
            return []
        if not parts:
            return []
        first = parts[0]
        features = self._features(first, kind, scope, entry)
        mirror = target.kind.mirror if target.kind else None
        return [(part.id, transferred(feature, first, part, mirror)) for part in parts for feature in features]

    def _features(self, part: Part, kind: str, scope: Scope, entry: MachiningEntry) -> list[Feature]:
        features = self._readers[kind](part, getattr(entry, kind), scope, self._sources.at(entry, kind))
        if entry.after:
            features = [replace(one, after_assembly=True) if isinstance(one, OutlineCut) else one for one in features]
        return [with_sold_bit(feature) if self._metric else feature for feature in features]

    def _pins_opposite(
        self, found: Sequence[Target], rows: PinRows, scope: Scope, entry: MachiningEntry
    ) -> list[tuple[str, Feature]]:
        """Holes in the faces of two parts that look at one another: measured on the first, and opposite in the second."""
        if any(target.left_out for target in found):
            return []
        parts = [part for target in found for part in target.parts(self._shop)]
        faces = facing(parts)
        position = self._sources.at(entry, "shelf_pins")
        if faces is None:
            self._findings.error(
                "pins-face",
                "Nothing says which face the rows of holes are in",
                position,
                "Without “face” they are in the faces of two parts that look at one another.",
                "Name two parts that stand before one another, as in “in: [side, divider]”, or write “face: left”.",
            )
            return []
        first, second = parts
        bores = self._pins(first, rows.model_copy(update={"face": faces[0].value}), scope, position)
        words = {bore.row: None for bore in bores}
        renamed = {row: self._row_name(second, str(row).partition("/pins-")[2]) for row in words}
        others = [opposite(bore, second, renamed[bore.row]) for bore in bores]
        if not self._bores_sound(second, others, scope, position):
            return []
        both = [(first.id, bore) for bore in bores] + [(second.id, bore) for bore in others]
        return [(part_id, with_sold_bit(bore) if self._metric else bore) for part_id, bore in both]

    def _pins(self, part: Part, entry: PinRows, scope: Scope, position: Position) -> list[Bore]:
        face = Face(entry.face)
        diameter = self._evaluator.length(entry.diameter, scope, entry, "diameter")
        depth = self._evaluator.length(entry.depth, scope, entry, "depth")
        pitch = self._evaluator.length(entry.spacing, scope, entry, "spacing")
        count = self._evaluator.count(entry.count, scope, entry, "count")
        if not self._row_sound(diameter, pitch, count, scope, entry):
            return []
        bores: list[Bore] = []
        for word, text in entry.rows.items():
            edge = Face(word)
            inset = self._evaluator.length(text, scope, entry, "rows", word)
            if edge.axis is face.axis:
                self._findings.error(
                    "row-off-face",
                    f"A row on the {face.value} face cannot be measured from the {edge.value}",
                    self._sources.at(entry, "rows", word),
                    mend=f"Measure it from {', '.join(one.value for axis in face.axis.others() for one in (axis.low, axis.high))}.",
                )
                continue
            up = next(axis for axis in Axis if axis not in (face.axis, edge.axis))
            start = self._evaluator.coordinate(entry.start, up, scope, entry, "start")
            if None in (diameter, depth, pitch, inset, start) or count is None:
                continue
            row = self._row_name(part, word)
            across = part.seen.face(edge) - _positive(inset) * edge.side
            for index in range(count):
                at = part.seen.center.moved(face.axis, part.seen.face(face)).moved(edge.axis, across)
                at = at.moved(up, _positive(start) + _positive(pitch) * index)
                bores.append(
                    Bore("shelf pin", face, at, face.opposite.normal, _positive(diameter), depth, row, position)
                )
        return bores if self._bores_sound(part, bores, scope, position) else []

    def _row_sound(
        self, diameter: Length | None, pitch: Length | None, count: int | None, scope: Scope, entry: PinRows
    ) -> bool:
        """Whether so many holes make sense, and each has wood round it."""
        if count is not None and not 1 <= count <= MOST_SPOTS:
            self._findings.error(
                "copies-out-of-range",
                f"{count} holes in a row make no sense; 1 to {MOST_SPOTS} do",
                self._sources.at(entry, "count"),
            )
            return False
        if diameter is not None and pitch is not None and count != 1 and abs(pitch) <= diameter:
            self._findings.error(
                "shelf-pins-meet",
                f"Holes of {say(diameter, scope.unit)} that stand {say(pitch, scope.unit)} apart run into each other",
                self._sources.at(entry, "spacing"),
                mend="Space them farther apart: 1 in to 2 in is usual (common practice, no source).",
            )
            return False
        return True

    def _row_name(self, part: Part, word: str) -> str:
        base = f"{part.id}/pins-{word}"
        self._rows[base] = self._rows.get(base, 0) + 1
        return base if self._rows[base] == 1 else f"{base}-{self._rows[base]}"

    def _bores(self, part: Part, entry: BoreEntry, scope: Scope, position: Position, kind: str) -> list[Bore]:
        face = Face(entry.face)
        diameter = self._evaluator.length(entry.diameter, scope, entry, "diameter")
        depth = self._evaluator.length(entry.depth, scope, entry, "depth")
        places = self._spots.on_face(part, face, entry.at, entry.repeat, scope, entry)
        if diameter is None or places is None or (depth is None and entry.depth is not None):
            return []
        if depth is not None and depth >= part.seen.extent(face.axis):
            self._too_deep(part, face, depth, scope, self._sources.at(entry, "depth"))
            return []
        row = self._row_name(part, kind.replace(" ", "-")) if len(places) > 1 else None
        bores = [Bore(kind, face, at, face.opposite.normal, diameter, depth, row, position) for at in places]
        return bores if self._bores_sound(part, bores, scope, position) else []

    def _too_deep(self, part: Part, face: Face, depth: Length, scope: Scope, position: Position) -> None:
        wood = say(part.seen.extent(face.axis), scope.unit)
        self._findings.error(
            "too-deep",
            f"A hole {say(depth, scope.unit)} deep comes out of the far side of “{part.id}”, which is {wood} thick",
            position,
            mend="Make it less deep, or leave out “depth” for a hole that goes through.",
        )

    def _bores_sound(self, part: Part, bores: list[Bore], scope: Scope, position: Position) -> bool:
        """Every hole within its face, and blind holes within the thickness. The first that is not is reported."""
        for bore in bores:
            if bore.diameter.exact_mm <= 0:
                self._findings.error("not-positive", "A hole has some diameter", position)
                return False
            if bore.depth is not None and bore.depth.exact_mm <= 0:
                self._findings.error("not-positive", "A blind hole has some depth", position)
                return False
            if bore.depth is not None and bore.depth + FLOOR > part.seen.extent(bore.face.axis):
                self._too_deep(part, bore.face, bore.depth, scope, position)
                return False
            outside = _outside(part, bore)
            if outside is not None:
                edge, by = outside
                counting = Counting(self._evaluator, scope)
                place = ", ".join(
                    f"{axis.value} {counting.say(bore.start.along(axis), axis)}" for axis in bore.face.axis.others()
                )
                self._findings.error(
                    "hole-off-part",
                    f"A {bore.kind if bore.kind != 'hole' else ''} hole in the {bore.face.value} of “{part.id}” runs {say(by, scope.unit)} over its {edge.value} edge".replace(
                        "A  hole", "A hole"
                    ).replace("finger hole hole", "finger hole"),
                    position,
                    f"Its centre is at {place}; the {edge.value} of the part is at {counting.say(part.seen.face(edge), edge.axis)}.{counting.zero()}",
                    "Move it, make it smaller, or set fewer in the row.",
                )
                return False
        return True

    def _notch(self, part: Part, entry: NotchEntry, scope: Scope, position: Position) -> list[BoxCut]:
        a, b = (Face(word) for word in entry.corner)
        if a.axis is b.axis:
            self._findings.error(
                "no-such-corner",
                f"{a.value} and {b.value} do not meet at a corner",
                self._sources.at(entry, "corner"),
                mend="Name two faces that meet: “corner: [front, bottom]”.",
            )
            return []
        void = part.body
        sound = True
        for axis, key in EXTENT_KEYS.items():
            text = getattr(entry, key)
            face = next((one for one in (a, b) if one.axis is axis), None)
            if (text is None) == (face is not None):
                needed = [EXTENT_KEYS[one.axis] for one in (a, b)]
                self._findings.error(
                    "notch-size",
                    f"A notch at the corner of {a.value} and {b.value} is given by “{needed[0]}” and “{needed[1]}”",
                    self._sources.at(entry, key) if text is not None else position,
                    "It goes right through the part along the third axis.",
                )
                return []
            if face is None:
                continue
            size = self._evaluator.length(text, scope, entry, key)
            if size is None:
                sound = False
            elif size.exact_mm <= 0 or size >= part.seen.extent(axis):
                whole = say(part.seen.extent(axis), scope.unit)
                self._findings.error(
                    "notch-size",
                    f"A notch {say(size, scope.unit)} {key} does not fit “{part.id}”, which is {whole} {key}",
                    self._sources.at(entry, key),
                )
                sound = False
            else:
                edge = part.seen.face(face) - size * face.side
                end = part.body.face(face)
                void = void.with_span(axis, Span(min(edge, end), max(edge, end)))
        opened = tuple(face for face in broken_through(void, part.body, a))
        return [BoxCut("notch", void, a, opened, None, position)] if sound else []


def _outside(part: Part, bore: Bore) -> tuple[Face, Length] | None:
    """The edge that a hole runs over, and by how much."""
    radius = bore.diameter / 2
    for axis in bore.face.axis.others():
        for face in (axis.low, axis.high):
            over = (bore.start.along(axis) - part.seen.face(face)) * face.side + radius
            if over.exact_mm > 0:
                return face, over
    return None


def _positive(length: Length | None) -> Length:
    """A length already known to be there."""
    return length if length is not None else ZERO


__all__ = ["Machinist", "Point"]
