"""How high a step stands in each form that its page may give it. The figures are those of ``templates/css/print.css``."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from markupsafe import Markup

from drawleaf.book.page.measure import POINT, TICK, line_count, text_height
from drawleaf.book.page.paging import Block, Broken, Form, Way
from drawleaf.book.page.paper import Paper
from drawleaf.book.words.wording import StepText
from drawleaf.model.catalogue import Caution
from drawleaf.model.drawings import Drawing
from drawleaf.model.plan import Note

ANOTHER_WAY = "Another way"
GAP = 5.0
"""Between two steps on a page."""
COLUMN_GAP = 6.0
"""Between the words and a drawing beside them."""
WIDEST_BESIDE = 86.0
NEEDS_WIDTH = 42.0
"""The column of what one needs, where no drawing stands above it."""
TITLE, CHECK = 13.0, 10.5
"""Sizes in points: a step's title, and its check."""
_TITLE_INDENT, _LIST_INDENT, TIME_GAP = 13.0, 6.0, 2.0
_TIME_TOP, _TIME_WIDTHS = 2.6, (32.0, 48.0, 66.0)
"""How far below the rule the note on time stands, and how wide it may be: a wait is told in fewer lines where the title is short."""
_STAGE_LINE = 5.7
_MEASURE, _ACTIONS = 136.0, 130.0
_NEED_RULE, _NEED_GAP, _SETTINGS = 1.8, 0.8, 3.6
"""The rule above what one needs with its air, the gap below each of its lines, and what the box round the settings takes."""
_SIGNAL, _PANEL, _PANEL_AIR, _BELOW_CAUTION = 31.0, 4.2, 2.6, 1.8
"""The room of the signal word at the head of a caution in full; what the panel's edges take of the width, and of the height; the air below."""
_BELOW_DRAWING, _BELOW_WORK, _BELOW_NEEDS = 3.0, 2.9, 3.8
_SPACED = 0.88
"""The share of a line that words set with wider spaces fill."""
_TIGHT_COST, _ASIDE_COST = 25.0, 1.0
_LEAST_ASIDE, _SHORT_ASIDE = 60.0, 26.0
"""Prose is not set in a narrower column (mm) than this, unless it takes no more height there: some six lines."""
_ABOVE_AFTER = 1.2
"""Above what follows the check, where it stands at the right."""
_CONTINUED = 9.0
_SMALL_COST, _MUCH_LARGER = 8.0, 1.5
"""What a picture beside its words costs where it would have so much more room above them: it is taken only to save a page."""
_LEAST_SHARE = 0.6
"""A crowded picture beside its words has at least this share of the area that it would have above them: smaller, its marks run together."""
FEWEST_TOGETHER = 2
"""So many actions at least stand on each side of a page's turn within a step."""
MOST_OVERLEAF = 0.75
"""What stands overleaf of a broken step takes no more of its page than this share."""
_LAST_MARGIN = 2.6
"""Below a step's last row, which does not count at the foot of a page."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """How close the words stand: the actions' line height and the gap between them, what a check takes besides its words; the size,
    line height and measure of what follows the check; size and line height of what one needs and of the cautions; whether the check stands
    with them; how many of the actions do, where the step is broken after these, and ``since`` how many on those of its second page."""

    leading: float
    gap: float
    check: float
    after: tuple[float, float, float]
    needs: tuple[float, float]
    cautions: tuple[float, float]
    checked: bool = True
    upto: int | None = None
    since: int = 0


TIGHT_NOT = Spacing(1.27, 0.8, 4.6, (9.5, 1.28, _MEASURE), (9.5, 1.25), (11.5, 1.22))
TIGHT_SETTING = Spacing(1.14, 0.5, 3.4, (9.5, 1.2, _MEASURE), (9.5, 1.2), (11.5, 1.14))

FILM = 25.0
"""How high the code of the film's moment stands, in mm."""


class Shown(Protocol):
    """What a step's page shows, as far as its height goes."""

    @property
    def text(self) -> StepText: ...
    @property
    def time(self) -> Markup: ...
    @property
    def time_mm(self) -> float:
        """Width of the time beside the title, in mm."""
        ...

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
    def margin(self) -> Sequence[Markup]: ...
    @property
    def film(self) -> object | None: ...
    @property
    def after(self) -> Sequence[tuple[str, Sequence[Markup]]]: ...
    @property
    def crowded(self) -> bool:
        """Whether the picture shows several parts that come together."""
        ...


