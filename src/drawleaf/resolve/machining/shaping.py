"""``machining: shape`` and ``cutout``: parts sawn to an outline of lines and arcs, and openings or pockets with such an outline."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.joinery.wording import say
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import Corner, Outline, OutlineCut
from drawleaf.resolve.machining.spots import SpotReader
from drawleaf.resolve.names.counting import Counting
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.outlines import OutlineError, Written, closed_outline, crosses_itself, reach_of
from drawleaf.source.machining_models import CutoutEntry, OutlineCorner, ShapeEntry
from drawleaf.units import Length

EXTENTS = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}
SLACK = 0.01
"""Millimetres that an arc may seem to stand out of its wood: rounding of its corners."""


class ShapeReader:
    """Reads outlines."""

    def __init__(self, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings
        self._spots = SpotReader(evaluator, sources, findings)

    def shape(self, part: Part, entry: ShapeEntry, scope: Scope, position: Position) -> Sequence[OutlineCut]:
        """The part sawn to an outline, right through its wood."""
        face = Face(entry.face)
        outline = self._outline(face, entry.outline, scope, position)
        if outline is None or not self._inside(part, face, outline, scope, position):
            return ()
        outline = with_growth(outline, part.seen, part.body)
        ends = (face.axis.low, face.axis.high)
        return (OutlineCut("shape", face, outline, part.body.span(face.axis), ends, True, None, position),)

    def cutout(self, part: Part, entry: CutoutEntry, scope: Scope, position: Position) -> Sequence[OutlineCut]:
        """An opening right through, or a pocket of so much depth."""
        face = Face(entry.face)
        if bool(entry.outline) is (entry.at is not None):
            self._findings.error(
                "cutout-outline",
                "A cutout has an “outline”, or a place “at” with its sizes",
                position,
                mend=f"Write “at: {{...}}” with {self._needed(face)}, or the corners of an outline.",
            )
            return ()
        outline = (
            self._outline(face, entry.outline, scope, position)
            if entry.outline
            else self._rectangle(part, face, entry, scope, position)
        )
        depth = self._evaluator.length(entry.depth, scope, entry, "depth") if entry.depth is not None else None
        if outline is None or (depth is None and entry.depth is not None):
            return ()
        if not self._meets(part, face, outline, scope, position):
            return ()
        whole = part.body.span(face.axis)
        span, opened = whole, (face.axis.low, face.axis.high)
        if depth is not None:
            wood = part.seen.extent(face.axis)
            if not 0 < depth.exact_mm < wood.exact_mm:
                self._findings.error(
                    "cutout-depth",
                    f"A pocket {say(depth, scope.unit)} deep is no pocket in “{part.id}”, which is {say(wood, scope.unit)} thick there",
                    self._sources.at(entry, "depth"),
                    mend="Make it less deep, or leave out “depth” for an opening that goes right through.",
                )
                return ()
            surface = part.body.face(face)
            ends = sorted((surface, surface - depth * face.side))
            span, opened = Span(ends[0], ends[1]), (face,)
        late = entry.after_assembly is not None
        return (OutlineCut("cutout", face, outline, span, opened, False, None, position, late),)

    def _outline(
        self, face: Face, corners: Sequence[OutlineCorner], scope: Scope, position: Position
    ) -> Outline | None:
        written = [self._corner(face, corner, scope) for corner in corners]
        known = [one for one in written if one is not None]
        if len(known) < len(written):
            return None
        return self._closed(face, known, position, corners)

    def _corner(self, face: Face, corner: OutlineCorner, scope: Scope) -> Written | None:
        a, b = face.axis.others()
        if getattr(corner, a.value) is None or getattr(corner, b.value) is None or getattr(corner, face.axis.value):
            self._findings.error(
                "outline-corner",
                f"A corner of an outline on the {face.value} is given by {a.value} and {b.value}",
                self._sources.at(corner),
                mend=f"Write “{{{a.value}: ..., {b.value}: ...}}”.",
            )
            return None
        u, v = (self._evaluator.coordinate(getattr(corner, one.value), one, scope, corner, one.value) for one in (a, b))
        bends = {
            key: self._evaluator.length(getattr(corner, key), scope, corner, key)
            for key in ("round", "rise")
            if getattr(corner, key) is not None
        }
        if u is None or v is None or None in bends.values():
            return None
        return Written(u, v, round=bends.get("round"), rise=bends.get("rise"))

    def _closed(
        self, face: Face, written: Sequence[Written], position: Position, corners: Sequence[OutlineCorner] = ()
    ) -> Outline | None:
        """The outline, where it can be one."""
        try:
            outline = closed_outline(face.axis, written)
        except OutlineError as error:
            # The outline may have been turned round; its corner is then counted from the other end.
            where = self._sources.at(corners[error.corner]) if error.corner < len(corners) else position
            self._findings.error("outline-arc", error.message, where if len(corners) else position)
            return None
        if crosses_itself(outline):
            self._findings.error(
                "outline-crosses",
                "The outline crosses itself",
                position,
                "Its corners are taken in the order in which they stand, and the last is joined to the first.",
                "Write the corners in order round the shape; make roundings smaller where two of them meet.",
            )
            return None
        return outline

    def _rectangle(
        self, part: Part, face: Face, entry: CutoutEntry, scope: Scope, position: Position
    ) -> Outline | None:
        assert entry.at is not None
        centre = self._spots.on_part(part, face, entry.at, scope, entry)
        a, b = face.axis.others()
        if any(getattr(entry, EXTENTS[one]) is None for one in (a, b)):
            self._findings.error(
                "cutout-outline",
                f"The size of a cutout in the {face.value} is given by {self._needed(face)}",
                position,
                mend="How far it goes into the wood is its “depth”; without one it goes right through.",
            )
            return None
        sizes = [self._evaluator.length(getattr(entry, EXTENTS[one]), scope, entry, EXTENTS[one]) for one in (a, b)]
        rounding = self._evaluator.length(entry.round, scope, entry, "round") if entry.round is not None else None
        wide, high = sizes
        if centre is None or wide is None or high is None or (rounding is None and entry.round is not None):
            return None
        if wide.exact_mm <= 0 or high.exact_mm <= 0:
            self._findings.error("not-positive", "A cutout has some size", position)
            return None
        if rounding is not None and not 0 < rounding.exact_mm <= min(wide, high).exact_mm / 2:
            self._findings.error(
                "cutout-round",
                f"Corners of radius {say(rounding, scope.unit)} do not fit a cutout of {say(wide, scope.unit)} by {say(high, scope.unit)}",
                self._sources.at(entry, "round"),
                mend="A radius is at most half of the smaller size.",
            )
            return None
        u, v = centre.along(a), centre.along(b)
        corners = [(u - wide / 2, v - high / 2), (u + wide / 2, v - high / 2)]
        corners += [(u + wide / 2, v + high / 2), (u - wide / 2, v + high / 2)]
        return self._closed(face, [Written(x, y, round=rounding) for x, y in corners], position)

    @staticmethod
    def _needed(face: Face) -> str:
        return " and ".join(f"“{EXTENTS[axis]}”" for axis in face.axis.others())

    def _inside(self, part: Part, face: Face, outline: Outline, scope: Scope, position: Position) -> bool:
        """Whether the outline can be sawn from the part's wood."""
        counting = Counting(self._evaluator, scope)
        for axis, (low, high) in zip(face.axis.others(), reach_of(outline), strict=True):
            span = part.seen.span(axis)
            for side, over in ((axis.low, span.low.mm - low), (axis.high, high - span.high.mm)):
                if over > SLACK:
                    self._findings.error(
                        "outline-outside",
                        f"The outline stands {say(_rounded(over), scope.unit)} out of the {side.value} of “{part.id}”",
                        position,
                        f"The part runs {counting.reach(part, axis)} along {axis.value}.{counting.zero()}",
                        f"Make the part larger, as it is the blank that the outline is sawn from; or give corners by its faces: "
                        f"“{axis.value}: {part.kind.split('.')[-1]}.{side.value}”.",
                    )
                    return False
        return True

    def _meets(self, part: Part, face: Face, outline: Outline, scope: Scope, position: Position) -> bool:
        """Whether a cutout takes some of the part, its tenons too, and leaves some."""
        spans = [part.body.span(axis) for axis in face.axis.others()]
        reach = reach_of(outline)
        meets = all(low < span.high.mm and span.low.mm < high for span, (low, high) in zip(spans, reach, strict=True))
        if not meets:
            counting = Counting(self._evaluator, scope)
            self._findings.error(
                "cutout-off-part",
                f"The cutout does not meet “{part.id}”",
                position,
                f"The part has {counting.reaches(part, face)}.{counting.zero()}",
                "Give “at” or the outline places on the part, or name the part that is meant.",
            )
        return meets


