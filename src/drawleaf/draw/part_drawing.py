"""A drawing of each distinct part: face view, edge view and, where something is cut there, end view; finished size; every cut and
hole dimensioned from a stated edge; grain; which side is which when installed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawleaf.draw.breaking import Strip, broken, halves, paint_half_flat, paint_half_lines
from drawleaf.draw.dimensions import Dimension, arrow, dimensions_depth, place_dimensions
from drawleaf.draw.frame import Framed, at_scale, framed
from drawleaf.draw.hidden_lines import project
from drawleaf.draw.lettering import Label, Rich, label, length_label, place_centered, run_box
from drawleaf.draw.linework import Linework
from drawleaf.draw.part_marks import Lay, Mark, face_name, lay_out, marks
from drawleaf.draw.part_notes import first_note, twin_notes, write_notes
from drawleaf.draw.placement import Rect, Taken, around, grown, spiral
from drawleaf.draw.scales import REDUCTIONS, scale_for, scale_text
from drawleaf.draw.style import (
    DIMENSION,
    HATCH,
    HIDDEN,
    INK,
    LEADER,
    NARROW,
    SOFT_INK,
    VISIBLE,
    WHITE,
    shade,
    wood_tint,
)
from drawleaf.draw.svg import Circle, Poly, Pt, Sketch, write
from drawleaf.draw.words import count_words
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, EdgeProfile, Part
from drawleaf.solids.build import Solids
from drawleaf.units import Length, LengthFormat

_WIDTH, _HEIGHT, _TALL = 170.0, 128.0, 190.0
"""A part with much cut into it may take a whole page; the others share one."""
_LARGEST = 2
"""Even small parts are drawn at half size at most, so that a page holds several."""
_EDGE, _VIEW_GAP = 1.5, 7.0
_NARROW = 13.0
_LEGIBLE, _BROKEN_HIGH, _BROKEN_ROOMS = 26.0, 60.0, (118.0, 104.0, 92.0)
"""A worked part lower than the first on paper (mm) is drawn larger with a break where it can be; it is then no higher than the second
and as long as the frame leaves room for."""
_KEY_RADIUS = 2.8
_KEYS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class _Views:
    """The projected views of a part."""

    lay: Lay
    face: Linework
    edge: Linework
    end: Linework | None


@dataclass(slots=True)
class _Page:
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
        return self.left + self.strip.paper_length

    @property
    def bottom(self) -> float:
        return self.top + self.lay.reach(self.lay.up).mm * self.factor

    def at(self, across: Length, up: Length) -> Pt:
        """A place on the face view, by its distances from the left and the lower edge."""
        return (self.left + self.strip.at(across.mm), self.bottom - up.mm * self.factor)

    @property
    def box(self) -> Rect:
        return (self.left, self.top, self.right, self.bottom)


def draw_part(derived: Derived, solids: Solids, item: CutItem) -> Drawing:
    """The part drawing of one row of the cut list."""
    views = _views(derived, solids, item)
    lay, found = views.lay, marks(derived, views.lay)
    notes, keys = _keyed(found)
    notes = [first_note(item, lay, bool(found)), *twin_notes(derived, item), *notes]
    tallest = _TALL if len(found) > 2 else _HEIGHT
    done, reduction = _at_best_scale(derived, item, views, found, keys, notes, tallest)
    title, scale = f"{item.number}  {item.name}", scale_text(reduction)
    alt = _alt(derived, item, found)
    svg = write(done.sketch, done.width, done.height, title, alt)
    return Drawing(f"part-{item.number:02d}", "part", title, svg, alt, done.width, done.height, scale)


def _at_best_scale(
    derived: Derived,
    item: CutItem,
    views: _Views,
    found: Sequence[Mark],
    keys: Sequence[str],
    notes: Sequence[Rich],
    tallest: float,
) -> tuple[Framed, int]:
    """The part drawn whole at the largest scale at which it fits; larger with a break where its work would be too small to read."""
    lay = views.lay
    length, high = lay.reach(lay.right).mm, lay.reach(lay.up).mm
    reduction = max(scale_for(length, high, _WIDTH - 2 * _EDGE - 12.0, 110.0), _LARGEST)

    def whole(scale: int) -> Sketch:
        return _compose(derived, item, views, found, keys, notes, Strip(length, 1.0 / scale))

    if found and high / reduction < _LEGIBLE:
        scales = (scale for scale in REDUCTIONS if _LARGEST <= scale < reduction)
        for larger, room in ((scale, room) for scale in scales for room in _BROKEN_ROOMS):
            strip = broken(lay, 1.0 / larger, room) if high / larger <= _BROKEN_HIGH else None
            done = framed(_compose(derived, item, views, found, keys, notes, strip), _WIDTH) if strip else None
            if done and done.needs <= _WIDTH and done.height <= tallest:
                return done, larger
    return at_scale(whole, reduction, _WIDTH, tallest)


def _views(derived: Derived, solids: Solids, item: CutItem) -> _Views:
    part = item.part
    x, y, z = derived.overall
    lay = lay_out(part, (x / 2, y / 2, z / 2))
    end = project(solids, lay.beside, (part.id,)) if _worked_along(part, lay) else None
    return _Views(lay, project(solids, lay.view, (part.id,)), project(solids, lay.below, (part.id,)), end)


def _worked_along(part: Part, lay: Lay) -> bool:
    """Whether something runs along the part, so that only its end shows the shape of it."""
    for feature in part.features:
        through = isinstance(feature, BoxCut) and {part.thickness.low, part.thickness.high} <= set(feature.open)
        whole_length = isinstance(feature, BoxCut) and feature.box.extent(lay.right.axis) == lay.reach(lay.right)
        if whole_length and not through:
            return True
        if isinstance(feature, EdgeProfile) and lay.right.axis not in {face.axis for face in feature.edge}:
            return True
    return False


def _compose(
    derived: Derived,
    item: CutItem,
    views: _Views,
    found: Sequence[Mark],
    keys: Sequence[str],
    notes: Sequence[Rich],
    strip: Strip,
) -> Sketch:
    """The whole drawing at a scale."""
    form, lay, factor = derived.plan.lengths, views.lay, strip.factor
    across, upright = _dimensions(form, lay, found, strip)
    thick = item.part.body.extent(item.part.thickness).mm * factor
    ends = (not upright, False)
    left = _EDGE + dimensions_depth("left", upright)
    right_room = dimensions_depth("right", [_whole(form, lay.reach(lay.up), factor)])
    end_room = (thick + _VIEW_GAP) if views.end else 0.0
    width = left + strip.paper_length + end_room + right_room + _EDGE
    left += max(0.0, (_WIDTH - width) / 2)
    top = _EDGE + dimensions_depth("top", across, ends)
    page = _Page(form, Sketch(), lay, factor, strip, left, top, _middle_of_assembly(derived, item.part))
    _paint_views(page, views, item.part, thick)
    _place_all_dimensions(page, across, upright, item.part, thick, bool(views.end))
    low = page.bottom + _VIEW_GAP + thick + dimensions_depth("bottom", [_long(form, lay, strip)])
    taken = obstacles(page.sketch)
    _place_keys(page, taken, found, keys)
    _name_face(page, taken, item.part)
    _grain(page, taken, item.part)
    _name_sides(page, taken, item.part)
    write_notes(page.sketch, notes, (_EDGE, low + 1.5), _WIDTH)
    return page.sketch


def _whole(form: LengthFormat, length: Length, factor: float, start: float = 0.0) -> Dimension:
    return Dimension(start, start + length.mm * factor, length_label(form, length))


def _long(form: LengthFormat, lay: Lay, strip: Strip, start: float = 0.0) -> Dimension:
    """The true length, however much of it is drawn."""
    return Dimension(start, start + strip.paper_length, length_label(form, lay.reach(lay.right)))


def _dimensions(
    form: LengthFormat, lay: Lay, found: Sequence[Mark], strip: Strip
) -> tuple[list[Dimension], list[Dimension]]:
    """Distances for the top and the left side, as if the view's left upper corner stood at 0, 0."""
    factor = strip.factor
    high = lay.reach(lay.up).mm * factor
    across = [_span(form, low, up, strip) for mark in found for low, up in mark.across]
    upright = [
        Dimension(high - up.mm * factor, high - low.mm * factor, length_label(form, up - low))
        for mark in found
        for low, up in mark.upright
    ]
    return across, upright