def step_block(page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool) -> Block:
    """The step as a block to be placed. ``drawings`` are its high, low and narrow one.

    Each way is offered with its words set closer too, which may save a page.
    """
    last = _after(page, TIGHT_NOT) + _notes(page, paper)
    check = _check(page, paper.text_width, TIGHT_NOT) + _BELOW_WORK
    return Block(
        _forms(page, drawings, paper, opens_stage),
        GAP,
        _second_page(page, drawings[1], paper),
        _forms(page, drawings, paper, opens_stage, tail=False) if last else (),
        _CONTINUED + last,
        _forms(page, drawings, paper, opens_stage, tail=False, checked=False) if page.text.check else (),
        _CONTINUED + check + last,
        tuple(_broken(page, drawings, paper, opens_stage)),
    )


def _broken(page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool) -> Iterator[Broken]:
    """The places between its actions at which a step may break: its picture stands on both pages, and two actions or more with it."""
    picture = again_beside(drawings)
    if picture is None:
        return
    for upto in range(FEWEST_TOGETHER, len(page.text.actions) - FEWEST_TOGETHER + 1):
        forms = _forms(page, drawings, paper, opens_stage, tail=False, checked=False, upto=upto)
        for tight, setting in ((False, TIGHT_NOT), (True, TIGHT_SETTING)):
            rest = rest_height(page, picture, paper, replace(setting, since=upto))
            over = _CONTINUED + rest + _after(page, setting) + _notes(page, paper)
            if over < MOST_OVERLEAF * paper.text_height:
                yield Broken(tuple(form for form in forms if form.way.tight == tight), over, upto)


def again_beside(drawings: Sequence[Drawing | None]) -> Drawing | None:
    """The drawing that stands once more beside the rest of a step that is broken between its actions: its smallest."""
    fitting = [one for one in drawings if one is not None and one.width_mm <= WIDEST_BESIDE]
    return min(fitting, key=_area, default=None)


def rest_height(page: Shown, picture: Drawing, paper: Paper, setting: Spacing) -> float:
    """How high, in mm, the actions that the setting leaves stand with the check, the picture beside them."""
    width = paper.text_width - picture.width_mm - COLUMN_GAP
    return max(_words(page, width, setting), picture.height_mm + _BELOW_DRAWING) + _BELOW_WORK


def _forms(
    page: Shown,
    drawings: Sequence[Drawing | None],
    paper: Paper,
    opens_stage: bool,
    *,
    tail: bool = True,
    checked: bool = True,
    upto: int | None = None,
) -> tuple[Form, ...]:
    """The forms of a step in both settings, with or without its check and what follows that, or with its first actions alone."""
    usual, close = (replace(one, checked=checked, upto=upto) for one in (TIGHT_NOT, TIGHT_SETTING))
    forms = _set(page, drawings, paper, opens_stage, usual, tail)
    tight = _set(page, drawings, paper, opens_stage, close, tail)
    return (*forms, *(Form(replace(form.way, tight=True), form.height, form.cost + _TIGHT_COST) for form in tight))


def _second_page(page: Shown, low: Drawing | None, paper: Paper) -> float | None:
    """What a step that is parted has on its second page: the drawing again, the actions and all that follows."""
    if low is None:
        return None
    words = _work(page, None, Way(None), paper, TIGHT_NOT)
    return _CONTINUED + low.height_mm + 4.0 + words + _after(page, TIGHT_NOT) + _notes(page, paper)


