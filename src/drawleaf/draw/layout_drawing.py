"""Sheets and boards to scale: every piece named and sized in its place, cuts numbered in order, offcuts hatched."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawleaf.draw.paper.dimensions import Dimension, arrow, dimensions_depth, place_dimensions
from drawleaf.draw.paper.frame import Framed, cropped
from drawleaf.draw.paper.lettering import (
    Label,
    Rich,
    inline_pieces,
    label,
    length_label,
    length_pieces,
    place,
    place_centered,
    run_box,
)
from drawleaf.draw.paper.placement import Rect, Taken, around, crosses, grown, overlap, spiral
from drawleaf.draw.paper.style import CUT_LINE, DIMENSION, HATCH, INK, LEADER, NARROW, VISIBLE, WHITE, shade, wood_tint
from drawleaf.draw.paper.svg import Circle, Poly, Pt, Sketch, rectangle
from drawleaf.draw.picture.panes import show_alone
from drawleaf.model.catalogue import Stock
from drawleaf.model.lists import Cut, Offcut, Placed
from drawleaf.units import Length, LengthFormat

_NUMBER_RADIUS = 2.7
_AIR = 0.85
"""Above and below letters together: half a line's breadth at either edge, and white between."""
_NARROW = 15.0
"""Boards narrower than this on paper have no room for cut numbers inside, nor for their width beside them."""


@dataclass(slots=True)
class _Page:
    """The sheet's place on paper: ``factor`` paper mm a real mm, top left corner, and what has been taken."""

    sketch: Sketch
    factor: float
    left: float
    top: float
    right: float
    across: float
    taken: Taken

    def at(self, x: Length, y: Length) -> Pt:
        """A sheet position (x along, y across from the reference edge, which lies at the bottom) on paper."""
        return (self.left + x.mm * self.factor, self.top + (self.across - y.mm) * self.factor)

    def box(self, x: Length, y: Length, length: Length, width: Length) -> Rect:
        left, bottom = self.at(x, y)
        return (left, bottom - width.mm * self.factor, left + length.mm * self.factor, bottom)


def draw_layout(
    form: LengthFormat,
    stock: Stock,
    size: tuple[Length, Length],
    placed: Sequence[Placed],
    cuts: Sequence[Cut],
    offcuts: Sequence[Offcut],
    frame: tuple[float, float],
    reduction: int,
) -> Framed:
    """One sheet or board ``size`` (length, width) at a scale of 1 : ``reduction``, within a frame's width."""
    (length, across), sold = size, form.sold()
    factor = 1.0 / reduction
    # A board's width is in its name; a sheet says both sizes.
    rows = [Dimension(0.0, across.mm * factor, length_label(sold, across))] if across.mm * factor > _NARROW else []
    left, top = dimensions_depth("left", rows) + 1.0, 7.0 if cuts else 1.0
    sketch = Sketch()
    bottom = top + across.mm * factor
    right = left + length.mm * factor
    page = _Page(sketch, factor, left, top, right, across.mm, Taken())
    sketch.fill(shade(wood_tint(stock.material.id, stock.material.tint), 1.55), rectangle(left, top, right, bottom))
    for off in offcuts:
        _offcut_lines(page, off)
    for piece in placed:
        _piece_shape(page, piece, stock)
    sketch.shape(VISIBLE, rectangle(left, top, right, bottom))
    depth = place_dimensions(sketch, "bottom", bottom, [Dimension(left, right, length_label(sold, length))])
    if rows:
        place_dimensions(sketch, "left", left, [Dimension(top, bottom, length_label(sold, across))])
    page.taken.boxes += [grown(run_box(run), 0.6) for run in sketch.texts]
    for shape in sketch.strokes.get(DIMENSION, ()):
        if isinstance(shape, Poly):
            page.taken.lines += pairwise(shape.points)
    numbers = _cut_numbers(page, cuts, placed)
    bare: list[Placed] = []
    keyed = [line for piece in placed for line in _piece_label(page, form, piece, bare)]
    boxes = [page.box(piece.x, piece.y, piece.length, piece.width) for piece in placed]
    for piece in bare:
        _number_beside(page, piece, boxes)
    for off in offcuts:
        _offcut_label(page, form, off)
    low = max(bottom + depth + 1.0, *(run_box(run)[3] + 1.5 for run in sketch.texts))
    _key(sketch, keyed, left, low, frame[0] - left)
    for center, order in numbers:
        _number(sketch, center, order)
    return cropped(sketch)


def _piece_shape(page: _Page, piece: Placed, stock: Stock) -> None:
    box = page.box(piece.x, piece.y, piece.length, piece.width)
    show_alone(page.sketch, piece.part, box)
    page.sketch.fill(wood_tint(stock.material.id, stock.material.tint), rectangle(*box), name="piece")
    page.sketch.shape(NARROW, rectangle(*box))


