"""Full-size sections of mouldings: to choose the bits by, to draw on the ends of the wood, to hold a bought piece against."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.picture.lay import Lay, face_name, right_of
from drawleaf.draw.template.subject import Subject
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Face
from drawleaf.model.shapes import Outline
from drawleaf.setting_out.outlines import arcs_of
from drawleaf.units import ZERO, Length, LengthFormat


def section_subjects(form: LengthFormat, item: CutItem) -> list[tuple[tuple, Subject]]:
    """The section of a moulding, seen from its right or far end; none for a round or a plain part."""
    part = item.part
    if part.section is None or part.section.round:
        return []
    face, up = part.length_axis.high, part.width_axis.high
    lay = Lay(replace(part, tilt=None), face, right_of(face, up), up)
    u, v = part.section.outline.bounds
    size = (*inline_pieces(form, u.extent), " × ", *inline_pieces(form, v.extent))
    lines: list[Rich] = [
        (
            f"{item.number} {item.name}: section “{part.section.name}”, ",
            *size,
            f", seen from the {face_name(part, face)}.",
        ),
        _corners(form, lay, part.section.outline),
    ]
    if arcs_of(part.section.outline):
        lines.append(_curves(form, part.section.outline))
    key = ("section", part.section.name, *sorted((u.extent, v.extent)))
    wide, high = lay.reach(lay.right), lay.reach(lay.up)
    serves = tuple(one.id for one in item.parts)
    title = f"section, {item.name.lower()}"
    return [(key, Subject(title, item, lay, ZERO, ZERO, wide, high, (), tuple(lines), serves))]


def _corners(form: LengthFormat, lay: Lay, outline: Outline) -> Rich:
    """Every corner as it lies on the sheet: so far from the left, so far up."""
    words: list = ["Corners, from the left and up from the bottom: "]
    for number, corner in enumerate(outline.corners):
        places = dict(zip(outline.axis.others(), (corner.u, corner.v), strict=True))
        across, up = (_from_low(lay, toward, places[toward.axis]) for toward in (lay.right, lay.up))
        words += ["; " if number else "", *inline_pieces(form, across), ", ", *inline_pieces(form, up)]
    return (*words, ".")


def _from_low(lay: Lay, toward: Face, at: Length) -> Length:
    return lay.along(toward, at)


def _curves(form: LengthFormat, outline: Outline) -> Rich:
    words: list = ["Curves: "]
    found: dict[tuple[str, Length], None] = {}
    for arc in arcs_of(outline):
        found["hollow" if arc.rise.exact_mm < 0 else "round", arc.radius] = None
    for number, (word, radius) in enumerate(found):
        words += [f"{', ' if number else ''}{word} R ", *inline_pieces(form, radius)]
    return (*words, ".")