def _span(form: LengthFormat, low: Length, high: Length, strip: Strip) -> Dimension:
    return Dimension(strip.at(low.mm), strip.at(high.mm), length_label(form, high - low))


def _moved(dimensions: Sequence[Dimension], by: float) -> list[Dimension]:
    return [Dimension(d.low + by, d.high + by, d.label, d.starts) for d in dimensions]


def _place_all_dimensions(
    page: _Page, across: Sequence[Dimension], upright: Sequence[Dimension], part: Part, thick: float, end: bool
) -> None:
    form, lay = page.form, page.lay
    place_dimensions(page.sketch, "top", page.top, _moved(across, page.left), (not upright, False))
    place_dimensions(page.sketch, "left", page.left, _moved(upright, page.top))
    right = page.right + (_VIEW_GAP + thick if end else 0.0)
    place_dimensions(page.sketch, "right", right, [_whole(form, lay.reach(lay.up), page.factor, page.top)])
    edge_top = page.bottom + _VIEW_GAP
    place_dimensions(page.sketch, "bottom", edge_top + thick, [_long(form, lay, page.strip, page.left)])
    _thickness(page, part.body.extent(part.thickness), edge_top, thick)


def _thickness(page: _Page, length: Length, top: float, thick: float) -> None:
    """The thickness beside the edge view: arrows from outside, the value level with them at the first place that is clear."""
    text = length_label(page.form, length)
    x, middle = page.right + 4.0, top + thick / 2
    taken = obstacles(page.sketch)
    places = [(x + far + text.width / 2, middle) for far in (3.0, 8.0, 13.0, 18.0, 24.0, 30.0)]
    spot = taken.first_free(places, text.width + 1.0, text.height + 0.6) or places[0]
    for y, tail in ((top, top - 1), (top + thick, top + thick + 1)):
        page.sketch.line(DIMENSION, (page.right + 1.0, y), (x + 1.6, y))
        arrow(page.sketch, (x, y), (x, tail), length=2.0)
    page.sketch.line(DIMENSION, (x, top - 3.5), (x, top + thick + 3.5))
    if spot != places[0]:
        page.sketch.line(DIMENSION, (x, middle), (spot[0] - text.width / 2 - 0.8, middle))
    place_centered(page.sketch, text, spot)


