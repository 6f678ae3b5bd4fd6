"""Letters that lead from what is cut into a part to the notes below it."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.lettering import Rich, label, place_centered
from drawleaf.draw.mark import Mark
from drawleaf.draw.part_page import EDGE, VIEW_GAP, WIDTH, Page
from drawleaf.draw.placement import Taken, around
from drawleaf.draw.style import INK, LEADER, NARROW, WHITE
from drawleaf.draw.svg import Circle

_RADIUS, _ARM = 2.8, 1.3
_KEYS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def keyed(found: Sequence[Mark]) -> tuple[list[Rich], list[str]]:
    """A letter for each different note; the notes with their letters, and the letter of each mark."""
    letters: dict[Rich, str] = {}
    for mark in found:
        letters.setdefault(mark.note, _KEYS[len(letters) % len(_KEYS)])
    return [(f"{letter}   ", *note) for note, letter in letters.items()], [letters[mark.note] for mark in found]


def paint_crosses(page: Page, found: Sequence[Mark]) -> None:
    """A small cross at the middle of each fitting."""
    for mark in found:
        for place in mark.crosses:
            x, y = page.at(*place)
            page.sketch.line(NARROW, (x - _ARM, y), (x + _ARM, y))
            page.sketch.line(NARROW, (x, y - _ARM), (x, y + _ARM))


def place_keys(page: Page, taken: Taken, found: Sequence[Mark], keys: Sequence[str]) -> None:
    """A letter in a small circle beside each mark, with a leader to it."""
    bounds = (EDGE, EDGE, WIDTH - EDGE, page.bottom + VIEW_GAP - 0.5)
    size = 2 * _RADIUS + 0.8
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
        rim = (center[0] + (x - center[0]) / far * _RADIUS, center[1] + (y - center[1]) / far * _RADIUS)
        page.sketch.line(LEADER, rim, (x, y))
        taken.lines.append((rim, (x, y)))
        page.sketch.cover(INK, Circle((x, y), 0.45), name="dot")
        page.sketch.cover(WHITE, Circle(center, _RADIUS), name="key")
        page.sketch.shape(NARROW, Circle(center, _RADIUS))
        place_centered(page.sketch, label(key, weight=600), center)