def _piece_label(page: _Page, form: LengthFormat, piece: Placed, bare: list[Placed]) -> list[Rich]:
    """Name and size inside the piece, upright or turned; its number alone, with a line in the key, where they do not fit."""
    box = page.box(piece.x, piece.y, piece.length, piece.width)
    for text, spare in _wordings(form, piece):
        for turn in (0, 90):
            width, height = (text.width, text.height) if not turn else (text.height, text.width)
            if height + _AIR > box[3] - box[1]:
                continue
            center = page.taken.first_free(
                spiral(width + 0.7, height + 0.4, grown(box, -0.1)), width + 0.6, height + 0.3, grown(box, -0.1)
            )
            if center:
                place_centered(page.sketch, text, center, turn=turn)
                _grain_arrow(page, box, piece)
                return [_key_line(form, piece)] if spare else []
    bare.append(piece)
    return [_key_line(form, piece)]


def _number_beside(page: _Page, piece: Placed, boxes: Sequence[Rect]) -> None:
    """A piece too small for its number gets it beside, on waste or beyond the edge, with a leader that ends on the piece."""
    text = label(str(piece.number), weight=600)
    left, top, right, bottom = page.box(piece.x, piece.y, piece.length, piece.width)
    middle = ((left + right) / 2, (top + bottom) / 2)
    width, height = text.width + 1.0, text.height + 1.0
    rings = [
        (middle[0] + dx * reach, middle[1] + dy * ((bottom - top) / 2 + reach))
        for reach in (3.0, 4.5, 6.0, 8.0, 11.0, 15.0)
        for dx, dy in ((0.3, -1), (-0.3, -1), (0.3, 1), (-0.3, 1), (1, -1), (-1, -1), (1, 1), (-1, 1))
    ]
    clear = [c for c in rings if not any(overlap(around(c, width, height), box) for box in boxes)]
    rings = [c for c in rings if _leads_clear(page, c, middle)]
    clear = [c for c in clear if c in rings]
    center = page.taken.first_free([*clear, *rings], width, height, (0.5, 0.5, page.right + 8, 1e6))
    if center is None:
        return
    drop = height / 2 if center[1] < middle[1] else -height / 2
    page.sketch.line(LEADER, (center[0], center[1] + drop), middle)
    page.sketch.cover(INK, Circle(middle, 0.45))
    place_centered(page.sketch, text, center)


def _wordings(form: LengthFormat, piece: Placed) -> list[tuple[Label, bool]]:
    """What may be written in a piece, fullest first; whether the key must say the rest."""
    name: Rich = (f"{piece.number}  {piece.label}" + (f", strip {piece.strip}" if piece.strip else ""),)
    size: Rich = (*length_pieces(form, piece.length), " × ", *length_pieces(form, piece.width))
    joined: Rich = (*name, "   ", *size)
    return [
        (label([name, size], anchor="middle"), False),
        (label([joined]), False),
        (label([name]), True),
        (label([(f"{piece.number}",), size], anchor="middle"), True),
        (label([(f"{piece.number}",)], weight=600), True),
    ]


def _key_line(form: LengthFormat, piece: Placed) -> Rich:
    strip = f", strip {piece.strip}" if piece.strip else ""
    return (
        f"{piece.number}  {piece.label}{strip}, ",
        *length_pieces(form, piece.length),
        " × ",
        *inline_pieces(form, piece.width),
    )


