"""``machining: recess`` shallow pockets in a face, square-cornered or round: for a plate, a magnet, a hinge."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.wording import say
from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Bore, BoxCut, Part
from drawleaf.model.position import Position
from drawleaf.resolve.machining.spots import SpotReader
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.machining_models import RecessEntry
from drawleaf.units import Length

EXTENTS = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}


class RecessReader:
    """Reads ``recess:``."""

    def __init__(self, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings
        self._spots = SpotReader(evaluator, sources, findings)

    def read(self, part: Part, entry: RecessEntry, scope: Scope, position: Position) -> Sequence[BoxCut | Bore]:
        """The pockets; none where one has a mistake."""
        face = Face(entry.face)
        depth = self._evaluator.length(entry.depth, scope, entry, "depth")
        places = self._spots.on_face(part, face, entry.at, entry.repeat, scope, entry)
        sizes = self._sizes(face, entry, scope)
        if depth is None or places is None or sizes is None:
            return ()
        wood = part.seen.extent(face.axis)
        if not 0 < depth.exact_mm < wood.exact_mm:
            self._findings.error(
                "recess-size",
                f"A recess {say(depth, scope.unit)} deep is no recess in “{part.id}”, which is {say(wood, scope.unit)} thick there",
                self._sources.at(entry, "depth"),
                mend="Make it less deep, or cut a hole or a notch instead.",
            )
            return ()
        if not all(self._within(part, face, at, sizes, scope, entry) for at in places):
            return ()
        if entry.diameter is not None:
            row = f"{part.id}/recess-{position.line}"
            into = face.opposite.normal
            return [Bore("recess", face, at, into, sizes[face.axis.others()[0]], depth, row, position) for at in places]
        return [self._pocket(part, face, at, sizes, depth, position) for at in places]

    def _sizes(self, face: Face, entry: RecessEntry, scope: Scope) -> dict[Axis, Length] | None:
        """How far it runs along each axis of the face; a round one runs as far along both."""
        if entry.diameter is not None:
            diameter = self._evaluator.length(entry.diameter, scope, entry, "diameter")
            return None if diameter is None else dict.fromkeys(face.axis.others(), diameter)
        needed = {axis: EXTENTS[axis] for axis in face.axis.others()}
        missing = [key for key in needed.values() if getattr(entry, key) is None]
        if missing or getattr(entry, EXTENTS[face.axis]) is not None:
            self._findings.error(
                "recess-size",
                f"A recess in the {face.value} face is given by {' and '.join(f'“{key}”' for key in needed.values())}, or by “diameter”",
                self._sources.at(entry, "face"),
                "How far it goes into the wood is its “depth”.",
            )
            return None
        found = {axis: self._evaluator.length(getattr(entry, key), scope, entry, key) for axis, key in needed.items()}
        sizes = {axis: size for axis, size in found.items() if size is not None}
        return sizes if len(sizes) == 2 else None

    def _within(
        self, part: Part, face: Face, at: Point, sizes: dict[Axis, Length], scope: Scope, entry: RecessEntry
    ) -> bool:
        """Whether it has a size, and its middle is on the face. It may run over an edge, as a hinge's does."""
        for axis, size in sizes.items():
            span = part.seen.span(axis)
            if size.exact_mm > 0 and span.low <= at.along(axis) <= span.high:
                continue
            self._findings.error(
                "recess-size",
                f"A recess {say(size, scope.unit)} along {axis.value}, with its middle at {say(at.along(axis), scope.unit)}, is not in “{part.id}”",
                self._sources.at(entry, "at"),
                f"The {face.value} of the part runs from {say(span.low, scope.unit)} to {say(span.high, scope.unit)}.",
            )
            return False
        return True

    @staticmethod
    def _pocket(
        part: Part, face: Face, at: Point, sizes: dict[Axis, Length], depth: Length, position: Position
    ) -> BoxCut:
        surface = part.seen.face(face)
        ends = sorted((surface, surface - depth * face.side))
        box = part.body.with_span(face.axis, Span(ends[0], ends[1]))
        for axis, size in sizes.items():
            whole, middle = part.body.span(axis), at.along(axis)
            low, high = max(whole.low, middle - size / 2), min(whole.high, middle + size / 2)
            box = box.with_span(axis, Span(low, high))
        return BoxCut("recess", box, face, tuple(broken_through(box, part.body, face)), None, position)
