"""How high a step stands in each form that its page may give it. The figures are those of ``templates/css/print.css``."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from drawleaf.book.page.measure import POINT, has_marks, line_count
from drawleaf.book.page.paging import Block, Broken, Form, Way
from drawleaf.book.page.paper import Paper
from drawleaf.book.page.step_pieces import (
    ACTIONS,
    LIST_INDENT,
    TIGHT_NOT,
    TIGHT_SETTING,
    Shown,
    Spacing,
    across_height,
    actions_height,
    after_height,
    cautions_height,
    check_height,
    head_height,
    needs_height,
    notes_height,
)
from drawleaf.model.drawings import Drawing

GAP = 5.0
"""Between two steps on a page."""
COLUMN_GAP = 6.0
"""Between the words and a drawing beside them."""
WIDEST_BESIDE = 86.0
NEEDS_WIDTH, NEEDS_WIDE = 42.0, 70.0
"""The column of what one needs, where no drawing stands above it; and where that is long and the words are short."""
_WIDE_COST, _ACROSS_COST = 2.0, 3.0
_STAGE_LINE = 5.7
_BELOW_DRAWING, _BELOW_WORK, _BELOW_NEEDS = 3.0, 2.9, 3.8
_TIGHT_COST, _ASIDE_COST = 25.0, 1.0
_LEAST_ASIDE, _SHORT_ASIDE = 60.0, 26.0
"""Prose is not set in a narrower column (mm) than this, unless it takes no more height there: some six lines."""
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


def step_block(page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool) -> Block:
    """The step as a block to be placed. ``drawings`` are its high, low and narrow one.

    Each way is offered with its words set closer too, which may save a page.
    """
    last = after_height(page, TIGHT_NOT) + notes_height(page, paper)
    check = check_height(page, paper.text_width, TIGHT_NOT) + _BELOW_WORK
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
            over = _CONTINUED + rest + after_height(page, setting) + notes_height(page, paper)
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
    return _CONTINUED + low.height_mm + 4.0 + words + after_height(page, TIGHT_NOT) + notes_height(page, paper)


def _set(
    page: Shown, drawings: Sequence[Drawing | None], paper: Paper, opens_stage: bool, setting: Spacing, tail: bool
) -> list[Form]:
    """The forms of a step in one setting of its words."""
    around = head_height(page, paper) + (_STAGE_LINE if opens_stage else 0.0) + cautions_height(page, paper, setting)
    around += _BELOW_WORK - (_LAST_MARGIN if setting.checked else setting.gap)
    around += notes_height(page, paper) if tail else 0.0
    after = after_height(page, setting) if tail else 0.0
    high, low, narrow = drawings
    if page.crowded and high is not None:
        narrow = narrow if narrow is not None and _area(narrow) > _LEAST_SHARE * _area(high) else None
    beside = low is not None and not (page.crowded and high is not None and _area(low) <= _LEAST_SHARE * _area(high))

    def with_after(way: Way, drawing: Drawing | None, cost: float) -> Iterator[Form]:
        """The form with what follows the check below all, and with it at the right, below what one needs."""
        above = around + (across_height(page, paper.text_width, setting) if way.needs_across else 0.0)
        yield Form(way, above + after + _work(page, drawing, way, paper, setting), cost)
        column = drawing.width_mm if drawing is not None and (way.beside or way.wraps) else needs_width(way)
        if way.needs_across and not (way.beside or way.wraps):
            return
        if after and (column >= _LEAST_ASIDE or after_height(page, setting, column) <= _SHORT_ASIDE):
            aside = replace(way, after_aside=True)
            yield Form(aside, above + _work(page, drawing, aside, paper, setting), cost + _ASIDE_COST)

    forms: list[Form] = []
    for wide, more in ((False, 0.0), (True, _WIDE_COST)):
        forms += with_after(Way("high" if high else None, wide_needs=wide), high, more)
        if low is not None:
            forms += with_after(Way("low", wide_needs=wide), low, 12.0 + more)
    if high is not None and high.width_mm <= WIDEST_BESIDE:
        forms += with_after(Way("high", beside=True), high, 4.0)
        forms += with_after(Way("high", beside=True, needs_first=True), high, 6.0)
    if narrow is not None:
        small = _SMALL_COST if low is not None and _area(low) > _MUCH_LARGER * _area(narrow) else 0.0
        forms += with_after(Way("narrow", beside=True), narrow, 6.0 + small)
        forms += with_after(Way("narrow", beside=True, needs_first=True), narrow, 8.0 + small)
        if not any(has_marks(action) for action in page.text.actions):
            forms += with_after(Way("narrow", wraps=True), narrow, 14.0 + small)
    if low is not None and beside and low.width_mm <= WIDEST_BESIDE:
        forms += with_after(Way("low", beside=True), low, 9.0)
        forms += with_after(Way("low", beside=True, needs_first=True), low, 11.0)
    if page.needs or page.margin:
        chosen = {"high": high, "low": low, "narrow": narrow, None: None}
        plain = [one for one in forms if not (one.way.wide_needs or one.way.needs_first or one.way.after_aside)]
        for one in plain:
            way = replace(one.way, needs_across=True)
            forms += with_after(way, chosen[way.drawing], one.cost + _ACROSS_COST)
    return forms


def needs_width(way: Way) -> float:
    """How wide, in mm, the column of what one needs is where no drawing stands above it."""
    return NEEDS_WIDE if way.wide_needs else NEEDS_WIDTH


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
        if way.needs_across:
            return above + _words(page, paper.text_width, setting)
        column = needs_width(way)
        words = _words(page, paper.text_width - column - COLUMN_GAP, setting)
        return above + max(words, _aside(page, column, way, setting))
    right = drawing.height_mm + _BELOW_DRAWING + _aside(page, drawing.width_mm, way, setting)
    if way.wraps:
        return _wrapped(page, drawing, right, paper, setting)
    left = paper.text_width - drawing.width_mm - COLUMN_GAP
    first = needs_height(page, left, setting) + _BELOW_NEEDS if way.needs_first else 0.0
    return max(first + _words(page, left, setting), right)


def _aside(page: Shown, width: float, way: Way, setting: Spacing) -> float:
    """The words in the column at the right of the others, so wide."""
    needs = 0.0 if way.needs_first or way.needs_across else needs_height(page, width, setting)
    return needs + (after_height(page, setting, width) if way.after_aside else 0.0)


def _words(page: Shown, width: float, setting: Spacing) -> float:
    """Actions and check below each other."""
    return actions_height(page, min(width, ACTIONS), setting) + check_height(page, width, setting)


def _wrapped(page: Shown, drawing: Drawing, end: float, paper: Paper, setting: Spacing) -> float:
    """The actions beside the drawing and what stands below it, which ends at ``end``, and then below them; the check below all."""
    narrow = paper.text_width - drawing.width_mm - COLUMN_GAP - LIST_INDENT
    wide = max(ACTIONS - LIST_INDENT, narrow)
    line, high = 11.5 * POINT * setting.leading, 0.0
    for action in page.text.actions[: setting.upto]:
        short = max(0, math.ceil((end - high) / line))
        high += line_count(action, wide, 11.5, beside=(short, narrow)) * line + setting.gap
    return max(high, end + 1.0) + check_height(page, paper.text_width, setting)
