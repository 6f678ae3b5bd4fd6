"""Full-size templates: 1 : 1 on as many sheets as it takes, with register marks where they join and a ruler to check the printer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.frame import extent, framed
from drawleaf.draw.paper.lettering import Rich, label, place, place_centered
from drawleaf.draw.paper.obstacles import obstacles
from drawleaf.draw.paper.placement import Rect, around, inside, spiral
from drawleaf.draw.paper.scales import scale_text
from drawleaf.draw.paper.style import BREAK, CENTER, HIDDEN, LETTER, NARROW, REGISTER, RULER, SOFT_INK, VISIBLE
from drawleaf.draw.paper.svg import Circle, Poly, Pt, Sketch, rectangle, write
from drawleaf.draw.paper.wrapping import wrapped
from drawleaf.draw.part.names import face_title, middle_of_assembly
from drawleaf.draw.picture.lay import face_name
from drawleaf.draw.picture.panes import show_alone
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.template.sheet_sizes import SHEET, shares
from drawleaf.draw.template.story_stick import compose_stick, is_stick, stick_lines
from drawleaf.draw.template.subject import Subject
from drawleaf.draw.template.subjects import template_subjects
from drawleaf.language import Words
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Face
from drawleaf.solids.build import Solids
from drawleaf.units import MM_PER_INCH

WIDTH = 170.0
_AROUND = 9.0
"""Clear paper round the template, for register marks."""
_BESIDE_GAP, _LEAST_BESIDE = 7.0, 45.0
"""Between a template and the words at its right, and the least width in mm that these have."""
MIDDLE = "middle line"
"""The name of the edge along which half a template is turned over."""
_TRUE = "Print at 100 %, not fitted to the page. Measure both rulers: they must be true."
"""Said below the first template, where the rulers stand: one check serves for a whole print."""
INCH = float(MM_PER_INCH)
METRIC_RULE, INCH_RULE = 100.0, 4 * INCH


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet of a template: its window in millimetres from the left and lower edge of the part, and its number."""

    left: float
    low: float
    right: float
    high: float
    number: int


def draw_templates(derived: Derived, solids: Solids) -> tuple[Drawing, ...]:
    """Every template of a plan, one drawing a sheet."""
    found: list[Drawing] = []
    for number, subject in enumerate(template_subjects(derived), start=1):
        if subject.stick and is_stick(subject, SHEET[0]):
            found.append(_draw_stick(derived, subject, number, rulers=not found))
            continue
        work = project(solids, subject.lay.view, (subject.item.part.id,))
        sheets = _sheets(subject)
        for sheet in sheets:
            found.append(_draw(derived, subject, work, number, sheet, sheets, rulers=not found))
    return tuple(found)


def _sheets(subject: Subject) -> list[_Sheet]:
    """The window shared out over sheets that overlap, in rows from the left and from the lower edge."""
    across = shares(subject.left.mm, subject.right.mm, SHEET[0])
    up = shares(subject.low.mm, subject.high.mm, SHEET[1])
    boxes = [(left, low, right, high) for low, high in up for left, right in across]
    return [_Sheet(*box, number) for number, box in enumerate(boxes, start=1)]


def _draw(
    derived: Derived,
    subject: Subject,
    work: Linework,
    number: int,
    sheet: _Sheet,
    sheets: Sequence[_Sheet],
    *,
    rulers: bool,
) -> Drawing:
    sketch = Sketch()
    left, low = _corner(subject)
    window = Window(1.0, (-(left + sheet.left), low + sheet.high))
    show_alone(sketch, subject.item.part.id, (0.0, 0.0, sheet.right - sheet.left, sheet.high - sheet.low))
    _wood(sketch, subject, work, window, sheet)
    _register(sketch, sheet, sheets)
    _name_edges(sketch, subject, sheet)
    _name_the_rest(sketch, derived, subject, sheet)
    bottom = sheet.high - sheet.low + _AROUND
    of = f", sheet {sheet.number} of {len(sheets)}" if len(sheets) > 1 else ""
    title = f"Template {number}: {subject.title}{of}"
    lines: list[Rich] = [*subject.lines]
    if len(sheets) > 1:
        lines.append(("Lay the sheets over one another so that marks with the same letter meet, and tape them.",))
    _words_and_rulers(sketch, derived.plan.words, lines, bottom, rulers)
    done = framed(sketch, WIDTH)
    alt = _alt(derived, subject, title, len(sheets), rulers=rulers)
    svg = write(done.sketch, done.width, done.height, title, alt)
    name = f"template-{number:02d}-{sheet.number}" if len(sheets) > 1 else f"template-{number:02d}"
    panes = tuple(done.sketch.panes)
    return Drawing(name, "template", title, svg, alt, done.width, done.height, scale_text(1), panes, number)


