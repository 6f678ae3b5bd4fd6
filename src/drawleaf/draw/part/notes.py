"""The notes below a part drawing: how many to make, the edges that distances start from, the mirrored twin, what each letter means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.draw.paper.lettering import Rich, label, place
from drawleaf.draw.paper.style import LETTER
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.paper.wrapping import wrapped
from drawleaf.draw.part.like_copies import same_sides
from drawleaf.draw.part.marks.kinds import Mark
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.english import listed
from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Face
from drawleaf.model.plan import Part

_BETWEEN = 1.0
"""Between two notes, in mm."""


def first_note(item: CutItem, lay: Lay, found: Sequence[Mark], later: bool) -> Rich:
    """How many to make, and the sides that distances are measured from: those that most of them are."""
    make = f"Make {item.quantity}. "
    if not found:
        return (
            f"{make}Cut to size; nothing {'is' if later else 'else is'} cut into it{' before it is joined' if later else ''}.",
        )
    origins = datum(lay, found)
    if not origins:
        return (make.rstrip(),)
    return (f"{make}Distances are from the {' and the '.join(face_name(lay.part, face) for face in origins)}.",)


def datum(lay: Lay, found: Sequence[Mark]) -> list[Face]:
    """For each way on the face, the side that most distances along it are measured from; none where nothing is."""
    sides: list[Face] = []
    for toward in (lay.right, lay.up):
        counts = {toward.opposite: 0, toward: 0}
        for mark in found:
            for face in mark.origins:
                if face.axis is toward.axis:
                    counts[face] += 1
        if any(counts.values()):
            sides.append(max(counts, key=lambda face: counts[face]))
    return sides


def with_origins(lay: Lay, found: Sequence[Mark]) -> list[Mark]:
    """The marks, each with its own side in its note where that is not the one that most distances are measured from."""
    usual = datum(lay, found)
    marks: list[Mark] = []
    for mark in found:
        odd = [face_name(lay.part, face) for face in mark.origins if face not in usual]
        marks.append(replace(mark, note=(*mark.note, f"; measured from the {' and the '.join(odd)}")) if odd else mark)
    return marks


def twin_notes(derived: Derived, item: CutItem) -> list[Rich]:
    twins = [
        other for other in derived.cut_list.items if other.mirror_of == item.number or item.mirror_of == other.number
    ]
    return [(f"Number {twin.number}, {twin.name}, is its mirror image.",) for twin in twins]


def like_notes(derived: Derived, item: CutItem, found: Sequence[Mark]) -> list[Rich]:
    """Which copy is drawn, where another stands turned and has its sides under other names: ``Drawn as the Front side; …``."""
    if not found:
        return []
    turned = [part.name for part in item.parts[1:] if part.name != item.part.name and _stands_turned(part, item.part)]
    if not turned:
        return []
    others = listed([f"the {name}" for name in dict.fromkeys(turned)], most=4)
    words = derived.plan.words.tell(
        "Drawn as the {}; {} {} the same piece, turned round.",
        item.part.name,
        others,
        "is" if len(set(turned)) == 1 else "are",
    )
    return [(words,)]


def _stands_turned(part: Part, first: Part) -> bool:
    """Whether sides of the copy have other names than those that the drawing gives them."""
    sides = next(same_sides(part, first), None)
    return sides is not None and any(own is not answer for own, answer in sides.items())


def write_notes(sketch: Sketch, notes: Sequence[Rich], at: Pt, width: float) -> float:
    """The notes below the views, one under the other, or in two columns where all are short; returns the lower end, mm on paper."""
    labels = [label([note]) for note in wrapped(notes, width - 6.0)]
    columns = 2 if len(labels) > 3 and max(text.width for text in labels) < (width - 8) / 2 else 1
    rows = -(-len(labels) // columns)
    left, y = at
    for row in range(rows):
        pair = [labels[row + column * rows] for column in range(columns) if row + column * rows < len(labels)]
        above, below = max(t.above for t in pair), max(t.below for t in pair)
        for column, text in enumerate(pair):
            place(sketch, text, (left + column * width / 2, y + above))
        y += above + max(below, 0.2 * LETTER) + _BETWEEN
    return y
