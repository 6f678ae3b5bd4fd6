"""Full-size templates of outlines: the stretches of a part where an outline takes wood away, and openings with curves."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.draw.sight.outline_areas import flat_points
from drawleaf.draw.template.sheet_sizes import sheet_count
from drawleaf.draw.template.subject import Hole, Subject
from drawleaf.model.joint_family import CutKind
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Face
from drawleaf.model.plan import Bore
from drawleaf.model.shapes import OutlineCut
from drawleaf.setting_out.outlines import rectangle_of
from drawleaf.units import ZERO, Length, LengthFormat

MARGIN = Length.of_mm(32)
"""Wood shown round what is cut."""
WHOLE = 0.55
"""Where stretches cover more than this share of the part, the template shows the whole part."""
SAME = 1.0
"""Square millimetres by which two like shapes may differ."""
SLIVER = 4.0
"""Square millimetres of waste that no template is worth."""

Box = tuple[float, float, float, float]


def outline_subjects(form: LengthFormat, item: CutItem, lay: Lay) -> list[tuple[tuple, Subject]]:
    """The templates that this part's outlines are worth; like ones of other parts have the same key."""
    found: list[tuple[tuple, Subject]] = []
    for cut in item.part.features:
        if not isinstance(cut, OutlineCut) or cut.joint is not None or cut.outline.axis is not lay.face.axis:
            continue
        area = on_face(lay, cut)
        if cut.keep:
            boxes, turned = _windows(lay, area)
            for box in boxes:
                box, half = _halved(lay, area, box)
                found.append((_key(area, box), _subject(form, item, lay, "shape", box, turned, half)))
        elif rectangle_of(cut.outline) is None:
            box = _grown(lay, area.bounds)
            found.append((_key(area, box), _subject(form, item, lay, "opening", box)))
    return [*found, *_tail_subjects(form, item, lay)]


def _tail_subjects(form: LengthFormat, item: CutItem, lay: Lay) -> list[tuple[tuple, Subject]]:
    """A template for the dovetails at each end of a part."""
    ends: dict[Face, list[shapely.Polygon]] = {}
    for cut in item.part.features:
        if isinstance(cut, OutlineCut) and cut.kind == CutKind.TAIL and cut.outline.axis is lay.face.axis:
            ends.setdefault(cut.into, []).append(on_face(lay, cut))
    blank = shapely.box(0.0, 0.0, lay.reach(lay.right).mm, lay.reach(lay.up).mm)
    found: list[tuple[tuple, Subject]] = []
    for pieces in ends.values():
        waste = shapely.intersection(shapely.union_all(pieces), blank)
        box = _grown(lay, waste.bounds)
        found.append((_key(waste, box), _subject(form, item, lay, "tails", box)))
    return found


def on_face(lay: Lay, cut: OutlineCut) -> shapely.Polygon:
    """The outline in the face view, in millimetres from the left and the lower edge."""
    flat = flat_points(cut.outline)
    first, _ = cut.outline.axis.others()
    columns = []
    for toward in (lay.right, lay.up):
        values = flat[:, 0] if toward.axis is first else flat[:, 1]
        span = lay.part.body.span(toward.axis)
        columns.append(values - span.low.mm if toward.side > 0 else span.high.mm - values)
    return shapely.Polygon(list(zip(*columns, strict=True)))


def _windows(lay: Lay, kept: shapely.Polygon) -> tuple[list[Box], bool]:
    """Boxes round the places where wood goes, or the whole part where those are most of it; and whether some that are mirror images of
    others were left out."""
    wide, high = lay.reach(lay.right).mm, lay.reach(lay.up).mm
    blank = shapely.box(0.0, 0.0, wide, high)
    waste = [piece for piece in shapely.get_parts(blank.difference(kept)).tolist() if piece.area > SLIVER]
    if not waste:
        return [], False
    boxes = _apart([_grown(lay, piece.bounds) for piece in waste])
    covered = sum((right - left) * (top - low) for left, low, right, top in boxes)
    if max(wide, high) <= 150.0:
        return [(0.0, 0.0, wide, high)], False
    if covered > WHOLE * blank.area:
        lefts, lows, rights, tops = zip(*boxes, strict=True)
        return [(min(lefts), min(lows), max(rights), max(tops))], False
    distinct: list[Box] = []
    shapes: list[BaseGeometry] = []
    for box in boxes:
        shape = _within(kept, box)
        turned = [affinity.scale(shape, sx, sy, origin=(0, 0)) for sx, sy in ((1, 1), (-1, 1), (1, -1), (-1, -1))]
        if not any(_same(_at_zero(one), other) for one in turned for other in shapes):
            distinct.append(box)
            shapes.append(_at_zero(shape))
    return distinct, len(distinct) < len(boxes)


