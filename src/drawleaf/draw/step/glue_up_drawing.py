"""A panel being glued up, from above: its strips side by side with the triangle drawn across them, clamps under it and over it in turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.draw.paper.frame import Room, cropped
from drawleaf.draw.paper.lettering import label, place_centered
from drawleaf.draw.paper.style import (
    ACCENT_TINT,
    BALLOON_RADIUS,
    CLAMP_FILL,
    HIDDEN,
    MEASURE,
    NARROW,
    NEW_BALLOON,
    NEW_EDGE,
    NEW_OUTLINE,
)
from drawleaf.draw.paper.svg import Circle, Pt, Sketch, rectangle, write
from drawleaf.draw.picture.panes import show_alone
from drawleaf.english import counted
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Part
from drawleaf.model.steps import Step

_EDGE, _OUT, _BAR, _JAW, _WORD, _CAPTION = 2.0, 4.0, 2.4, 2.6, 6.0, 10.0
_JAW_WIDE, _SCREW = 4.2, 1.2
_LARGEST = 0.25
_LEAST = 3
"""Fewer clamps than this are not said to lie under and over the panel in turn."""
_UNDER, _OVER = "under", "over"
_KEY = ("dashed: clamp under the panel", "solid: clamp over it")
"""What stands below the panel where the clamps are too close together for a word at each."""


@dataclass(frozen=True, slots=True)
class _Panel:
    """The rough panel on paper: its left upper corner, its size, how many strips."""

    left: float
    top: float
    long: float
    wide: float
    strips: int

    @property
    def strip(self) -> float:
        return self.wide / self.strips


def is_glue_up(step: Step) -> bool:
    """Whether the step glues a panel up from strips, and does nothing else."""
    return bool(step.operations) and all(operation.kind == "glue-up" for operation in step.operations)


def draw_glue_up(derived: Derived, step: Step, rooms: Sequence[Room]) -> tuple[Drawing, ...]:
    """The first panel of the step in each of the rooms."""
    assert step.scene is not None
    parts = [part for part in derived.plan.parts if part.id in step.scene.new and part.glue_up is not None]
    return tuple(_in_room(derived, step, parts[0], room) for room in rooms) if parts else ()


def _in_room(derived: Derived, step: Step, part: Part, room: Room) -> Drawing:
    assert part.glue_up is not None
    glue_up = part.glue_up
    extra = glue_up.extra.mm * 2
    long, wide = part.size[0].mm + extra, glue_up.strips * glue_up.strip_width.mm
    around = 2 * (_EDGE + _OUT + _JAW)
    words = _WORD * len(_KEY)
    factor = min((room.width - 2 * _EDGE) / long, (room.height - around - words - _CAPTION) / wide, _LARGEST)
    panel = _Panel(_EDGE, _EDGE + _OUT + _JAW, long * factor, wide * factor, glue_up.strips)
    count = sum(use.count for use in step.clamps)
    sketch = Sketch()
    show_alone(sketch, part.id, (panel.left, panel.top, panel.left + panel.long, panel.top + panel.wide))
    _wood(sketch, panel)
    _clamps(sketch, panel, count)
    _triangle(sketch, panel)
    _numbers(sketch, panel, count)
    middle = panel.left + panel.long / 2
    bottom = panel.top + panel.wide + _JAW + _OUT + _words(sketch, panel, count)
    number = derived.cut_list.item_of(part.id).number
    center = (middle, bottom + BALLOON_RADIUS + 1.5)
    sketch.shape(NEW_BALLOON, Circle(center, BALLOON_RADIUS))
    place_centered(sketch, label(str(number), weight=600), center)
    done = cropped(sketch)
    title, alt = f"Step {step.number}: {step.title}", _alt(step, part, count)
    svg, panes = write(done.sketch, done.width, done.height, title, alt), tuple(done.sketch.panes)
    return Drawing(
        f"step-{step.number:02d}", "step", title, svg, alt, done.width, done.height, None, panes, step.number
    )


def _wood(sketch: Sketch, panel: _Panel) -> None:
    outline = rectangle(panel.left, panel.top, panel.left + panel.long, panel.top + panel.wide)
    sketch.fill(ACCENT_TINT, outline, name="wood")
    sketch.shape(NEW_OUTLINE, outline)
    for k in range(1, panel.strips):
        y = panel.top + k * panel.strip
        sketch.line(NEW_EDGE, (panel.left, y), (panel.left + panel.long, y))


def _clamps(sketch: Sketch, panel: _Panel, count: int) -> None:
    """Clamps across the strips, evenly spread: a bar with a jaw at each edge and a screw; every second one lies on top, the others show dashed through the wood."""
    in_turn = count >= _LEAST
    for k in range(count):
        x = panel.left + panel.long * (k + 0.5) / count
        above = in_turn and k % 2 == 1
        _clamp(sketch, panel, x, above=above)


def _words(sketch: Sketch, panel: _Panel, count: int) -> float:
    """Which clamps lie under the panel and which over it, at each where there is room, else once below. Gives the height taken."""
    if count < _LEAST:
        return 0.0
    pitch = panel.long / count
    y = panel.top + panel.wide + _JAW + _OUT + _WORD / 2
    if label(_UNDER).width + 1.0 <= pitch:
        for k in range(count):
            place_centered(sketch, label(_OVER if k % 2 else _UNDER), (panel.left + pitch * (k + 0.5), y))
        return _WORD
    for line, words in enumerate(_KEY):
        place_centered(sketch, label(words), (panel.left + panel.long / 2, y + line * _WORD * 0.8))
    return _WORD * (0.8 * (len(_KEY) - 1) + 1)


def _clamp(sketch: Sketch, panel: _Panel, x: float, *, above: bool) -> None:
    top, bottom = panel.top, panel.top + panel.wide
    low, high = x - _BAR / 2, x + _BAR / 2
    if above:
        _piece(sketch, low, top, high, bottom)
    else:
        for side in (low, high):
            sketch.line(HIDDEN, (side, top), (side, bottom))
    for edge, out in ((top, -1.0), (bottom, 1.0)):
        _piece(sketch, x - _JAW_WIDE / 2, edge, x + _JAW_WIDE / 2, edge + out * _JAW)
    _piece(sketch, x - _SCREW / 2, bottom + _JAW, x + _SCREW / 2, bottom + _OUT + 0.6)


def _piece(sketch: Sketch, left: float, top: float, right: float, bottom: float) -> None:
    outline = rectangle(left, top, right, bottom)
    sketch.fill(CLAMP_FILL, outline, name="clamp")
    sketch.shape(NARROW, outline)


def _triangle(sketch: Sketch, panel: _Panel) -> None:
    """The carpenter's triangle: a strip that is out of order or turned over shows at once."""
    left, right = panel.left + panel.long * 0.3, panel.left + panel.long * 0.7
    top, bottom = panel.top + panel.strip * 0.25, panel.top + panel.wide - panel.strip * 0.25
    corners: list[Pt] = [(left, bottom), ((left + right) / 2, top), (right, bottom), (left, bottom)]
    sketch.line(MEASURE, *corners)


def _numbers(sketch: Sketch, panel: _Panel, count: int) -> None:
    """A number on each strip, clear of the clamps: before the first of them, or between it and the second where that is too near."""
    pitch = panel.long / max(count, 1)
    x = panel.left + (3.2 if pitch / 2 - _BAR / 2 > 5.0 or count < _LEAST else pitch)
    for k in range(panel.strips):
        y = panel.top + (k + 0.5) * panel.strip
        text = label(str(k + 1), weight=600)
        if panel.strip > text.height + 1.2:
            place_centered(sketch, text, (x, y))


def _alt(step: Step, part: Part, count: int) -> str:
    assert part.glue_up is not None
    words = f"{step.title}, seen from above: {counted(part.glue_up.strips, 'strip')} side by side, numbered, with a triangle drawn across all of them."
    if count >= _LEAST:
        under = (count + 1) // 2
        return f"{words} {counted(under, 'clamp')} under the panel, dashed where it hides them, and {count - under} over it, in turn."
    return f"{words} {counted(count, 'clamp')} across them."