def with_growth(outline: Outline, seen: Box, body: Box) -> Outline:
    """The outline with what joinery hides: a straight stretch along a face that a joint let in moves out with that face."""
    axes = outline.axis.others()
    for face in (face for axis in axes for face in (axis.low, axis.high)):
        if seen.face(face) != body.face(face):
            outline = _moved_out(outline, face, seen.face(face), body.face(face))
    return outline


def _moved_out(outline: Outline, face: Face, was: Length, now: Length) -> Outline:
    """Corners where a straight stretch runs along the face are set out to the grown face, with the step beside them."""
    first = face.axis is outline.axis.others()[0]

    def at(corner: Corner) -> Length:
        return corner.u if first else corner.v

    def out(corner: Corner) -> Corner:
        return replace(corner, u=now) if first else replace(corner, v=now)

    corners = outline.corners
    found: list[Corner] = []
    for number, corner in enumerate(corners):
        before, after = corners[number - 1], corners[(number + 1) % len(corners)]
        leads = at(corner) == was and at(after) == was and not corner.turn
        led = at(corner) == was and at(before) == was and not before.turn
        if leads and not led:
            found += [replace(corner, turn=0.0), out(corner)]
        elif led and not leads:
            found += [replace(out(corner), turn=0.0), corner]
        elif leads and led:
            found.append(out(corner))
        else:
            found.append(corner)
    return replace(outline, corners=tuple(_without_straight(found)))


def _without_straight(corners: Sequence[Corner]) -> list[Corner]:
    """Corners at which a line only runs straight on, left out."""
    kept: list[Corner] = []
    for number, corner in enumerate(corners):
        before, after = corners[number - 1], corners[(number + 1) % len(corners)]
        run = (corner.u - before.u).exact_mm, (corner.v - before.v).exact_mm
        on = (after.u - corner.u).exact_mm, (after.v - corner.v).exact_mm
        straight = not before.turn and not corner.turn and run[0] * on[1] == run[1] * on[0]
        if not straight:
            kept.append(corner)
    return kept


def _rounded(mm: float) -> Length:
    return Length.of_mm(round(mm * 1000)) / 1000