def _paint_views(page: _Page, views: _Views, part: Part, thick: float) -> None:
    edge_top = page.bottom + _VIEW_GAP
    tint = shade(wood_tint(part.stock.material.id, part.stock.material.tint), 1.5)
    placed = [(views.face, page.strip, page.left, page.top), (views.edge, page.strip, page.left, edge_top)]
    if views.end:
        placed.append((views.end, Strip(thick, page.factor), page.right + _VIEW_GAP, page.top))
    for work, strip, left, top in placed:
        for half in halves(work, strip, left, top):
            paint_half_flat(page.sketch, work, half, part.id, tint)
            paint_half_lines(page.sketch, work.hidden, half, HIDDEN)
            paint_half_lines(page.sketch, work.visible, half, VISIBLE)


def obstacles(sketch: Sketch) -> Taken:
    """All lines and texts drawn so far."""
    taken = Taken([grown(run_box(run), 0.5) for run in sketch.texts])
    for style, shapes in sketch.strokes.items():
        for shape in shapes:
            if isinstance(shape, Poly) and style is not HATCH:
                taken.lines += pairwise((*shape.points, shape.points[0]) if shape.closed else shape.points)
    return taken


def _keyed(found: Sequence[Mark]) -> tuple[list[Rich], list[str]]:
    """A letter for each different note; the notes with their letters, and the letter of each mark."""
    letters: dict[Rich, str] = {}
    for mark in found:
        letters.setdefault(mark.note, _KEYS[len(letters) % len(_KEYS)])
    return [(f"{letter}   ", *note) for note, letter in letters.items()], [letters[mark.note] for mark in found]


def _place_keys(page: _Page, taken: Taken, found: Sequence[Mark], keys: Sequence[str]) -> None:
    """A letter in a small circle beside each mark, with a leader to it."""
    bounds = (_EDGE, _EDGE, _WIDTH - _EDGE, page.bottom + _VIEW_GAP - 0.5)
    size = 2 * _KEY_RADIUS + 0.8
    for mark, key in zip(found, keys, strict=True):
        x, y = page.at(*mark.anchor)
        rings = [
            (x + dx * far, y + dy * far)
            for far in (5.5, 7.5, 10.0, 13.0, 17.0, 22.0)
            for dx, dy in (
                (0.7, -0.7),
                (-0.7, -0.7),
                (0.7, 0.7),
                (-0.7, 0.7),
                (1, -0.2),
                (-1, -0.2),
                (0.2, -1),
                (0.2, 1),
            )
        ]
        center = taken.first_free(rings, size, size, bounds)
        if center is None:
            center = rings[0]
            taken.boxes.append(around(center, size, size))
        far = ((x - center[0]) ** 2 + (y - center[1]) ** 2) ** 0.5
        rim = (center[0] + (x - center[0]) / far * _KEY_RADIUS, center[1] + (y - center[1]) / far * _KEY_RADIUS)
        page.sketch.line(LEADER, rim, (x, y))
        taken.lines.append((rim, (x, y)))
        page.sketch.cover(INK, Circle((x, y), 0.45), name="dot")
        page.sketch.cover(WHITE, Circle(center, _KEY_RADIUS), name="key")
        page.sketch.shape(NARROW, Circle(center, _KEY_RADIUS))
        place_centered(page.sketch, label(key, weight=600), center)


