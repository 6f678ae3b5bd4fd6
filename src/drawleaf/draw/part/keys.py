"""Letters that lead from what is cut into a part to the notes below it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from drawleaf.draw.paper.lettering import Rich, label, place_centered, run_box
from drawleaf.draw.paper.placement import Rect, Taken, around, crosses, grown, inside, lines_cross, overlap
from drawleaf.draw.paper.style import INK, LEADER, NARROW, WHITE
from drawleaf.draw.paper.svg import Circle, Pt
from drawleaf.draw.part.marks.kinds import Mark
from drawleaf.draw.part.page import EDGE, VIEW_GAP, WIDTH, Page

_RADIUS, _ARM = 2.8, 1.3
_SIZE = 2 * _RADIUS + 0.8
_RINGS = (5.5, 7.5, 10.0, 13.0, 17.0, 22.0, 28.0)
_WAYS = ((0.7, -0.7), (-0.7, -0.7), (0.7, 0.7), (-0.7, 0.7), (1.0, -0.2), (-1.0, -0.2), (0.2, -1.0), (0.2, 1.0))
"""How far from its mark a letter may stand (mm), and which way, best first."""
_FAR = (*_RINGS, 34.0, 41.0)
_ROUND = tuple((math.cos(math.pi * turn / 12), math.sin(math.pi * turn / 12)) for turn in range(24))
"""The same where it is crowded."""
_KEYS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def keyed(found: Sequence[Mark]) -> tuple[list[Rich], list[str]]:
    """A letter for each different note; the notes with their letters, and the letter of each mark."""
    letters: dict[Rich, str] = {}
    for mark in found:
        letters.setdefault(mark.note, _KEYS[len(letters) % len(_KEYS)])
    return [(f"{letter}\u2002", *note) for note, letter in letters.items()], [letters[mark.note] for mark in found]


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
    words = [grown(run_box(run), 0.3) for run in page.sketch.texts]
    leaders: list[tuple[Pt, Pt]] = []
    anchors = [page.at(*mark.anchor) for mark in found]
    for at, key in zip(anchors, keys, strict=True):
        center = _center(at, taken, words, leaders, anchors, bounds)
        taken.boxes.append(around(center, _SIZE, _SIZE))
        words.append(around(center, 2 * _RADIUS, 2 * _RADIUS))
        far = math.dist(at, center)
        rim = (center[0] + (at[0] - center[0]) / far * _RADIUS, center[1] + (at[1] - center[1]) / far * _RADIUS)
        page.sketch.line(LEADER, rim, at)
        taken.lines.append((rim, at))
        leaders.append((rim, at))
        page.sketch.cover(INK, Circle(at, 0.45), name="dot")
        page.sketch.cover(WHITE, Circle(center, _RADIUS), name="key")
        page.sketch.shape(NARROW, Circle(center, _RADIUS))
        place_centered(page.sketch, label(key, weight=600), center)


def _center(
    at: Pt,
    taken: Taken,
    words: Sequence[Rect],
    leaders: Sequence[tuple[Pt, Pt]],
    anchors: Sequence[Pt],
    bounds: Rect,
) -> Pt:
    """A place for a letter about its mark, on no other mark: clear itself, with a leader that crosses no words and no other leader;
    else clear at least of words and leaders, wherever it stands."""
    rings = [(at[0] + dx * far, at[1] + dy * far) for far in _RINGS for dx, dy in _WAYS]
    marks = [around(one, 0.3, 0.3) for one in anchors if math.dist(one, at) > 0.5]
    round_about = [(at[0] + dx * far, at[1] + dy * far) for far in _FAR for dx, dy in _ROUND]

    def led(center: Pt) -> bool:
        way = (center, at)
        past = not any(crosses(way, box) for box in words) and not any(crosses(way, mark) for mark in marks)
        return past and not any(lines_cross(way, other) for other in leaders)

    def off_marks(center: Pt) -> bool:
        return not any(inside(mark, around(center, _SIZE, _SIZE)) for mark in marks)

    def clear(center: Pt) -> bool:
        return led(center) and off_marks(center) and taken.free(around(center, _SIZE, _SIZE), bounds)

    def bare(center: Pt) -> bool:
        box = around(center, _SIZE, _SIZE)
        off = not any(overlap(box, other) for other in words) and not any(crosses(line, box) for line in leaders)
        return off and led(center) and off_marks(center) and inside(box, bounds)

    choices = ((clear, rings), (clear, round_about), (bare, rings), (bare, round_about))
    return next((center for good, places in choices for center in places if good(center)), rings[0])