def _key(sketch: Sketch, lines: Sequence[Rich], left: float, top: float, room: float) -> float:
    """The lines for pieces too small to hold their names, each said once; returns the lower end."""
    labels = [label([line]) for line in dict.fromkeys(lines)]
    if not labels:
        return top
    wide = max(text.width for text in labels) + 6
    columns = max(1, int(room // wide))
    high = max(text.height for text in labels) + 1.8
    for index, text in enumerate(labels):
        x, y = left + (index % columns) * wide, top + (index // columns) * high
        place(sketch, text, (x, y + 1 + max(t.above for t in labels)))
    return top + -(-len(labels) // columns) * high + 1


def _grain_arrow(page: _Page, box: Rect, piece: Placed) -> None:
    """A double arrow along the sheet's length, where there is room for one: grain runs with the sheet."""
    long = min(14.0, (box[2] - box[0]) * 0.4)
    if long < 6:
        return
    center = page.taken.first_free(spiral(long + 2, 3.0, grown(box, -0.6)), long + 1, 2.4, grown(box, -0.4))
    if center:
        a, b = (center[0] - long / 2, center[1]), (center[0] + long / 2, center[1])
        page.sketch.line(NARROW, a, b)
        arrow(page.sketch, a, b, length=2.0)
        arrow(page.sketch, b, a, length=2.0)


def _offcut_lines(page: _Page, off: Offcut) -> None:
    box = page.box(off.x, off.y, off.length, off.width)
    page.sketch.fill(WHITE, rectangle(*box), name="offcut")
    for line in hatch(box, 3.2):
        page.sketch.line(HATCH, *line)


def _offcut_label(page: _Page, form: LengthFormat, off: Offcut) -> None:
    box = page.box(off.x, off.y, off.length, off.width)
    size: Rich = (*length_pieces(form, off.length), " × ", *length_pieces(form, off.width))
    for text in (
        label([("Offcut",), size], anchor="middle"),
        label([("Offcut  ", *size)]),
        label([size]),
        label("Offcut"),
    ):
        for turn in (0, 90):
            width, height = (text.width, text.height) if not turn else (text.height, text.width)
            center = page.taken.first_free(spiral(width + 2, height + 2, box), width + 1.6, height + 1.6, box)
            if center:
                page.sketch.cover(WHITE, rectangle(*around(center, width + 1.6, height + 1.6)), name="clear")
                place_centered(page.sketch, text, center, turn=turn)
                return


def hatch(box: Rect, pitch: float) -> list[tuple[Pt, Pt]]:
    """Lines at 45 degrees across a box."""
    left, top, right, bottom = box
    width, height = right - left, bottom - top
    lines: list[tuple[Pt, Pt]] = []
    count = int((width + height) / pitch)
    for i in range(1, count + 1):
        d = i * pitch
        a = (left + min(d, width), top + max(0.0, d - width))
        b = (left + max(0.0, d - height), top + min(d, height))
        if abs(a[0] - b[0]) > 0.2:
            lines.append((a, b))
    return lines


def _cut_numbers(page: _Page, cuts: Sequence[Cut], placed: Sequence[Placed]) -> list[tuple[Pt, int]]:
    """Draws the cut lines and finds a place for each cut's number: just off the sheet where the cut ends at its edge, else on the
    line, else beside it with a leader."""
    found: list[tuple[Pt, int]] = []
    size = 2 * _NUMBER_RADIUS + 0.1
    boxes = [page.box(piece.x, piece.y, piece.length, piece.width) for piece in placed]
    low = boxes if page.across * page.factor <= _NARROW else []
    lines = [(page.at(*cut.start), page.at(*cut.end)) for cut in cuts]
    for a, b in lines:
        page.sketch.line(CUT_LINE, a, b)
    for cut, (a, b) in zip(cuts, lines, strict=True):
        choices = [c for c in (_beyond(page, a, b), _beyond(page, b, a)) if c is not None]
        shares = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.27, 0.73, 0.42, 0.58)
        on_line = [(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t) for t in shares]
        # On a narrow board a number would hide the piece's own: it stands clear of the board, with a leader.
        open_places = [c for c in on_line if not any(overlap(around(c, size, size), box) for box in low)]
        beside = [
            (x + dx, y + dy)
            for far in (7.0, 10.0, 13.5, 17.0, 21.0)
            for x, y in on_line
            for dx, dy in _sideways(a, b, far)
        ]
        beside = [c for c in beside if _leads_clear(page, c, _nearest(on_line, c))] or beside
        clear = [c for c in beside if not any(overlap(around(c, size, size), box) for box in boxes)]
        center = page.taken.first_free([*choices, *open_places, *clear, *beside], size, size) or on_line[0]
        if center in beside:
            foot = _nearest(on_line, center)
            far = ((foot[0] - center[0]) ** 2 + (foot[1] - center[1]) ** 2) ** 0.5 / _NUMBER_RADIUS
            rim = (center[0] + (foot[0] - center[0]) / far, center[1] + (foot[1] - center[1]) / far)
            page.sketch.line(LEADER, rim, foot)
            page.sketch.cover(INK, Circle(foot, 0.45), name="dot")
            page.taken.lines.append((center, foot))
        found.append((center, cut.order))
    return found


def _nearest(places: Sequence[Pt], to: Pt) -> Pt:
    return min(places, key=lambda p: (round((p[0] - to[0]) ** 2 + (p[1] - to[1]) ** 2, 4), p))


def _leads_clear(page: _Page, start: Pt, end: Pt) -> bool:
    """Whether a leader between two places runs under no text."""
    return not any(crosses((start, end), box) for box in page.taken.boxes)


def _sideways(a: Pt, b: Pt, far: float) -> tuple[Pt, Pt]:
    """Steps to either side of a cut line."""
    upright = abs(a[0] - b[0]) < abs(a[1] - b[1])
    return ((far, 0.0), (-far, 0.0)) if upright else ((0.0, far), (0.0, -far))


def _beyond(page: _Page, end: Pt, other: Pt) -> Pt | None:
    """A place for a number just off the top or right edge of the sheet, if the cut ends there."""
    if abs(end[1] - page.top) < 0.6 and abs(end[0] - other[0]) < 0.6:
        return (end[0], page.top - _NUMBER_RADIUS - 1.0)
    if abs(end[0] - page.right) < 0.6 and abs(end[1] - other[1]) < 0.6:
        return (page.right + _NUMBER_RADIUS + 0.6, end[1])
    return None


def _number(sketch: Sketch, center: Pt, order: int) -> None:
    sketch.cover(INK, Circle(center, _NUMBER_RADIUS), name="cut-number")
    place_centered(sketch, label(str(order), weight=600), center, color=WHITE)
