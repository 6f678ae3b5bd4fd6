"""A step at the saw: the sheets and boards that it cuts, with the pieces that come out of them tinted and numbered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.derive.layout.like_boards import like_runs, run_words
from drawleaf.draw.paper.frame import Framed, Room, cropped
from drawleaf.draw.paper.lettering import label, place, place_centered
from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.style import ACCENT_TINT, NARROW, NEW_OUTLINE, SOFT_INK, STANDING, STANDING_FILL, VISIBLE
from drawleaf.draw.paper.svg import Sketch, rectangle, write
from drawleaf.draw.picture.panes import show_alone
from drawleaf.english import listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import BoardLayout, Placed, SheetLayout
from drawleaf.model.steps import Step
from drawleaf.units import Length

_CAPTION, _GAP, _EDGE, _LARGEST = 5.0, 5.0, 2.0, 0.08
_LOWEST = 4.2
"""A board is drawn at least so high, so that numbers fit in it; its pieces are then stretched across, not along."""
_FLAT = 9.0
"""Stock drawn no higher than this has the numbers of its strips above it; higher stock has them at its side."""
_EASY, _TIGHT = 0.6, 0.2
"""Air above and below a number in its piece; less where another piece of its row bars the way from the side."""
_APART, _OFF = 3.7, 1.3
"""Two numbers outside the stock, middle to middle, and how far one stands off."""


@dataclass(frozen=True, slots=True)
class _Stock:
    """A sheet or board to be drawn, for all that are cut alike."""

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
    alt = f"{title}. {listed([stock.name for stock in stocks], most=8)} to be cut; tinted in them: {listed(names, most=12)}."
    found = []
    for room in rooms:
        done = _within(stocks, step, room)
        svg, panes = write(done.sketch, done.width, done.height, title, alt), tuple(done.sketch.panes)
        found.append(
            Drawing(
                f"step-{step.number:02d}", "step", title, svg, alt, done.width, done.height, None, panes, step.number
            )
        )
    return tuple(found)


def _within(stocks: Sequence[_Stock], step: Step, room: Room) -> Framed:
    """Drawn smaller where the numbers beside a sheet would stand outside the room."""
    wide, done = room.width, cropped(_compose(stocks, step, room))
    while done.width > room.width and wide > room.width / 2:
        wide -= done.width - room.width + 0.1
        done = cropped(_compose(stocks, step, Room(wide, room.height)))
    return done


def _stocks(derived: Derived, step: Step) -> list[_Stock]:
    layouts = derived.layouts
    named = (step.scene.layout or "").split(" ")[0] if step.scene else ""
    if named == "sheet":
        sheets = like_runs(one for one in layouts.sheets if _cut_from(one, step))
        return [_Stock(run_words(run, "sheet"), run[0].sheet.length, run[0].sheet.width, run[0]) for run in sheets]
    boards = like_runs(one for one in layouts.boards if _cut_from(one, step))
    return [_Stock(run_words(run, "board"), run[0].length, run[0].board.width, run[0]) for run in boards]


def _cut_from(layout: SheetLayout | BoardLayout, step: Step) -> bool:
    return any(piece.part in step.parts for piece in layout.placed)


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
    crowded: list[tuple[Placed, Rect]] = []
    for piece in stock.layout.placed:
        inner = (
            left + piece.x.mm * along,
            bottom - (piece.y + piece.width).mm * across,
            left + (piece.x + piece.length).mm * along,
            bottom - piece.y.mm * across,
        )
        show_alone(sketch, piece.part, inner)
        mine = piece.part in step.parts
        if mine:
            sketch.fill(ACCENT_TINT, rectangle(*inner), name="new")
        sketch.shape(NEW_OUTLINE if mine else STANDING, rectangle(*inner))
        air = _TIGHT if _barred(piece, stock) else _EASY
        if not _write_number(sketch, piece, inner, mine, air) and mine:
            crowded.append((piece, inner))
    for cut in stock.layout.cuts:
        a, b = ((left + x.mm * along, bottom - y.mm * across) for x, y in (cut.start, cut.end))
        sketch.line(NARROW, a, b)
    sketch.shape(VISIBLE, rectangle(*box))
    if bottom - top <= _FLAT:
        _number_above(sketch, crowded, box, left + label(stock.name, weight=600).width + 2.0)
    else:
        middle = (left + right) / 2
        for side, edge in ((-1.0, left), (1.0, right)):
            here = [one for one in crowded if ((one[1][0] + one[1][2]) / 2 > middle) == (side > 0)]
            _number_beside(sketch, here, edge, side)


def _barred(piece: Placed, stock: _Stock) -> bool:
    """Whether another piece of its row lies between this one and the nearer end of the stock."""
    row = [other for other in stock.layout.placed if other.y == piece.y]
    if 2 * piece.x + piece.length < stock.length:
        return any(other.x < piece.x for other in row)
    return any(other.x > piece.x for other in row)


def _write_number(sketch: Sketch, piece: Placed, box: Rect, mine: bool, air: float) -> bool:
    """The piece's number in its middle, where there is room for it and so much ``air`` above and below together."""
    text = label(str(piece.number), weight=600 if mine else 400)
    fits = text.width + 0.8 <= box[2] - box[0] and text.height + air <= box[3] - box[1]
    if fits:
        middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        place_centered(sketch, text, middle, color=None if mine else SOFT_INK)
    return fits


def _number_above(sketch: Sketch, pieces: Sequence[tuple[Placed, Rect]], stock: Rect, clear: float) -> None:
    """The numbers of strips in a row above a board, right of its name, each with a line down into its strip."""
    least = clear
    for piece, (left, top, right, bottom) in sorted(pieces, key=lambda one: (one[1][0] + one[1][2], one[1][1])):
        text = label(str(piece.number), weight=600)
        x = max((left + right) / 2, least + text.width / 2)
        place_centered(sketch, text, (x, stock[1] - _OFF - text.height / 2))
        sketch.line(NARROW, (x, stock[1] - _OFF + 0.4), (min(max(x, left + 1.0), right - 1.0), (top + bottom) / 2))
        least = x + text.width / 2 + 1.2


def _number_beside(sketch: Sketch, pieces: Sequence[tuple[Placed, Rect]], edge: float, side: float) -> None:
    """The numbers of strips in a column beside a sheet's edge, each with a line to the near end of its strip."""
    ordered = sorted(pieces, key=lambda one: one[1][1] + one[1][3])
    middles = [(box[1] + box[3]) / 2 for _, box in ordered]
    first = sum(middles) / max(len(middles), 1) - _APART * (len(middles) - 1) / 2
    for place_in, (piece, box) in enumerate(ordered):
        text = label(str(piece.number), weight=600)
        y = first + _APART * place_in
        place_centered(sketch, text, (edge + side * (_OFF + text.width / 2), y))
        end = box[0] + 1.5 if side < 0 else box[2] - 1.5
        sketch.line(NARROW, (edge + side * (_OFF - 0.4), y), (end, middles[place_in]))
