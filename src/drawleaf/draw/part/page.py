"""A part drawing in the making: its views on paper, and where places of the part lie there."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.style import HIDDEN, VISIBLE, shade, wood_tint
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.picture.breaking import Strip, halves, paint_half_flat, paint_half_lines
from drawleaf.draw.picture.lay import Lay
from drawleaf.draw.sight.linework import Linework
from drawleaf.model.plan import Part
from drawleaf.units import Length, LengthFormat

WIDTH = 170.0
EDGE, VIEW_GAP = 1.5, 7.0


@dataclass(frozen=True, slots=True)
class Views:
    """The projected views of a part."""

    lay: Lay
    face: Linework
    edge: Linework
    end: Linework | None


@dataclass(slots=True)
class Page:
    """A part drawing in the making."""

    form: LengthFormat
    sketch: Sketch
    lay: Lay
    factor: float
    strip: Strip
    left: float
    top: float
    middle_x: float
    """The middle of the outermost assembly that the part belongs to, in the piece's mm: tells inside from outside."""

    @property
    def right(self) -> float:
        """The right edge of the face view, mm on paper."""
        return self.left + self.strip.paper_length

    @property
    def bottom(self) -> float:
        """The lower edge of the face view, mm on paper."""
        return self.top + self.lay.reach(self.lay.up).mm * self.factor

    def at(self, across: Length, up: Length) -> Pt:
        """A place on the face view, by its distances from the left and the lower edge."""
        return (self.left + self.strip.at(across.mm), self.bottom - up.mm * self.factor)

    @property
    def box(self) -> Rect:
        return (self.left, self.top, self.right, self.bottom)


def paint_views(page: Page, views: Views, part: Part, thick: float) -> None:
    edge_top = page.bottom + VIEW_GAP
    tint = shade(wood_tint(part.stock.material.id, part.stock.material.tint), 1.5)
    placed = [(views.face, page.strip, page.left, page.top), (views.edge, page.strip, page.left, edge_top)]
    if views.end:
        placed.append((views.end, Strip(thick, page.factor), page.right + VIEW_GAP, page.top))
    for work, strip, left, top in placed:
        for half in halves(work, strip, left, top):
            paint_half_flat(page.sketch, work, half, part.id, tint)
            paint_half_lines(page.sketch, work.hidden, half, HIDDEN)
            paint_half_lines(page.sketch, work.visible, half, VISIBLE)