def _draw_stick(derived: Derived, subject: Subject, number: int, *, rulers: bool) -> Drawing:
    """Holes far apart: a strip on one sheet instead of a template on many."""
    sketch, low = compose_stick(derived.plan.lengths, subject)
    title = f"Template {number}: story stick, {subject.title}"
    lines: list[Rich] = [*stick_lines(subject)]
    _words_and_rulers(sketch, derived.plan.words, lines, low + 4.0, rulers)
    done = framed(sketch, WIDTH)
    words = " ".join("".join(str(piece) for piece in line) for line in lines)
    alt = f"{title}, full size about its {len(subject.holes)} holes, the strip between them left out. {words}"
    svg = write(done.sketch, done.width, done.height, title, alt)
    name, scale = f"template-{number:02d}", scale_text(1)
    return Drawing(name, "template", title, svg, alt, done.width, done.height, scale, number=number)


def _words_and_rulers(sketch: Sketch, own: Words, lines: Sequence[Rich], top: float, rulers: bool) -> None:
    """What is said of a template, at its right where that takes no more height, else below it; below the first one the two rulers."""
    said = [*lines, (own.put(_TRUE),)] if rulers else lines
    left, head, right, _ = extent(sketch)
    beside = WIDTH - 6.0 - (right - left) - _BESIDE_GAP
    if beside >= _LEAST_BESIDE and _words_height(wrapped(said, beside)) <= top - head:
        _words(sketch, wrapped(said, beside), (right + _BESIDE_GAP, head))
    else:
        top = _words(sketch, wrapped(said, WIDTH - 6.0), (0.0, top))
    if rulers:
        _rulers(sketch, top + 3.0)


def _alt(derived: Derived, subject: Subject, title: str, count: int, *, rulers: bool) -> str:
    words = " ".join("".join(str(piece) for piece in line) for line in subject.lines)
    tell = derived.plan.words.tell
    said = [tell("{}, full size, for number {}, {}.", title, subject.item.number, subject.item.name)]
    if subject.holes:
        said.append(tell("{} hole centers are marked.", len(subject.holes)))
    said.append(words)
    if count > 1:
        said.append(tell("It is printed on {} sheets.", count))
    return " ".join([*said, tell("A ruler of 100 mm and one of 4 in stand below.")] if rulers else said)


def _at(sheet: _Sheet, across: float, up: float) -> Pt:
    return (across - sheet.left, sheet.high - up)


def _wood(sketch: Sketch, subject: Subject, work: Linework, window: Window, sheet: _Sheet) -> None:
    u0, v0 = _corner(subject)
    clip = shapely.box(u0 + sheet.left - 0.01, v0 + sheet.low - 0.01, u0 + sheet.right + 0.01, v0 + sheet.high + 0.01)
    outline = work.outline(subject.item.part.id)
    rim = _rim(subject, outline)
    for piece in shapely.get_parts(shapely.line_merge(rim.intersection(clip))).tolist():
        if isinstance(piece, shapely.LineString) and piece.length > 0.1:
            sketch.shape(VISIBLE, Poly(tuple(window.at(u, v) for u, v in piece.coords)))
    inside = shapely.intersection(clip.boundary, outline.buffer(-0.05))
    for piece in shapely.get_parts(shapely.line_merge(inside)).tolist():
        if isinstance(piece, shapely.LineString) and piece.length > 0.1:
            sketch.shape(BREAK, Poly(tuple(window.at(u, v) for u, v in piece.coords)))
    _blank_edges(sketch, subject, outline, window, clip)
    for left, low, right, high in subject.outlines:
        _outline(sketch, sheet, _at(sheet, left.mm, high.mm), _at(sheet, right.mm, low.mm))
    for hole in subject.holes:
        x, y = _at(sheet, hole.across.mm, hole.up.mm)
        if not (0 <= x <= sheet.right - sheet.left and 0 <= y <= sheet.high - sheet.low):
            continue
        radius = hole.diameter.mm / 2
        sketch.shape(NARROW, Circle((x, y), radius))
        sketch.line(CENTER, (x - radius - 2.5, y), (x + radius + 2.5, y))
        sketch.line(CENTER, (x, y - radius - 2.5), (x, y + radius + 2.5))


