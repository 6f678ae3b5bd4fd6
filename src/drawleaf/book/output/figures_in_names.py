"""Sizes that stand in names (``#8 x 1-1/4 in wood screw``) set as all other sizes are: true fractions, and the times sign."""

from __future__ import annotations

import re

from drawleaf.book.words.format import THIN_SPACE, TIMES

_APART = re.compile(r"(<(style|script|svg|title|textarea)\b.*?</\2>|<[^>]*>)", re.DOTALL)
"""What is no running text: tags, and what stands in these elements."""
_FRACTION = re.compile(r"(?<![\w/.,-])(?:(\d+)-)?(\d{1,2})/(2|4|8|16|32|64)(?![\w/]|-\d)")
_SET = '<span class="frac'
_TIMES = re.compile(r"(\d|\bin|\bmm|\bft|\bgauge) x (?=\d)")


def with_figures_set(html: str) -> str:
    """The page with the fractions and the ``x`` of its running text as the rest of it has them. Tags, drawings and scripts stay."""
    pieces = _APART.split(html)
    texts = list[str]()
    # Between two texts stand a piece that is none and the name of its element.
    for place in range(0, len(pieces), 3):
        tag = pieces[place - 2] if place else ""
        texts += (tag, pieces[place] if tag.startswith(_SET) else _set(pieces[place]))
    return "".join(texts)


def _set(text: str) -> str:
    if "/" not in text and " x " not in text:
        return text
    return _FRACTION.sub(_fraction, _TIMES.sub(rf"\1 {TIMES} ", text))


def _fraction(found: re.Match[str]) -> str:
    whole, numerator, denominator = found.groups()
    if int(numerator) % 2 == 0 or int(numerator) >= int(denominator):
        return found.group()
    figure = f'<span class="frac">{numerator}/{denominator}</span>'
    return f'<span class="len">{whole}{THIN_SPACE}{figure}</span>' if whole else figure
