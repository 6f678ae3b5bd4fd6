"""The dimensions of a part drawing: its finished size, and where everything is that is cut into it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from drawleaf.draw.paper.dimensions import Dimension, arrow, place_dimensions
from drawleaf.draw.paper.lettering import Label, inline_pieces, label, length_label, place_centered
from drawleaf.draw.paper.obstacles import obstacles
from drawleaf.draw.paper.running import Mark as RunningMark
from drawleaf.draw.paper.running import place_running
from drawleaf.draw.paper.style import DIMENSION
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.part.marks.kinds import Mark
from drawleaf.draw.part.notes import datum
from drawleaf.draw.part.page import VIEW_GAP, Page
from drawleaf.draw.picture.breaking import Strip
from drawleaf.draw.picture.lay import Lay
from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.units import ZERO, Length, LengthFormat, Units

_SPILL, _ABOVE = 3.0, 8.0
"""How far (mm) past an edge a value may reach: at the right the thickness is below it, above are the distances across, or, higher up,
the values of running ones."""
_MANY, _MANY_ACROSS, _MOST_ROWS = 4, 5, 9
"""So many distances are dimensioned from one datum, in one line: upright ones; those across where both units are printed, and where one is."""


@dataclass(frozen=True, slots=True)
class Side:
    """The dimensions along one side of the face view: in rows, or from one ``datum`` to ``places`` where they are many."""

    rows: list[Dimension]
    datum: RunningMark | None = None
    places: tuple[RunningMark, ...] = ()

    @property
    def empty(self) -> bool:
        return not self.rows and self.datum is None

    def place(
        self, sketch: Sketch, side: str, edge: float, start: float, beyond: tuple[bool, bool], above: float
    ) -> float:
        """Draws them outside a side whose outline is at ``edge``, from ``start`` along it; returns how many mm they reach out."""
        if self.datum is not None:
            zero, *rest = [(at + start, text) for at, text in (self.datum, *self.places)]
            limit = max(at for at, _ in (zero, *rest)) + _SPILL if side == "right" else 1e9
            least = start - above if side in ("left", "right") else -1e9
            return place_running(sketch, side, edge, zero, rest, limit=limit, least=least)
        moved = [Dimension(d.low + start, d.high + start, d.label, d.starts) for d in self.rows]
        return place_dimensions(sketch, side, edge, moved, beyond, level=True)


@dataclass(frozen=True, slots=True)
class Set:
    """All dimensions of the face view, as if its left upper corner stood at 0, 0: what is cut above and at the left, the finished size
    at the right and below, together with what is measured from the other edge."""

    top: Side
    left: Side
    right: Side
    bottom: Side

    def room(self, side: str) -> float:
        """Millimetres that the dimensions on a side reach out."""
        some = {"top": self.top, "left": self.left, "right": self.right, "bottom": self.bottom}[side]
        return some.place(Sketch(), side, 0.0, 0.0, self._beyond(side), self._above)

    def _beyond(self, side: str) -> tuple[bool, bool]:
        """No value is written in a corner of the drawing where others may be."""
        upright = (self.top.empty, True)
        return {"top": (self.left.empty, False), "right": upright, "left": upright}.get(side, (True, True))

    @property
    def _above(self) -> float:
        """How far above the view values at its sides may reach."""
        return _SPILL if self.top.rows else _ABOVE

    def place(self, page: Page, right: float, bottom: float) -> None:
        """Draws all of them; those at the right and below stand outside the other views."""
        self.top.place(page.sketch, "top", page.top, page.left, self._beyond("top"), self._above)
        self.left.place(page.sketch, "left", page.left, page.top, self._beyond("left"), self._above)
        self.right.place(page.sketch, "right", right, page.top, self._beyond("right"), self._above)
        self.bottom.place(page.sketch, "bottom", bottom, page.left, self._beyond("bottom"), self._above)


def mark_dimensions(
    form: LengthFormat, lay: Lay, found: Sequence[Mark], strip: Strip, on_one_line: bool = False
) -> Set:
    """The dimensions of all marks, and the finished length and width. Where room is short, the two units of a value dimensioned from a
    datum stand ``on_one_line`` instead of below each other."""
    high = lay.reach(lay.up).mm * strip.factor

    def across(place: Length) -> float:
        return strip.at(place.mm)

    def upright(place: Length) -> float:
        return high - place.mm * strip.factor

    both = form.units is Units.BOTH
    along = [(mark, span) for mark in found for span in mark.across]
    up = [(mark, span) for mark in found for span in mark.upright]
    top, bottom = _sides(form, lay, lay.right, found, along, across, _MANY_ACROSS if both else _MOST_ROWS, on_one_line)
    left, right = _sides(form, lay, lay.up, found, up, upright, _MANY - both, on_one_line)
    return Set(top, left, right, bottom)


def _sides(
    form: LengthFormat,
    lay: Lay,
    toward: Face,
    found: Sequence[Mark],
    spans: Sequence[tuple[Mark, tuple[Length, Length]]],
    paper: Callable[[Length], float],
    many: int,
    on_one_line: bool,
) -> tuple[Side, Side]:
    """What is cut, and the finished size, along one way. Where much is cut: from the usual edge on one side, from the other edge on the other."""
    reach = lay.reach(toward)
    overall = _dimension(form, (ZERO, reach), paper)
    if len({span for _, span in spans}) < many:
        return Side([_dimension(form, span, paper) for _, span in spans]), Side([overall])
    usual = next((face for face in datum(lay, found) if face.axis is toward.axis), toward.opposite)
    zero, far = (reach, ZERO) if usual is toward else (ZERO, reach)
    apart = {span for mark, span in spans if usual.opposite in mark.origins or (far in span and zero not in span)}

    def running(start: Length, some: Sequence[tuple[Length, Length]]) -> Side:
        ends = sorted({end for span in some for end in span if end != start})
        value = _one_line if on_one_line else length_label
        places = sorted(((paper(end), value(form, abs(end - start))) for end in ends), key=lambda one: one[0])
        return Side([], (paper(start), label("0")), tuple(places))

    other = running(far, [*apart, (ZERO, reach)]) if apart else Side([overall])
    return running(zero, [span for _, span in spans if span not in apart]), other


def _one_line(form: LengthFormat, length: Length) -> Label:
    return label([inline_pieces(form, length)], stacked=True)


def _dimension(form: LengthFormat, span: tuple[Length, Length], paper: Callable[[Length], float]) -> Dimension:
    low, high = sorted((paper(span[0]), paper(span[1])))
    return Dimension(low, high, length_label(form, span[1] - span[0]))


def place_all_dimensions(page: Page, some: Set, part: Part, thick: float, end: bool) -> None:
    edge_top = page.bottom + VIEW_GAP
    some.place(page, page.right + (VIEW_GAP + thick if end else 0.0), edge_top + thick)
    _thickness(page, part.body.extent(part.thickness), edge_top, thick)


def _thickness(page: Page, length: Length, top: float, thick: float) -> None:
    """The thickness beside the edge view: arrows from outside, the value level with them at the first place that is clear."""
    text = length_label(page.form, length)
    x, middle = page.right + 4.0, top + thick / 2
    taken = obstacles(page.sketch)
    places = [(x + far + text.width / 2, middle) for far in (3.0, 8.0, 13.0, 18.0, 24.0, 30.0)]
    below = (x + text.width / 2 + 1.6, top + thick + 1.5 + text.height / 2)
    places = [places[0], below, *places[1:]]
    spot = taken.first_free(places, text.width + 1.0, text.height + 0.6) or places[0]
    for y, tail in ((top, top - 1), (top + thick, top + thick + 1)):
        page.sketch.line(DIMENSION, (page.right + 1.0, y), (x + 1.6, y))
        arrow(page.sketch, (x, y), (x, tail), length=2.0)
    page.sketch.line(DIMENSION, (x, top - 3.5), (x, top + thick + 3.5))
    if spot not in (places[0], below):
        page.sketch.line(DIMENSION, (x, middle), (spot[0] - text.width / 2 - 0.8, middle))
    place_centered(page.sketch, text, spot)
