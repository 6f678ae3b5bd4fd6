"""How high a step stands in each form that its page may give it. The figures are those of ``templates/css/print.css``."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from markupsafe import Markup

from drawleaf.book.page.measure import POINT, TICK, line_count, text_height
from drawleaf.book.page.paging import Block, Form, Way
from drawleaf.book.page.paper import Paper
from drawleaf.book.words.wording import StepText
from drawleaf.model.catalogue import Caution
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Note

ANOTHER_WAY = "Another way"
GAP = 9.0
"""Between two steps on a page."""
COLUMN_GAP = 6.0
"""Between the words and a drawing beside them."""
WIDEST_BESIDE = 86.0
NEEDS_WIDTH = 42.0
"""The column of what one needs, where no drawing stands above it."""
_TITLE_INDENT, _LIST_INDENT, _TIME_ROOM = 15.0, 6.0, 34.0
_TIME_TOP, _TIME_WIDTH = 2.6, 32.0
_STAGE_LINE = 7.2
_MEASURE, _ACTIONS = 136.0, 130.0
_NEED_RULE, _NEED_GAP, _SETTINGS = 1.8, 0.8, 3.6
"""The rule above what one needs with its air, the gap below each of its lines, and what the box round the settings takes."""
_BELOW_DRAWING, _BELOW_WORK = 3.0, 2.9
_SPACED = 0.88
"""The share of a line that words set with wider spaces fill."""
_SMALL = 9.5
"""The size in points of what one needs and of what follows the check."""
_TIGHT_COST = 25.0
_CONTINUED = 9.0
_LAST_MARGIN = 2.6
"""Below a step's last row, which does not count at the foot of a page."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """How close the words stand: the actions' line height and the gap between them, what a check takes besides its words; the line
    height of what follows the check, and whether it names ways that were printed before; the line height of what one needs; size and
    line height of the cautions."""

    leading: float
    gap: float
    check: float
    repeats: bool
    after: float
    needs: float
    cautions: tuple[float, float]


TIGHT_NOT = Spacing(1.3, 1.0, 5.0, True, 1.28, 1.25, (10.0, 1.32))
TIGHT_SETTING = Spacing(1.2, 0.5, 3.4, False, 1.2, 1.2, (9.5, 1.2))


class Shown(Protocol):
    """What a step's page shows, as far as its height goes."""

    @property
    def text(self) -> StepText: ...
    @property
    def time(self) -> Markup: ...
    @property
    def needs(self) -> Sequence[Markup]: ...
    @property
    def settings(self) -> Sequence[Markup]: ...
    @property
    def full(self) -> Sequence[Caution]: ...
    @property
    def short(self) -> Sequence[Caution]: ...
    @property
    def notes(self) -> Sequence[Note]: ...
    @property
    def same_ways_as(self) -> object: ...
    @property
    def after(self) -> Sequence[tuple[str, Sequence[Markup]]]: ...


def step_block(page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool) -> Block:
    """The step as a block to be placed. ``drawings`` are its high, low and narrow one.

    Each way is offered with its words set closer too, which may save a page.
    """
    second = _second_page(page, drawings[1], paper)
    tail = _after(page, TIGHT_NOT) + _notes(page, paper)
    whole = _forms(page, drawings, paper, opens_stage)
    if not tail:
        return Block(whole, GAP, second)
    return Block(whole, GAP, second, _forms(page, drawings, paper, opens_stage, tail=False), _CONTINUED + tail)


def _forms(
    page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool, *, tail: bool = True
) -> tuple[Form, ...]:
    """The forms of a step in both settings, with or without what follows the check."""
    forms = _set(page, drawings, paper, opens_stage, TIGHT_NOT, tail)
    tight = _set(page, drawings, paper, opens_stage, TIGHT_SETTING, tail)
    return (*forms, *(Form(replace(form.way, tight=True), form.height, form.cost + _TIGHT_COST) for form in tight))


def _second_page(page: Shown, low: Drawing | None, paper: Paper) -> float | None:
    """What a step that is parted has on its second page: the drawing again, the actions and all that follows."""
    if low is None:
        return None
    words = _below(page, paper, TIGHT_NOT)
    return _CONTINUED + low.height_mm + 4.0 + words + _after(page, TIGHT_NOT) + _notes(page, paper)


def _set(
    page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool, setting: Spacing, tail: bool
) -> list[Form]:
    """The forms of a step in one setting of its words."""
    around = _head(page, paper) + (_STAGE_LINE if opens_stage else 0.0) + _cautions(page, paper, setting)
    around += _BELOW_WORK - _LAST_MARGIN
    around += _after(page, setting) + _notes(page, paper) if tail else 0.0
    below = around + _below(page, paper, setting)
    high, low, narrow = drawings
    if high is None:
        return [Form(Way(None), below, 0.0)]
    forms = [Form(Way("high"), below + high.height_mm + 4.0, 0.0)]
    if low is not None:
        forms.append(Form(Way("low"), below + low.height_mm + 4.0, 12.0))
    if narrow is not None:
        forms.append(_beside(Way("narrow", beside=True), page, narrow, paper, around, 6.0, setting))
        forms.append(Form(Way("narrow", wraps=True), around + _wrapped(page, narrow, paper, setting), 14.0))
    if low is not None and low.width_mm <= WIDEST_BESIDE:
        forms.append(_beside(Way("low", beside=True), page, low, paper, around, 9.0, setting))
    return forms


