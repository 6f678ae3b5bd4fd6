"""The names of a part's face and edges on its drawing, and the arrow along its grain."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.lettering import Label, label, place_centered
from drawleaf.draw.paper.placement import Rect, Taken, spiral
from drawleaf.draw.paper.style import NARROW, SOFT_INK
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.part.page import Page
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part

_NARROW = 13.0


def name_face(page: Page, taken: Taken, part: Part) -> None:
    """The name of the face, as installed, near its middle; without ``inside`` where room is short."""
    box, lay = page.box, page.lay
    whole = face_title(part, lay.face, page.middle_x)
    for words in dict.fromkeys((whole, whole.partition(" (")[0])):
        face = label(words)
        places = spiral(face.width + 2, face.height + 2, box, steps=9)
        spot = taken.first_free(places, face.width + 1, face.height + 1, box)
        if spot:
            place_centered(page.sketch, face, spot)
            return


def name_sides(page: Page, taken: Taken, part: Part) -> None:
    """The names of the edges, along them, where there is room; of a narrow part's ends only, lest they be taken for the face's."""
    box, lay = page.box, page.lay
    narrow = box[3] - box[1] < _NARROW
    ends = ((lay.right.opposite, 0 if narrow else 90), (lay.right, 0 if narrow else 90))
    sides = ends if narrow else ((lay.up, 0), (lay.up.opposite, 0), *ends)
    for side, turn in sides:
        _name_side(page, taken, side, turn, (face_name(part, side), side.value))


def _name_side(page: Page, taken: Taken, side: Face, turn: int, names: Sequence[str]) -> None:
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


def middle_of_assembly(derived: Derived, part: Part) -> float:
    """The middle, along x in the piece's millimetres, of the outermost assembly that the part belongs to."""
    outermost = part.assembly.split(".")[0]
    spans = [one.body.x for one in derived.plan.parts if one.assembly.split(".")[0] == outermost]
    return (min(span.low for span in spans) + max(span.high for span in spans)).mm / 2


def face_title(part: Part, face: Face, middle_x: float) -> str:
    """``Right face (inside)`` for uprights, whose sides the eye calls inside and outside; else ``Top face``."""
    name, side = face_name(part, face).capitalize(), face_sides(part, middle_x)
    if part.thickness is not Axis.X or not side:
        return name
    return f"{name} ({'inside' if side * face.side < 0 else 'outside'})"


def face_sides(part: Part, middle_x: float) -> int:
    """On which side of the middle the part stands: -1 left, 1 right, 0 in the middle."""
    away = part.body.center.x.mm - middle_x
    return 0 if abs(away) < 1.0 else 1 if away > 0 else -1


def _along_edge(box: Rect, middle: Pt, side: Face, lay: Lay, width: float, height: float) -> list[Pt]:
    """Places for a word close inside an edge, from its middle outwards."""
    shifts = (0.0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4)
    if side.axis is lay.up.axis:
        y = box[1] + height / 2 + 1.2 if side is lay.up else box[3] - height / 2 - 1.2
        return [(middle[0] + shift * (box[2] - box[0]), y) for shift in shifts]
    x = box[2] - width / 2 - 1.2 if side is lay.right else box[0] + width / 2 + 1.2
    return [(x, middle[1] + shift * (box[3] - box[1])) for shift in shifts]


def grain_mark(page: Page, taken: Taken, part: Part) -> None:
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