def _halved(lay: Lay, kept: shapely.Polygon, box: Box) -> tuple[Box, Face | None]:
    """The near half of a shape that is its own mirror image, holes too, where that takes fewer sheets; and the way to the other half.

    A half pattern, turned over on the middle line: common practice, no source.
    """
    left, low, right, high = box
    if sheet_count(right - left, high - low) == 1:
        return box, None
    holes = shapely.union_all([shapely.Point(hole.across.mm, hole.up.mm).buffer(1.0) for hole in _holes(lay, box)])
    best: tuple[int, Box, Face] | None = None
    for toward, part, flip in (
        (lay.right, (left, low, (left + right) / 2, high), (-1, 1)),
        (lay.up, (left, low, right, (low + high) / 2), (1, -1)),
    ):
        near, far = (left, right) if toward is lay.right else (low, high)
        middle = (near + far) / 2
        if abs(middle - lay.reach(toward).mm / 2) > 0.01:
            continue
        about = (middle, 0.0) if toward is lay.right else (0.0, middle)
        shape = _within(kept, box)
        if all(_same(affinity.scale(one, *flip, origin=about), one) for one in (shape, holes)):
            count = sheet_count(part[2] - part[0], part[3] - part[1])
            if best is None or count < best[0]:
                best = (count, part, toward)
    if best is None or best[0] >= sheet_count(right - left, high - low):
        return box, None
    return best[1], best[2]


def _apart(boxes: Sequence[Box]) -> list[Box]:
    """Boxes that meet are made one."""
    found: list[Box] = []
    for box in sorted(boxes):
        while True:
            met = next((one for one in found if _meet(one, box)), None)
            if met is None:
                break
            found.remove(met)
            box = (min(box[0], met[0]), min(box[1], met[1]), max(box[2], met[2]), max(box[3], met[3]))
        found.append(box)
    return sorted(found)


def _meet(one: Box, other: Box) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _grown(lay: Lay, bounds: Sequence[float]) -> Box:
    wide, high = lay.reach(lay.right).mm, lay.reach(lay.up).mm
    left, low, right, top = bounds
    by = MARGIN.mm
    return max(0.0, left - by), max(0.0, low - by), min(wide, right + by), min(high, top + by)


def _within(shape: BaseGeometry, box: Box) -> BaseGeometry:
    return shapely.intersection(shape, shapely.box(*box))


def _at_zero(shape: BaseGeometry) -> BaseGeometry:
    left, low, _, _ = shape.bounds
    return affinity.translate(shape, -left, -low)


def _same(one: BaseGeometry, other: BaseGeometry) -> bool:
    return one.symmetric_difference(other).area < SAME


def _holes(lay: Lay, box: Box) -> tuple[Hole, ...]:
    """Holes bored square into the face, as far as the template shows them: it can be laid on by them."""
    found = []
    for bore in lay.part.features:
        if (
            not isinstance(bore, Bore)
            or bore.face.axis is not lay.face.axis
            or (bore.depth and bore.face is not lay.face)
        ):
            continue
        across, up = (lay.along(toward, bore.start.along(toward.axis)) for toward in (lay.right, lay.up))
        # A hole on the middle line of half a template is shown with it.
        if box[0] <= across.mm <= box[2] and box[1] <= up.mm <= box[3]:
            found.append(Hole(across, up, bore.diameter))
    return tuple(found)


def _key(area: BaseGeometry, box: Box) -> tuple:
    """Alike for the same piece of the same outline, whichever way round it lies."""
    shape = _within(area, box)
    left, low, right, top = box
    sizes = sorted((round(right - left, 1), round(top - low, 1)))
    return ("outline", *sizes, round(shape.area, 0), round(shape.length, 0))


def _subject(
    form: LengthFormat,
    item: CutItem,
    lay: Lay,
    word: str,
    box: Box,
    turned: bool = False,
    half: Face | None = None,
) -> Subject:
    left, low, right, high = (Length.of_mm(round(value * 100)) / 100 for value in box)
    lines: list[Rich] = [
        (
            f"{item.number} {item.name}, {face_name(item.part, lay.face)}. Lay the template's edges on the edges of the wood.",
        )
    ]
    for toward, near, far in ((lay.right, left, right), (lay.up, low, high)):
        if toward is half:
            continue
        if near > ZERO and far < lay.reach(toward) - Length.of_mm(1):
            side = face_name(item.part, toward.opposite)
            edge = "left" if toward is lay.right else "lower"
            lines.append((f"The {edge} side of the frame is ", *inline_pieces(form, near), f" from the {side}."))
    if turned:
        lines.append(("Turn it over for the other side, which is its mirror image.",))
    if half is not None:
        lines.append(
            (
                "This is one half. Draw the middle line on the wood. Mark this half, then turn it over on that line for the other.",
            )
        )
    title = f"{'half ' if half else ''}{word}, {item.name.lower()}"
    return Subject(title, item, lay, left, low, right, high, _holes(lay, box), tuple(lines), half=half)