def _blank_edges(
    sketch: Sketch, subject: Subject, outline: BaseGeometry, window: Window, clip: shapely.Polygon
) -> None:
    """Where the shape leaves the edges of the board that it is marked on: they are what the template is laid on by."""
    u0, v0 = _corner(subject)
    wide, high = subject.lay.reach(subject.lay.right).mm, subject.lay.reach(subject.lay.up).mm
    board = shapely.box(u0, v0, u0 + wide, v0 + high)
    bare = shapely.intersection(board.exterior, clip).difference(outline.buffer(0.05))
    for piece in shapely.get_parts(shapely.line_merge(bare)).tolist():
        if isinstance(piece, shapely.LineString) and piece.length > 0.1:
            sketch.shape(NARROW, Poly(tuple(window.at(u, v) for u, v in piece.coords)))


def _outline(sketch: Sketch, sheet: _Sheet, upper_left: Pt, lower_right: Pt) -> None:
    """A box that a fitting covers, as far as it lies on this sheet."""
    wide, high = sheet.right - sheet.left, sheet.high - sheet.low
    (x0, y0), (x1, y1) = upper_left, lower_right
    left, right, top, bottom = max(x0, 0.0), min(x1, wide), max(y0, 0.0), min(y1, high)
    if left >= right or top >= bottom:
        return
    if left == x0 and right == x1 and top == y0 and bottom == y1:
        sketch.shape(HIDDEN, rectangle(x0, y0, x1, y1))
        return
    for x in (x0, x1):
        if 0.0 <= x <= wide:
            sketch.line(HIDDEN, (x, top), (x, bottom))
    for y in (y0, y1):
        if 0.0 <= y <= high:
            sketch.line(HIDDEN, (left, y), (right, y))


def _corner(subject: Subject) -> tuple[float, float]:
    """Where the lower left corner of the blank lies in the view: a shaped part need not reach it."""
    u, v = subject.lay.view.on_paper(np.array(list(subject.lay.part.body.corners))).min(axis=0)
    return float(u), float(v)


def _rim(subject: Subject, outline: BaseGeometry) -> BaseGeometry:
    """The edges of the wood, less those of the holes that are drawn as circles."""
    if not subject.holes or not isinstance(outline, shapely.Polygon):
        return outline.boundary
    left, low = _corner(subject)
    centres = shapely.MultiPoint([(left + hole.across.mm, low + hole.up.mm) for hole in subject.holes])
    inner = [ring for ring in outline.interiors if not shapely.Polygon(ring).intersects(centres)]
    return shapely.Polygon(outline.exterior, inner).boundary


def _register(sketch: Sketch, sheet: _Sheet, sheets: Sequence[_Sheet]) -> None:
    """Marks at the same places of the template on both sheets that share them."""
    marks: list[tuple[str, float, float]] = []
    seen: dict[tuple[float, float], str] = {}
    for one in sheets:
        for other in sheets:
            if other.number <= one.number:
                continue
            left, right = max(one.left, other.left), min(one.right, other.right)
            low, high = max(one.low, other.low), min(one.high, other.high)
            if right - left < 1 or high - low < 1:
                continue
            flat = right - left < high - low
            ends = (
                [((left + right) / 2, y) for y in (low, high)]
                if flat
                else [(x, (low + high) / 2) for x in (left, right)]
            )
            for k, (x, y) in enumerate(ends):
                out = (-1.0 if k == 0 else 1.0) * _AROUND * 0.5
                place_of = (round(x + (0 if flat else out), 2), round(y + (out if flat else 0), 2))
                letter = seen.setdefault(place_of, "ABCDEFGHJKLMNP"[len(seen) % 14])
                if sheet.number in (one.number, other.number):
                    marks.append((letter, *place_of))
    for letter, across, up in dict.fromkeys(marks):
        x, y = _at(sheet, across, up)
        sketch.shape(REGISTER, Circle((x, y), 1.8))
        sketch.line(REGISTER, (x - 3.0, y), (x + 3.0, y))
        sketch.line(REGISTER, (x, y - 3.0), (x, y + 3.0))
        place_centered(sketch, label(letter, weight=600), (x + (-5.4 if x < 0 else 5.4), y))


