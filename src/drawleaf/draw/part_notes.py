"""The notes below a part drawing: how many to make, the edges that distances start from, the mirrored twin, what each letter means."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.lettering import Rich, label, place
from drawleaf.draw.part_marks import Lay, face_name
from drawleaf.draw.style import LETTER
from drawleaf.draw.svg import Pt, Sketch
from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem


def first_note(item: CutItem, lay: Lay, worked: bool) -> Rich:
    make = f"Make {item.quantity}. "
    if not worked:
        return (f"{make}Cut to size; nothing else is cut into it.",)
    left, low = face_name(lay.part, lay.right.opposite), face_name(lay.part, lay.up.opposite)
    return (f"{make}Distances are from the {left} and the {low}.",)


def twin_notes(derived: Derived, item: CutItem) -> list[Rich]:
    twins = [
        other for other in derived.cut_list.items if other.mirror_of == item.number or item.mirror_of == other.number
    ]
    return [(f"Number {twin.number}, {twin.name}, is its mirror image.",) for twin in twins]


def write_notes(sketch: Sketch, notes: Sequence[Rich], at: Pt, width: float) -> float:
    """The notes below the views, one under the other, or in two columns where all are short; returns the lower end."""
    labels = [label([note]) for note in notes]
    columns = 2 if len(labels) > 3 and max(text.width for text in labels) < (width - 8) / 2 else 1
    rows = -(-len(labels) // columns)
    left, y = at
    for row in range(rows):
        pair = [labels[row + column * rows] for column in range(columns) if row + column * rows < len(labels)]
        above, below = max(t.above for t in pair), max(t.below for t in pair)
        for column, text in enumerate(pair):
            place(sketch, text, (left + column * width / 2, y + above))
        y += above + max(below, 0.2 * LETTER) + 1.5
    return y