def _set(
    page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool, setting: Spacing, tail: bool
) -> list[Form]:
    """The forms of a step in one setting of its words."""
    around = _head(page, paper) + (_STAGE_LINE if opens_stage else 0.0) + _cautions(page, paper, setting)
    around += _BELOW_WORK - (_LAST_MARGIN if setting.checked else setting.gap)
    around += _notes(page, paper) if tail else 0.0
    after = _after(page, setting) if tail else 0.0
    high, low, narrow = drawings
    if page.crowded and high is not None:
        narrow = narrow if narrow is not None and _area(narrow) > _LEAST_SHARE * _area(high) else None
    beside = low is not None and not (page.crowded and high is not None and _area(low) <= _LEAST_SHARE * _area(high))

    def with_after(way: Way, drawing: Drawing | None, cost: float) -> Iterator[Form]:
        """The form with what follows the check below all, and with it at the right, below what one needs."""
        yield Form(way, around + after + _work(page, drawing, way, paper, setting), cost)
        column = drawing.width_mm if drawing is not None and (way.beside or way.wraps) else NEEDS_WIDTH
        if after and (column >= _LEAST_ASIDE or _after(page, setting, column) <= _SHORT_ASIDE):
            aside = replace(way, after_aside=True)
            yield Form(aside, around + _work(page, drawing, aside, paper, setting), cost + _ASIDE_COST)

    forms = list(with_after(Way("high" if high else None), high, 0.0))
    if low is not None:
        forms += with_after(Way("low"), low, 12.0)
    if narrow is not None:
        small = _SMALL_COST if low is not None and _area(low) > _MUCH_LARGER * _area(narrow) else 0.0
        forms += with_after(Way("narrow", beside=True), narrow, 6.0 + small)
        forms += with_after(Way("narrow", beside=True, needs_first=True), narrow, 8.0 + small)
        forms += with_after(Way("narrow", wraps=True), narrow, 14.0 + small)
    if low is not None and beside and low.width_mm <= WIDEST_BESIDE:
        forms += with_after(Way("low", beside=True), low, 9.0)
        forms += with_after(Way("low", beside=True, needs_first=True), low, 11.0)
    return forms


def _area(drawing: Drawing) -> float:
    return drawing.width_mm * drawing.height_mm


def work_height(
    page: Shown, drawing: Drawing, way: Way, paper: Paper, *, checked: bool, upto: int | None = None
) -> float:
    """How high, in mm, a drawing stands with the words and what is at their right, in one of a step's ways."""
    setting = replace(TIGHT_SETTING if way.tight else TIGHT_NOT, checked=checked, upto=upto)
    return _work(page, drawing, way, paper, setting)


def _work(page: Shown, drawing: Drawing | None, way: Way, paper: Paper, setting: Spacing) -> float:
    """A drawing with the words and with what stands at their right."""
    if drawing is None or not (way.beside or way.wraps):
        above = drawing.height_mm + 4.0 if drawing else 0.0
        words = _words(page, paper.text_width - NEEDS_WIDTH - COLUMN_GAP, setting)
        return above + max(words, _aside(page, NEEDS_WIDTH, way, setting))
    right = drawing.height_mm + _BELOW_DRAWING + _aside(page, drawing.width_mm, way, setting)
    if way.wraps:
        return _wrapped(page, drawing, right, paper, setting)
    left = paper.text_width - drawing.width_mm - COLUMN_GAP
    first = _needs(page, left, setting) + _BELOW_NEEDS if way.needs_first else 0.0
    return max(first + _words(page, left, setting), right)


def _aside(page: Shown, width: float, way: Way, setting: Spacing) -> float:
    """The words in the column at the right of the others, so wide."""
    needs = 0.0 if way.needs_first else _needs(page, width, setting)
    return needs + (_after(page, setting, width) if way.after_aside else 0.0)


def _words(page: Shown, width: float, setting: Spacing) -> float:
    """Actions and check below each other."""
    return _actions(page, min(width, _ACTIONS), setting) + _check(page, width, setting)


def _wrapped(page: Shown, drawing: Drawing, end: float, paper: Paper, setting: Spacing) -> float:
    """The actions beside the drawing and what stands below it, which ends at ``end``, and then below them; the check below all."""
    narrow = paper.text_width - drawing.width_mm - COLUMN_GAP - _LIST_INDENT
    wide = max(_ACTIONS - _LIST_INDENT, narrow)
    line, high = 11.5 * POINT * setting.leading, 0.0
    for action in page.text.actions[: setting.upto]:
        short = max(0, math.ceil((end - high) / line))
        high += line_count(action, wide, 11.5, beside=(short, narrow)) * line + setting.gap
    return max(high, end + 1.0) + _check(page, paper.text_width, setting)


def _head(page: Shown, paper: Paper) -> float:
    return _head_height(page.text.title, page.time, page.time_mm, paper)


def _head_height(title: Markup | str, time: Markup, time_mm: float, paper: Paper) -> float:
    width = paper.text_width - _TITLE_INDENT - time_mm - TIME_GAP
    return 0.3 + max(1.6 + text_height(title, width, TITLE, 1.15, 700), time_height(time, time_mm)) + 2.0