def _below(page: Shown, paper: Paper, setting: Spacing) -> float:
    """The words below a drawing as wide as the page, what one needs in a column at their right."""
    return max(_words(page, paper.text_width - NEEDS_WIDTH - COLUMN_GAP, setting), _needs(page, NEEDS_WIDTH, setting))


def _words(page: Shown, width: float, setting: Spacing) -> float:
    """Actions and check below each other."""
    return _actions(page, min(width, _ACTIONS), setting) + _check(page, width, setting)


def _beside(
    way: Way, page: Shown, drawing: Drawing, paper: Paper, around: float, cost: float, setting: Spacing
) -> Form:
    """Words on the left, actions and check; the drawing on the right, and below it what one needs."""
    words = _words(page, paper.text_width - drawing.width_mm - COLUMN_GAP, setting)
    return Form(way, around + max(words, _aside(page, drawing, setting)), cost)


def _aside(page: Shown, drawing: Drawing, setting: Spacing) -> float:
    """A drawing beside the words, and what one needs below it."""
    return drawing.height_mm + _BELOW_DRAWING + _needs(page, drawing.width_mm, setting)


def _wrapped(page: Shown, drawing: Drawing, paper: Paper, setting: Spacing) -> float:
    """The actions beside the drawing and what one needs, and then below them; the check below all."""
    narrow = paper.text_width - drawing.width_mm - COLUMN_GAP - _LIST_INDENT
    wide = max(_ACTIONS - _LIST_INDENT, narrow)
    line, end, high = 11.5 * POINT * setting.leading, _aside(page, drawing, setting), 0.0
    for action in page.text.actions:
        short = max(0, math.ceil((end - high) / line))
        high += line_count(action, wide, 11.5, beside=(short, narrow)) * line + setting.gap
    return max(high, end + 1.0) + _check(page, paper.text_width, setting)


def _head(page: Shown, paper: Paper) -> float:
    width = paper.text_width - _TITLE_INDENT - _TIME_ROOM
    return 0.3 + max(1.6 + text_height(page.text.title, width, 16, 1.15, 700), time_height(page.time)) + 2.6


def time_height(time: Markup) -> float:
    """How far down the note on time and wait reaches, beside the title, in mm."""
    return _TIME_TOP + text_height(time, _TIME_WIDTH, 9.5, 1.15) if time else 0.0


def _needs(page: Shown, width: float, setting: Spacing) -> float:
    if not page.needs:
        return 0.0
    size, leading = _SMALL, setting.needs
    widths = (width * (_SPACED if "need-parts" in line else 1.0) for line in page.needs)
    high = _NEED_RULE + size * POINT * leading
    high += sum(
        text_height(line, wide, size, leading) + _NEED_GAP for line, wide in zip(page.needs, widths, strict=True)
    )
    if page.settings:
        high += _SETTINGS + sum(text_height(line, width - 3.7, size, leading, 700) for line in page.settings)
    return high


def _cautions(page: Shown, paper: Paper, setting: Spacing) -> float:
    width = paper.main_width - 3.5
    high = 0.0
    for signal in dict.fromkeys(caution.signal for caution in page.full):
        panel = [caution for caution in page.full if caution.signal == signal]
        words = sum(text_height(_in_full(one), width, *setting.cautions) for one in panel) + len(panel) - 1
        high += max(8.0, 0.5 + 2.6 + words) + 3.0
    if page.short:
        high += text_height(reminders(page.short), paper.text_width, *setting.cautions) + 3.0
    return high


def _in_full(caution: Caution) -> str:
    avoid = " ".join(f"• {line}" for line in caution.avoid)
    return f"<b>{caution.hazard}</b> {caution.consequence} {avoid}"


def reminders(cautions: Iterable[Caution]) -> Markup:
    """The short forms as they stand one after another, with room for their signal words and page references."""
    return Markup(" ").join(Markup("{}: {} (page 00)").format(one.signal, one.short) for one in cautions)


def _actions(page: Shown, width: float, setting: Spacing) -> float:
    heights = (text_height(action, width - _LIST_INDENT, 11.5, setting.leading) for action in page.text.actions)
    return sum(height + setting.gap for height in heights)


def _check(page: Shown, width: float, setting: Spacing) -> float:
    """The check in its box, so wide outside."""
    if not page.text.check:
        return 0.0
    inner = width - 6.6
    words = Markup("<b>Check.</b> {}").format(page.text.check)
    high = _ticked_lines(words, inner) * 11.5 * POINT * setting.leading
    if page.text.if_not:
        high += 0.6 + text_height(Markup("<b>If not:</b> {}").format(page.text.if_not), inner, 10.5, setting.leading)
    return high + setting.check


def _ticked_lines(words: Markup, width: float) -> int:
    """Lines of a text that begins with a tick box."""
    return line_count(Markup('<span class="balloon"></span>') + words, width - TICK, 11.5)


def _after(page: Shown, setting: Spacing) -> float:
    high = 0.0
    for label, lines in page.after:
        if page.same_ways_as and label == ANOTHER_WAY and not setting.repeats:
            continue
        words = Markup("<b>{}.</b> {}").format(label, Markup(" ").join(lines))
        high += text_height(words, _MEASURE, _SMALL, setting.after) + 1.0
    return high


def _notes(page: Shown, paper: Paper) -> float:
    high = 0.0
    for note in page.notes:
        paragraphs = [paragraph for paragraph in note.text.split("\n\n") if paragraph.strip()]
        high += sum(text_height(text, paper.main_width, 10.5, 1.38) + 2.0 for text in paragraphs) + 8.0
        if note.picture:
            high += 82.0
    return high