def _name_edges(sketch: Sketch, subject: Subject, sheet: _Sheet) -> None:
    """The name of each edge of the wood that this sheet shows, inside it."""
    lay = subject.lay
    box: Rect = (0.0, 0.0, sheet.right - sheet.left, sheet.high - sheet.low)
    taken = obstacles(sketch)
    taken.boxes += _hole_boxes(subject, sheet, 0.4)
    wide, high = lay.reach(lay.right).mm, lay.reach(lay.up).mm
    edges: list[tuple[Face, bool, Rect]] = [
        (lay.right.opposite, sheet.left < 0.01, (0.0, 0.0, 7.0, box[3])),
        (lay.right, sheet.right > wide - 0.01, (box[2] - 7.0, 0.0, box[2], box[3])),
        (lay.up.opposite, sheet.low < 0.01, (0.0, box[3] - 7.0, box[2], box[3])),
        (lay.up, sheet.high > high - 0.01, (0.0, 0.0, box[2], 7.0)),
    ]
    if subject.half is not None:
        strip = (box[2] - 7.0, 0.0, box[2], box[3]) if subject.half is lay.right else (0.0, 0.0, box[2], 7.0)
        far, end = (sheet.right, subject.right) if subject.half is lay.right else (sheet.high, subject.high)
        edges.append((subject.half, far > end.mm - 0.01, strip))
    for face, shown, strip in edges:
        text = label(MIDDLE if face is subject.half else face_name(lay.part, face))
        turn = 90 if face.axis is lay.right.axis else 0
        size = (text.height, text.width) if turn else (text.width, text.height)
        if shown:
            spot = taken.first_free(spiral(size[0] + 0.6, size[1] + 0.6, strip), size[0] + 0.6, size[1] + 0.6)
            if spot:
                place_centered(sketch, text, spot, turn=turn, color=SOFT_INK)


def _hole_boxes(subject: Subject, sheet: _Sheet, clear: float) -> list[Rect]:
    """What the circles of the holes take up, with so many millimetres of clear paper."""
    return [
        around(_at(sheet, hole.across.mm, hole.up.mm), hole.diameter.mm + clear, hole.diameter.mm + clear)
        for hole in subject.holes
    ]


def _name_the_rest(sketch: Sketch, derived: Derived, subject: Subject, sheet: _Sheet) -> None:
    """On the template itself: the first hole, and which face of which part looks at the reader."""
    box: Rect = (0.0, 0.0, sheet.right - sheet.left, sheet.high - sheet.low)
    taken = obstacles(sketch)
    holes = [(_at(sheet, hole.across.mm, hole.up.mm), hole.diameter.mm / 2) for hole in subject.holes]
    taken.boxes += _hole_boxes(subject, sheet, 1.0)
    if subject.first and holes and inside(around(holes[0][0], 0.1, 0.1), box):
        text = label(subject.first, weight=600)
        (x, y), radius = holes[0]
        far = radius + 3.4
        beside = [(x + far + text.width / 2, y), (x - far - text.width / 2, y)]
        over = [(x, y - far - text.height / 2), (x, y + far + text.height / 2)]
        off = [(x + sx * (text.width / 2 + 1.5), y + sy * (far + 1.0)) for sx in (1, -1) for sy in (1, -1)]
        spot = taken.first_free([*beside, *over, *off], text.width + 0.6, text.height + 0.6, box)
        if spot:
            place_centered(sketch, text, spot)
    part = subject.item.part
    face = face_title(part, subject.lay.face, middle_of_assembly(derived, part)).lower()
    words = f"{subject.item.number} {subject.item.name}, {face}"
    text = label(words, weight=600)
    for turn in (0, 90):
        wide, high = (text.width, text.height) if not turn else (text.height, text.width)
        places = spiral(wide + 2.0, high + 2.0, box, steps=12)
        spot = taken.first_free(places, wide + 1.0, high + 1.0, box)
        if spot:
            place_centered(sketch, text, spot, turn=turn)
            return


def _words(sketch: Sketch, lines: Sequence[Rich], at: Pt) -> float:
    """The lines below each other; how far down they reach, in mm."""
    left, y = at
    for line in lines:
        text = label([line])
        place(sketch, text, (left, y + text.above))
        y += _words_height([line])
    return y


def _words_height(lines: Sequence[Rich]) -> float:
    labels = [label([line]) for line in lines]
    return sum(text.above + max(text.below, 0.2 * LETTER) + 1.4 for text in labels)


def _rulers(sketch: Sketch, top: float) -> None:
    """100 mm in tens, 4 in in quarters. The line of each is its true length, tick to tick."""
    for row, (length, step, long, name) in enumerate(
        ((METRIC_RULE, 10.0, 50.0, "100 mm"), (INCH_RULE, INCH / 4, INCH, "4 in"))
    ):
        y = top + 4.5 + row * 9.5
        sketch.line(RULER, (0.0, y), (length, y))
        count = round(length / step)
        for k in range(count + 1):
            at = k * step
            tall = 4.0 if abs(at / long - round(at / long)) < 1e-6 else 2.2
            sketch.line(RULER, (at, y), (at, y - tall))
        place(sketch, label(name, weight=600), (length + 3.0, y))
