"""How high each piece of a step stands: its head, cautions, actions, check, and what one needs. The figures are those of
``templates/css/print.css``."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from markupsafe import Markup

from drawleaf.book.page.measure import POINT, line_count, text_height
from drawleaf.book.page.paper import Paper
from drawleaf.book.words.wording import StepText
from drawleaf.draw.paper.lettering import text_width
from drawleaf.model.catalogue import Caution
from drawleaf.model.plan import Note

TITLE, CHECK = 13.0, 10.5
"""Sizes in points: a step's title, and its check."""
LIST_INDENT, TIME_GAP = 6.0, 2.0
ACTIONS = 130.0
"""How wide the actions are at most."""
_TITLE_INDENT = 13.0
_TIME_TOP, _TIME_WIDTHS = 2.6, (32.0, 48.0, 66.0)
"""How far below the rule the note on time stands, and how wide it may be: a wait is told in fewer lines where the title is short."""
_MEASURE = 136.0
_YOU_NEED = "You need"
_NEED_RULE, _NEED_GAP, _SETTINGS, _NEED_HEAD_GAP = 1.2, 0.8, 3.6, 1.6
"""The rule above what one needs with its air, the gap below each of its lines, what the box round the settings takes, and the room
between the head and the line that it begins."""
_BELOW_ACROSS, _APART = 2.0, "\u2003"
"""Below what one needs where it stands over the whole width; between two settings there."""
_SIGNAL, _PANEL, _PANEL_AIR, _BELOW_CAUTION = 31.0, 4.2, 2.6, 1.8
"""The room of the signal word at the head of a caution in full; what the panel's edges take of the width, and of the height; the air below."""
_SPACED = 0.88
"""The share of a line that words set with wider spaces fill."""
_ABOVE_AFTER = 1.2
"""Above what follows the check, where it stands at the right."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """How close the words stand: the actions' line height and the gap between them, what a check takes above its words; the size,
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


TIGHT_NOT = Spacing(1.23, 0.8, 2.2, (9.5, 1.28, _MEASURE), (9.5, 1.25), (11.5, 1.22))
TIGHT_SETTING = Spacing(1.14, 0.5, 1.7, (9.5, 1.2, _MEASURE), (9.5, 1.2), (11.5, 1.14))

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


def head_height(page: Shown, paper: Paper) -> float:
    """The title with its rule and the note on time, in mm."""
    return _titled(page.text.title, page.time, page.time_mm, paper)


def _titled(title: Markup | str, time: Markup, time_mm: float, paper: Paper) -> float:
    width = paper.text_width - _TITLE_INDENT - time_mm - TIME_GAP
    return 0.3 + max(1.6 + text_height(title, width, TITLE, 1.15, 700), time_height(time, time_mm)) + 2.0


def time_width(title: Markup | str, time: Markup, paper: Paper) -> float:
    """How wide, in mm, the note on time and wait is set beside a title, so that the two stand lowest."""
    return min(_TIME_WIDTHS, key=lambda width: _titled(title, time, width, paper))


def time_height(time: Markup, width: float) -> float:
    """How far down the note on time and wait, so wide, reaches beside the title, in mm."""
    return _TIME_TOP + text_height(time, width, 9.5, 1.15) if time else 0.0


def needs_height(page: Shown, width: float, setting: Spacing) -> float:
    """What one needs, in mm, in a column so wide (mm): its head begins the first line."""
    if not page.needs and not page.margin and page.film is None:
        return 0.0
    size, leading = setting.needs
    high, begun = _NEED_RULE, text_width(_YOU_NEED, size * POINT, 700) + _NEED_HEAD_GAP
    for line in page.needs:
        wide = width * (_SPACED if "need-parts" in line else 1.0)
        high += line_count(line, wide, size, beside=(1, wide - begun)) * size * POINT * leading + _NEED_GAP
        begun = 0.0
    if page.settings:
        high += _SETTINGS + sum(text_height(line, width - 3.7, size, leading, 700) for line in page.settings)
    high += FILM if page.film is not None else 0.0
    return high + sum(text_height(line, width, size, leading) + _NEED_GAP for line in page.margin)


def across_height(page: Shown, width: float, setting: Spacing) -> float:
    """The same over the whole width, in running lines: what one needs, the settings in their box, and where else to look. In mm."""
    if not page.needs and not page.margin and page.film is None:
        return 0.0
    size, leading = setting.needs
    said = Markup(" ").join((Markup("<b>{}</b>").format(_YOU_NEED), *page.needs))
    high = _BELOW_ACROSS
    high += text_height(said, width * _SPACED, size, leading) + _NEED_GAP if page.needs else 0.0
    if page.settings:
        high += _SETTINGS + text_height(Markup(_APART).join(page.settings), width - 3.7, size, leading, 700)
    high += FILM if page.film is not None else 0.0
    return high + (
        text_height(Markup(" ").join(page.margin), width * _SPACED, size, leading) + _NEED_GAP if page.margin else 0.0
    )


def cautions_height(page: Shown, paper: Paper, setting: Spacing) -> float:
    """The cautions in full and in short, in mm."""
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


def actions_height(page: Shown, width: float, setting: Spacing) -> float:
    """The actions that the setting asks for, in mm, in a column so wide (mm)."""
    actions = page.text.actions[setting.since : setting.upto]
    heights = (text_height(action, width - LIST_INDENT, 11.5, setting.leading) for action in actions)
    return sum(height + setting.gap for height in heights)


def check_height(page: Shown, width: float, setting: Spacing) -> float:
    """The check below its rule, in mm, in a column so wide (mm)."""
    if not (page.text.check and setting.checked):
        return 0.0
    words = Markup("<b>Check.</b> {}").format(page.text.check)
    if page.text.if_not:
        words += Markup(" <b>If not:</b> {}").format(page.text.if_not)
    return text_height(words, width - LIST_INDENT, CHECK, setting.leading) + setting.check


def after_height(page: Shown, setting: Spacing, width: float | None = None) -> float:
    """What follows the check, in mm, below all, or in a column so wide (mm)."""
    size, leading, measure = setting.after
    high, measure = (0.0, measure) if width is None else (_ABOVE_AFTER, width)
    for label, lines in page.after:
        words = Markup("<b>{}.</b> {}").format(label, Markup(" ").join(lines))
        high += text_height(words, measure, size, leading) + 1.0
    return high


def notes_height(page: Shown, paper: Paper) -> float:
    """The author's notes with their pictures, in mm."""
    high = 0.0
    for note in page.notes:
        paragraphs = [paragraph for paragraph in note.text.split("\n\n") if paragraph.strip()]
        high += sum(text_height(text, paper.main_width, 10.5, 1.38) + 2.0 for text in paragraphs) + 8.0
        if note.picture:
            high += 82.0
    return high
