"""Parts in their places: every copy of every part, with its seen box, checked against its stock."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import Form, Stock
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import GlueUp, Part
from drawleaf.resolve.names.axes import Copy, FaceNodes, as_whole, length_of
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.graph import Graph
from drawleaf.resolve.names.part_titles import inside_sentence, title
from drawleaf.resolve.names.scopes import KindDraft
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.forming import Former
from drawleaf.units import ZERO, Length

MOST_COPIES = 200
# Paper is thinner than this and nothing that is sold as stock: common practice, no source.
LEAST = Length.of_mm(Fraction(1, 10))
NARROWEST_STRIP = Length.of_mm(10)
_SIDES = {
    Axis.X: ("Left", "Right"),
    Axis.Y: ("Front", "Back"),
    Axis.Z: ("Lower", "Upper"),
}


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """A part with the kind and copy that it is of."""

    kind: KindDraft
    copy: Copy
    part: Part


class Placer:
    """Makes parts from drafts whose faces are known."""

    def __init__(
        self,
        graph: Graph,
        faces: FaceNodes,
        evaluator: Evaluator,
        stocks: dict[str, Stock],
        sources: Sources,
        findings: Findings,
        former: Former,
    ) -> None:
        self._former = former
        self._graph = graph
        self._faces = faces
        self._evaluator = evaluator
        self._stocks = stocks
        self._sources = sources
        self._findings = findings

    def copies(self, kind: KindDraft) -> tuple[Copy, ...]:
        """All copies of a part: one after another, each original before its twin."""
        count = 1
        if kind.repeats:
            value = self._graph.values.get(self._faces.count(kind))
            if value is None:
                return ()
            count = as_whole(value)
            if not 1 <= count <= MOST_COPIES:
                self._findings.error(
                    "copies-out-of-range",
                    f"“{kind.id}” is repeated {count} times; 1 to {MOST_COPIES} make sense",
                    self._sources.at(kind.entry, "repeat" if kind.entry.repeat is not None else "around"),
                )
                return ()
        twins = (False, True) if kind.mirror is not None else (False,)
        return tuple((number, mirrored) for number in range(1, count + 1) for mirrored in twins)

    def prepare(self, kind: KindDraft) -> None:
        """Make sure that the faces of all copies are in the graph."""
        for copy in self.copies(kind):
            for face in Face:
                self._faces.face(kind, copy, face)

    def place(self, kind: KindDraft) -> list[PlacedPart]:
        """All copies; none where a face or the stock is not known (the reason is then reported elsewhere)."""
        stock = self._stocks.get(kind.stock or "")
        copies = self.copies(kind)
        boxes = [self._box(kind, copy) for copy in copies]
        if stock is None or not copies or any(box is None for box in boxes):
            return []
        first = boxes[0]
        if first is None or not self._sound(kind, stock, first):
            return []
        glue_up = self._glue_up(kind, stock, first)
        if kind.entry.glue_up is not None and glue_up is None:
            return []
        if glue_up is None and not self._fits_board(kind, stock, first):
            return []
        parts = [
            self._part(kind, copy, stock, box, glue_up, first)
            for copy, box in zip(copies, boxes, strict=True)
            if box is not None
        ]
        formed = self._former.form(kind, parts)
        return [PlacedPart(kind, copy, part) for copy, part in zip(copies, formed, strict=True)]

    def _box(self, kind: KindDraft, copy: Copy) -> Box | None:
        spans: list[Span] = []
        for axis in Axis:
            low, high = (self._faces.face(kind, copy, face) for face in (axis.low, axis.high))
            if low not in self._graph.values or high not in self._graph.values:
                return None
            origin = self._evaluator.origin(kind.assembly.scope, axis)
            spans.append(
                Span(length_of(self._graph.values, low) + origin, length_of(self._graph.values, high) + origin)
            )
        return Box(*spans)

    def _sound(self, kind: KindDraft, stock: Stock, box: Box) -> bool:
        sound = True
        for axis in Axis:
            extent = box.extent(axis)
            if extent < LEAST:
                low, high = axis.low.value, axis.high.value
                word = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}[axis]
                figures = f"{low} is at {self._say(kind, box.span(axis).low)}, {high} at {self._say(kind, box.span(axis).high)}"
                self._findings.error(
                    "not-positive",
                    f"“{kind.id}” comes out {self._say(kind, extent)} {word}",
                    self._first_given(kind, axis),
                    f"Its {figures}.",
                    "Look at the two figures that this axis is given by.",
                )
                sound = False
        entry = kind.entry
        if entry.grain == entry.thickness:
            self._findings.error(
                "grain-through",
                f"The grain of “{kind.id}” cannot run through its thickness",
                self._sources.at(entry, "grain"),
                mend="Grain runs along the length or the width of a part; write “any” where it does not matter.",
            )
            sound = False
        if entry.full_width is not None and entry.full_width in (entry.thickness, entry.grain):
            what = "thickness" if entry.full_width == entry.thickness else "grain"
            self._findings.error(
                "width-axis",
                f"“{kind.id}”: “full_width” and “{what}” are both {entry.full_width}",
                self._sources.at(entry, "full_width"),
                "A board's width runs across its grain and across its thickness.",
            )
            sound = False
        return sound

    def _first_given(self, kind: KindDraft, axis: Axis):
        for word in (axis.high.value, axis.low.value, {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}[axis]):
            if getattr(kind.entry, word) is not None:
                return self._sources.at(kind.entry, word)
        return kind.position

    def _fits_board(self, kind: KindDraft, stock: Stock, box: Box) -> bool:
        if stock.material.form is not Form.BOARD or stock.width is None or kind.entry.grain == "any":
            return True
        across = _across(kind)
        width = box.extent(across)
        if width <= stock.width:
            return True
        self._findings.error(
            "wider-than-board",
            f"“{kind.id}” is {self._say(kind, width)} wide; its board is {self._say(kind, stock.width)}",
            kind.position,
            f"{stock.name} {stock.nominal} cannot give a part of that width in one piece.",
            "Take a wider board, or glue the part up from strips: “glue_up: {widest_strip: 3}”.",
        )
        return False

    def _glue_up(self, kind: KindDraft, stock: Stock, box: Box) -> GlueUp | None:
        entry = kind.entry.glue_up
        if entry is None:
            return None
        if kind.entry.grain == "any":
            self._findings.error(
                "glue-up-grain",
                f"“{kind.id}” is glued up, so its grain must run along an axis",
                self._sources.at(kind.entry, "grain"),
                "The strips run along the grain.",
            )
            return None
        across = _across(kind)
        extra = self._evaluator.length(entry.extra, kind.scope, entry, "extra")
        if extra is None:
            return None
        total = box.extent(across) + extra * 2
        strips = self._strips(kind, total)
        if strips is None:
            return None
        width = total / strips
        if stock.width is not None and width > stock.width:
            least = -((-total.exact_mm) // stock.width.exact_mm)
            self._findings.error(
                "strip-too-wide",
                f"{strips} strips for “{kind.id}” would be {self._say(kind, width)} wide; the board is {self._say(kind, stock.width)}",
                self._sources.at(kind.entry, "glue_up"),
                mend=f"Take {least} strips or more, or a wider board.",
            )
            return None
        if width < NARROWEST_STRIP:
            self._findings.error(
                "strip-too-narrow",
                f"{strips} strips for “{kind.id}” would be {self._say(kind, width)} wide",
                self._sources.at(kind.entry, "glue_up"),
                f"Strips under {self._say(kind, NARROWEST_STRIP)} cannot be ripped and jointed safely (common practice, no source).",
                "Take fewer strips.",
            )
            return None
        return GlueUp(strips, width, across, extra)

    def _strips(self, kind: KindDraft, total: Length) -> int | None:
        entry = kind.entry.glue_up
        if entry is None:
            return None
        if (entry.strips is None) == (entry.widest_strip is None):
            self._findings.error(
                "glue-up-ways",
                f"“{kind.id}”: a glue-up is given by “strips” or by “widest_strip”",
                self._sources.at(kind.entry, "glue_up"),
                mend="Write “glue_up: {strips: 5}” or “glue_up: {widest_strip: 3}”.",
            )
            return None
        if entry.strips is not None:
            strips = self._evaluator.count(entry.strips, kind.scope, entry, "strips")
            if strips is not None and strips < 2:
                self._findings.error(
                    "glue-up-ways", "A glue-up has two strips or more", self._sources.at(entry, "strips")
                )
                return None
            return strips
        widest = self._evaluator.length(entry.widest_strip, kind.scope, entry, "widest_strip")
        if widest is None:
            return None
        if widest.exact_mm <= 0:
            self._findings.error("not-positive", "A strip has some width", self._sources.at(entry, "widest_strip"))
            return None
        ratio: Fraction = total.ratio(widest)
        return max(2, -(-ratio.numerator // ratio.denominator))

    def _part(self, kind: KindDraft, copy: Copy, stock: Stock, box: Box, glue_up: GlueUp | None, first: Box) -> Part:
        return Part(
            id=copy_id(kind, copy),
            kind=kind.id,
            name=self._name(kind, copy, first),
            assembly=kind.assembly.id,
            stock=stock,
            thickness=Axis(kind.entry.thickness),
            grain=None if kind.entry.grain == "any" else Axis(kind.entry.grain),
            seen=box,
            body=box,
            features=(),
            glue_up=glue_up,
            mirrored=copy[1],
            position=kind.position,
            note=kind.entry.note,
            match=kind.entry.grain_match,
            oversize=self._oversize(kind),
        )

    def _oversize(self, kind: KindDraft) -> Length:
        """What is to be trimmed off each edge; a glue-up and a matched part have their own ways."""
        entry = kind.entry
        if entry.oversize is None:
            return ZERO
        oversize = self._evaluator.length(entry.oversize, kind.scope, entry, "oversize")
        if oversize is None:
            return ZERO
        if oversize.exact_mm <= 0:
            self._findings.error(
                "not-positive", "An oversize is more than nothing", self._sources.at(entry, "oversize")
            )
            return ZERO
        if entry.glue_up is not None or entry.grain_match:
            other = "glue_up" if entry.glue_up is not None else "grain_match"
            mend = "Write “extra:” in “glue_up” instead." if entry.glue_up is not None else "Leave one of them out."
            self._findings.error(
                "oversize-with-" + other.replace("_", "-"),
                f"“{kind.id}” has both “oversize” and “{other}”",
                self._sources.at(entry, "oversize"),
                mend=mend,
            )
            return ZERO
        return oversize

    def _name(self, kind: KindDraft, copy: Copy, first: Box) -> str:
        name = kind.entry.name or title(kind.key)
        axis = kind.mirror
        plane = self._graph.values.get(self._faces.mirror_plane(kind)) if axis else None
        if axis is None or not isinstance(plane, Length):
            return name
        plane = plane + self._evaluator.origin(kind.assembly.scope, axis)
        own, other = _SIDES[axis] if first.span(axis).middle < plane else _SIDES[axis][::-1]
        side = other if copy[1] else own
        said, _, rest = name.partition(" ")
        if said.lower() == own.lower():  # a part named “front” that lies in front: its twin is the back
            return f"{side} {rest}".rstrip()
        return f"{side} {inside_sentence(name)}"

    def _say(self, kind: KindDraft, length: Length) -> str:
        return say(length, kind.scope.unit)


def copy_id(kind: KindDraft, copy: Copy) -> str:
    """``case.side``, ``case.side.mirrored``, ``shelves.shelf.2``, ``rack.peg.2.mirrored``."""
    number, mirrored = copy
    return kind.id + (f".{number}" if kind.repeats else "") + (".mirrored" if mirrored else "")


def _across(kind: KindDraft) -> Axis:
    """The axis across the grain in the face of the part."""
    a, b = Axis(kind.entry.thickness).others()
    return b if kind.entry.grain == a.value else a