def _name_face(page: _Page, taken: Taken, part: Part) -> None:
    """The name of the face, as installed, near its middle."""
    box, lay = page.box, page.lay
    face = label(_face_title(part, lay.face, page.middle_x))
    spot = taken.first_free(spiral(face.width + 2, face.height + 2, box), face.width + 1, face.height + 1, box)
    if spot:
        place_centered(page.sketch, face, spot)


def _name_sides(page: _Page, taken: Taken, part: Part) -> None:
    """The names of the edges, along them, where there is room; of a narrow part's ends only, lest they be taken for the face's."""
    box, lay = page.box, page.lay
    narrow = box[3] - box[1] < _NARROW
    ends = ((lay.right.opposite, 0 if narrow else 90), (lay.right, 0 if narrow else 90))
    sides = ends if narrow else ((lay.up, 0), (lay.up.opposite, 0), *ends)
    for side, turn in sides:
        _name_side(page, taken, side, turn, (face_name(part, side), side.value))


def _name_side(page: _Page, taken: Taken, side: Face, turn: int, names: Sequence[str]) -> None:
    """The first of the names that has room along that side, turned or level."""
    box = page.box
    middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    for name in names:
        text = label(name)
        for way in dict.fromkeys((turn, 0)):
            width, height = (text.width, text.height) if not way else (text.height, text.width)
            places = _along_edge(box, middle, side, page.lay, width, height)
            spot = taken.first_free(places, width + 0.6, height + 0.4, box)
            if spot:
                place_centered(page.sketch, text, spot, turn=way, color=SOFT_INK)
                return


def _middle_of_assembly(derived: Derived, part: Part) -> float:
    outermost = part.assembly.split(".")[0]
    spans = [one.body.x for one in derived.plan.parts if one.assembly.split(".")[0] == outermost]
    return (min(span.low for span in spans) + max(span.high for span in spans)).mm / 2


def _face_title(part: Part, face: Face, middle_x: float) -> str:
    """``Right face (inside)`` for uprights, whose sides the eye calls inside and outside; else ``Top face``."""
    name = face_name(part, face).capitalize()
    away = part.body.center.x.mm - middle_x
    if part.thickness is not Axis.X or abs(away) < 1.0:
        return name
    return f"{name} ({'inside' if away * face.side < 0 else 'outside'})"


def _along_edge(box: Rect, middle: Pt, side: Face, lay: Lay, width: float, height: float) -> list[Pt]:
    """Places for a word close inside an edge, from its middle outwards."""
    shifts = (0.0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4)
    if side.axis is lay.up.axis:
        y = box[1] + height / 2 + 1.2 if side is lay.up else box[3] - height / 2 - 1.2
        return [(middle[0] + shift * (box[2] - box[0]), y) for shift in shifts]
    x = box[2] - width / 2 - 1.2 if side is lay.right else box[0] + width / 2 + 1.2
    return [(x, middle[1] + shift * (box[3] - box[1])) for shift in shifts]


def _grain(page: _Page, taken: Taken, part: Part) -> None:
    """A double arrow along the grain with the word beside it; the arrow alone where there is no room for the word."""
    if part.grain is None or part.grain is part.thickness:
        return
    lies = part.grain is page.lay.right.axis
    for word, lengths in ((label("grain"), (18.0, 13.0, 9.0)), (None, (14.0, 8.0))):
        for long in lengths:
            whole = long + (1.5 + word.width if word else 0.0)
            thick = word.height + 0.4 if word else 1.2
            wide, high = (whole, thick) if lies else (thick, whole)
            spot = taken.first_free(spiral(wide, high, page.box, steps=7), wide + 1.6, high + 0.6, page.box)
            if spot:
                _grain_arrow(page.sketch, spot, whole, long, lies, word)
                return


def _grain_arrow(sketch: Sketch, spot: Pt, whole: float, long: float, lies: bool, word: Label | None) -> None:
    x, y = spot
    ends = ((x - whole / 2, y), (x - whole / 2 + long, y)) if lies else ((x, y + whole / 2), (x, y + whole / 2 - long))
    sketch.line(NARROW, *ends)
    arrow(sketch, ends[0], ends[1])
    arrow(sketch, ends[1], ends[0])
    if word:
        shift = whole / 2 - word.width / 2
        place_centered(sketch, word, (x + shift, y) if lies else (x, y - shift), turn=0 if lies else 90)


def _alt(derived: Derived, item: CutItem, found: Sequence[Mark]) -> str:
    form = derived.plan.lengths
    size = " by ".join(form.text(length) for length in (item.length, item.width, item.thickness))
    said = [f"Drawing of part number {item.number}, {item.name}: {size}, {count_words(item.quantity, 'piece')}."]
    for note in dict.fromkeys(mark.note for mark in found):
        said.append("".join(str(piece) for piece in note) + ".")
    return " ".join(said)