def time_width(title: Markup | str, time: Markup, paper: Paper) -> float:
    """How wide, in mm, the note on time and wait is set beside a title, so that the two stand lowest."""
    return min(_TIME_WIDTHS, key=lambda width: _head_height(title, time, width, paper))


def time_height(time: Markup, width: float) -> float:
    """How far down the note on time and wait, so wide, reaches beside the title, in mm."""
    return _TIME_TOP + text_height(time, width, 9.5, 1.15) if time else 0.0


def _needs(page: Shown, width: float, setting: Spacing) -> float:
    if not page.needs and not page.margin and page.film is None:
        return 0.0
    size, leading = setting.needs
    widths = (width * (_SPACED if "need-parts" in line else 1.0) for line in page.needs)
    high = _NEED_RULE + (size * POINT * leading if page.needs else 0.0)
    high += sum(
        text_height(line, wide, size, leading) + _NEED_GAP for line, wide in zip(page.needs, widths, strict=True)
    )
    if page.settings:
        high += _SETTINGS + sum(text_height(line, width - 3.7, size, leading, 700) for line in page.settings)
    high += FILM if page.film is not None else 0.0
    return high + sum(text_height(line, width, size, leading) + _NEED_GAP for line in page.margin)


def _cautions(page: Shown, paper: Paper, setting: Spacing) -> float:
    width, (size, leading) = paper.text_width - _PANEL, setting.cautions
    high = 0.0
    for signal in dict.fromkeys(caution.signal for caution in page.full):
        panel = [caution for caution in page.full if caution.signal == signal]
        beside = [(1, width - _SIGNAL), *[(0, 0.0)] * (len(panel) - 1)]
        lines = sum(line_count(_in_full(one), width, size, beside=at) for one, at in zip(panel, beside, strict=True))
        high += _PANEL_AIR + lines * size * POINT * leading + len(panel) - 1 + _BELOW_CAUTION
    if page.short:
        high += text_height(reminders(page.short), paper.text_width, size, leading) + _BELOW_CAUTION
    return high


def _in_full(caution: Caution) -> str:
    avoid = " ".join(f"• {line}" for line in caution.avoid)
    return f"<b>{caution.hazard}</b> {caution.consequence} {avoid}"


def reminders(cautions: Iterable[Caution]) -> Markup:
    """The short forms as they stand one after another, with room for their signal words and page references."""
    return Markup(" ").join(Markup("{}: {} (page 00)").format(one.signal, one.short) for one in cautions)


def _actions(page: Shown, width: float, setting: Spacing) -> float:
    actions = page.text.actions[setting.since : setting.upto]
    heights = (text_height(action, width - _LIST_INDENT, 11.5, setting.leading) for action in actions)
    return sum(height + setting.gap for height in heights)


def _check(page: Shown, width: float, setting: Spacing) -> float:
    """The check in its box, so wide outside."""
    if not (page.text.check and setting.checked):
        return 0.0
    words = Markup("<b>Check.</b> {}").format(page.text.check)
    if page.text.if_not:
        words += Markup(" <b>If not:</b> {}").format(page.text.if_not)
    return _ticked_lines(words, width - 6.6) * CHECK * POINT * setting.leading + setting.check


def _ticked_lines(words: Markup, width: float) -> int:
    """Lines of a text that begins with a tick box."""
    return line_count(Markup('<span class="balloon"></span>') + words, width - TICK, CHECK)


def _after(page: Shown, setting: Spacing, width: float | None = None) -> float:
    """What follows the check, below all, or in a column so wide."""
    size, leading, measure = setting.after
    high, measure = (0.0, measure) if width is None else (_ABOVE_AFTER, width)
    for label, lines in page.after:
        words = Markup("<b>{}.</b> {}").format(label, Markup(" ").join(lines))
        high += text_height(words, measure, size, leading) + 1.0
    return high


def _notes(page: Shown, paper: Paper) -> float:
    high = 0.0
    for note in page.notes:
        paragraphs = [paragraph for paragraph in note.text.split("\n\n") if paragraph.strip()]
        high += sum(text_height(text, paper.main_width, 10.5, 1.38) + 2.0 for text in paragraphs) + 8.0
        if note.picture:
            high += 82.0
    return high
