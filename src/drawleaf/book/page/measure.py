"""How high words stand on paper, by the text face's own widths, so that pages can be planned before they are set.

The renderer breaks the lines in the end; the estimate here errs a little towards more lines.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from html.parser import HTMLParser

from drawleaf.draw.paper.lettering import text_width
from drawleaf.units import MM_PER_INCH

POINT = float(MM_PER_INCH) / 72
"""A point in mm."""
BALLOON = 5.2
"""Width of a balloon in running text, in mm."""
_FRACTION_DIGIT, _FRACTION_BAR, _FRACTION_SIZE = 0.37, 0.09, 1.3
"""Widths in em of the face's ``frac`` figures, and how much larger the style sheet sets them."""
_PAGE_NUMBER = "00"
"""Stands for the number of a page that is yet to be set."""
_BLOCKS = frozenset(("p", "ul", "ol", "table", "blockquote", "h3", "h4"))


@dataclass(slots=True)
class _Style:
    """How the words at a place are set."""

    weight: int
    size: float
    fraction: bool = False
    whole: bool = False
    since: int | None = None
    """The word with which something begins that is broken only where no line holds it."""


class _Words(HTMLParser):
    """Splits inline HTML into unbreakable words with their widths in em."""

    def __init__(self, weight: int, width: float = math.inf) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[float] = [0.0]
        self.gaps: list[float] = []
        self._styles = [_Style(weight, 1.0)]
        self._width = width

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        now = self._styles[-1]
        classes = (dict(attrs).get("class") or "").split()
        if tag in ("br", "img", "input", "col"):
            if tag == "br":
                self._break(math.inf)
            return
        style = _Style(now.weight, now.size, now.fraction, now.whole)
        if tag in ("strong", "b", "th") or "qty" in classes:
            style.weight = 700
        if "second" in classes:
            style.size *= 0.92
        if "frac" in classes:
            style.fraction = style.whole = True
        if {"len", "whole", "money", "ref"} & set(classes):
            style.whole = True
        if "long" in classes:
            style.since = len(self.words) - 1
        if "page" in classes:  # its number is set when the pages are
            self.words[-1] += text_width(_PAGE_NUMBER, style.size, style.weight)
        self._styles.append(style)

    def handle_endtag(self, tag: str) -> None:
        if tag in ("br", "img", "input", "col") or len(self._styles) == 1:
            return
        since = self._styles.pop().since
        if since is not None:
            self._keep_together(since)
        if tag in ("li", "p"):
            self._break(0.2)

    def handle_data(self, data: str) -> None:
        style = self._styles[-1]
        pieces = [data] if style.whole else data.replace("\n", " ").split(" ")
        for place, piece in enumerate(pieces):
            if place:
                self._break(text_width(" ", style.size, style.weight))
            self.words[-1] += _fraction_width(piece) if style.fraction else text_width(piece, style.size, style.weight)

    def box(self, width: float) -> None:
        """Something that stands in the line like a word."""
        self.words[-1] += width

    def _keep_together(self, since: int) -> None:
        """Makes one word of those that came since then, where a line holds them."""
        width = sum(self.words[since:]) + sum(self.gaps[since:])
        if width <= self._width:
            self.words[since:], self.gaps[since:] = [width], []

    def _break(self, gap: float) -> None:
        if self.words[-1] or math.isinf(gap):
            self.words.append(0.0)
            self.gaps.append(gap)


def _fraction_width(text: str) -> float:
    digits = sum(character.isdigit() for character in text)
    return _FRACTION_SIZE * (digits * _FRACTION_DIGIT + _FRACTION_BAR)


_MARKS = '<table class="marks">'
_MARKS_SIZE, _MARKS_LEADING, _MARKS_ROW, _MARKS_ROOM = 10.5, 1.2, 1.1, 1.0
"""A table of marks within an action: its letters in points, and what stands between its rows and about it, in mm."""
_LEAST_LEADING = 1.14
"""The line height of actions where a step is set tight, in font sizes."""
_MARKS_PLACE, _MARKS_GAP = 0.4, 3.0
"""The share of the width that the places have, and the gap after them in mm."""


def has_marks(html: str) -> bool:
    """Whether an action ends in a table of marks, which cannot run round a drawing as words do."""
    return _MARKS in html


def _marks_height(table: str, width: float) -> float:
    """The height in mm of the rows of a table of marks."""
    high = _MARKS_ROOM
    for row in table.split("</tr>")[:-1]:
        place, _, measures = row.partition("</th>")
        lines = max(
            line_count(place, width * _MARKS_PLACE - _MARKS_GAP, _MARKS_SIZE),
            line_count(measures, width * (1.0 - _MARKS_PLACE), _MARKS_SIZE),
        )
        high += lines * _MARKS_SIZE * POINT * _MARKS_LEADING + _MARKS_ROW
    return high


@lru_cache(maxsize=20_000)
def line_count(html: str, width: float, size: float, weight: int = 400, beside: tuple[int, float] = (0, 0.0)) -> int:
    """Lines that inline HTML takes at a width in mm and a font size in points; the first so many of them at another width where they
    stand ``beside`` something."""
    em = size * POINT
    head, found, table = str(html).partition(_MARKS)
    if found:
        lines = line_count(head, width, size, weight, beside)
        room = beside[1] if lines < beside[0] else width
        return lines + math.ceil(_marks_height(table, room) / (em * _LEAST_LEADING))
    words = _Words(weight, width / em)
    pieces = str(html).split('<span class="balloon')
    words.feed(pieces[0])
    for piece in pieces[1:]:
        words.box(BALLOON / em)
        words.feed(piece.partition("</span>")[2])
    short, narrow = beside
    return _filled(words.words, words.gaps, width / em, short, narrow / em)


def _filled(words: list[float], gaps: list[float], width: float, short: int, narrow: float) -> int:
    lines, used = 1, 0.0
    for place, word in enumerate(words):
        gap = gaps[place - 1] if place else 0.0
        if not used and lines <= short and narrow < word <= width:
            lines += 1  # what does not fit beside something stands below it
        if used and used + gap + word > (narrow if lines <= short else width):
            lines, used = lines + 1, word
        else:
            used += gap + word if used else word
    return lines


def text_height(html: str, width: float, size: float, leading: float, weight: int = 400) -> float:
    """Height in mm of one paragraph of inline HTML; ``leading`` is the line height in font sizes."""
    return line_count(html, width, size, weight) * size * POINT * leading
