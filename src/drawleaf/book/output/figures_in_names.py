"""Sizes that stand in names (``#8 x 1-1/4 in wood screw``) set as all other sizes are: true fractions, and the times sign."""

from __future__ import annotations

import re

from drawleaf.book.words.format import THIN_SPACE
from drawleaf.units import Mixed
from drawleaf.units.in_names import sizes_in

_APART = re.compile(r"(<(style|script|svg|title|textarea)\b.*?</\2>|<[^>]*>)", re.DOTALL)
"""What is no running text: tags, and what stands in these elements."""
_SET = '<span class="frac'


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
    return "".join(one if isinstance(one, str) else _figure(one) for one in sizes_in(text))


def _figure(size: Mixed) -> str:
    figure = f'<span class="frac">{size.numerator}/{size.denominator}</span>'
    return f'<span class="len">{size.whole}{THIN_SPACE}{figure}</span>' if size.whole else figure
