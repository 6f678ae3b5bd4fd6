"""A step at the saw: the sheets and boards that it cuts, with the pieces that come out of them tinted and numbered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.draw.frame import Room, cropped
from drawleaf.draw.lettering import label, place, place_centered
from drawleaf.draw.placement import Rect
from drawleaf.draw.style import ACCENT_TINT, NARROW, NEW_OUTLINE, STANDING_FILL, VISIBLE
from drawleaf.draw.svg import Sketch, rectangle, write
from drawleaf.draw.words import listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import BoardLayout, Placed, SheetLayout
from drawleaf.model.steps import Step
from drawleaf.units import Length

_CAPTION, _GAP, _EDGE, _LARGEST = 5.0, 5.0, 2.0, 0.08
_LOWEST = 4.2
"""A board is drawn at least so high, so that numbers fit in it; its pieces are then stretched across, not along."""


@dataclass(frozen=True, slots=True)
class _Stock:
    """A sheet or board to be drawn."""

    name: str
    length: Length
    width: Length
    layout: SheetLayout | BoardLayout


def draw_cutting(derived: Derived, step: Step, rooms: Sequence[Room]) -> tuple[Drawing, ...]:
    """What the step cuts, in each of the rooms given; none where no layout holds its parts."""
    stocks = _stocks(derived, step)
    if not stocks:
        return ()
    title = f"Step {step.number}: {step.title}"
    names = [item.name for item in derived.cut_list.items if any(part.id in step.parts for part in item.parts)]
    alt = f"{title}. {listed([stock.name for stock in stocks])} to be cut; tinted in them: {listed(names, 12)}."
    found = []
    for room in rooms:
        done = cropped(_compose(stocks, step, room))
        svg = write(done.sketch, done.width, done.height, title, alt)
        found.append(Drawing(f"step-{step.number:02d}", "step", title, svg, alt, done.width, done.height, None))
    return tuple(found)


def _stocks(derived: Derived, step: Step) -> list[_Stock]:
    layouts = derived.layouts
    named = (step.scene.layout or "").split(" ")[0] if step.scene else ""
    sheets = [_Stock(f"Sheet {one.number}", one.sheet.length, one.sheet.width, one) for one in layouts.sheets]
    boards = [_Stock(f"Board {one.number}", one.length, one.board.width, one) for one in layouts.boards]
    kind = sheets if named == "sheet" else boards
    return [stock for stock in kind if any(piece.part in step.parts for piece in stock.layout.placed)]


def _compose(stocks: Sequence[_Stock], step: Step, room: Room) -> Sketch:
    """In rows, all at one scale along the stock."""
    columns, factor = _arranged(stocks, room)
    sketch, top = Sketch(), _EDGE
    for start in range(0, len(stocks), columns):
        row = stocks[start : start + columns]
        left, deep = _EDGE, 0.0
        for stock in row:
            wide, high = stock.length.mm * factor, _high(stock, factor)
            place(sketch, label(stock.name, weight=600), (left, top + _CAPTION - 1.6))
            _draw(sketch, stock, step, (left, top + _CAPTION, left + wide, top + _CAPTION + high))
            left, deep = left + wide + _GAP, max(deep, high)
        top += _CAPTION + deep + _GAP / 2
    return sketch


def _high(stock: _Stock, factor: float) -> float:
    return max(stock.width.mm * factor, _LOWEST)


def _arranged(stocks: Sequence[_Stock], room: Room) -> tuple[int, float]:
    """How many side by side, and the scale: the arrangement that draws them largest."""
    best = (1, 0.0)
    for columns in range(1, min(3, len(stocks)) + 1):
        rows = [stocks[i : i + columns] for i in range(0, len(stocks), columns)]
        wide = min((room.width - 2 * _EDGE - _GAP * (len(row) - 1)) / sum(s.length.mm for s in row) for row in rows)
        factor = min(wide, _LARGEST)
        while (
            factor > 0.005
            and sum(max(_high(s, factor) for s in row) + _CAPTION + _GAP / 2 for row in rows) > room.height - _EDGE
        ):
            factor *= 0.96
        if factor > best[1] * 1.02:
            best = (columns, factor)
    return best


def _draw(sketch: Sketch, stock: _Stock, step: Step, box: Rect) -> None:
    left, top, right, bottom = box
    along, across = (right - left) / stock.length.mm, (bottom - top) / stock.width.mm
    sketch.fill(STANDING_FILL, rectangle(*box), name="stock")
    for piece in stock.layout.placed:
        inner = (
            left + piece.x.mm * along,
            bottom - (piece.y + piece.width).mm * across,
            left + (piece.x + piece.length).mm * along,
            bottom - piece.y.mm * across,
        )
        mine = piece.part in step.parts
        if mine:
            sketch.fill(ACCENT_TINT, rectangle(*inner), name="new")
        sketch.shape(NEW_OUTLINE if mine else NARROW, rectangle(*inner))
        _write_number(sketch, piece, inner, mine)
    for cut in stock.layout.cuts:
        a, b = ((left + x.mm * along, bottom - y.mm * across) for x, y in (cut.start, cut.end))
        sketch.line(NARROW, a, b)
    sketch.shape(VISIBLE, rectangle(*box))


def _write_number(sketch: Sketch, piece: Placed, box: Rect, mine: bool) -> None:
    text = label(str(piece.number), weight=600 if mine else 400)
    if text.width + 0.8 <= box[2] - box[0] and text.height + 0.5 <= box[3] - box[1]:
        place_centered(sketch, text, ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))
