"""Sizes that stand in names, such as ``#8 x 1-1/4 in wood screw``."""

from __future__ import annotations

import re

from drawleaf.units.formats import Mixed

TIMES = "×"
_FRACTION = re.compile(r"(?<![\w/.,-])(?:(\d+)-)?(\d{1,2})/(2|4|8|16|32|64)(?![\w/]|-\d)")
_TIMES = re.compile(r"(\d|\bin|\bmm|\bft|\bgauge) x (?=\d)")

_SECTION = re.compile(r"(?<![\w/.,#-])(\d{2,3})x(\d{2,3})(?![\w/.]|-\d)")
"""A board's thickness and width, ``27x120``. One figure first is the trade's own name for a board that measures less: a ``1x4``."""


def sizes_in(words: str) -> tuple[str | Mixed, ...]:
    """The words with the times sign for an ``x``, cut at each fraction of an inch, which is a figure of its own. One piece where there is none."""
    if "/" not in words and "x" not in words:
        return (words,)
    words = _SECTION.sub(f"\\1\u00a0{TIMES}\u00a0\\2", _TIMES.sub(rf"\1 {TIMES} ", words))
    pieces: list[str | Mixed] = []
    end = 0
    for found in _FRACTION.finditer(words):
        whole, numerator, denominator = (int(figure or 0) for figure in found.groups())
        if numerator % 2 and numerator < denominator:
            pieces += (words[end : found.start()], Mixed(False, whole, numerator, denominator))
            end = found.end()
    return tuple(one for one in (*pieces, words[end:]) if one != "")
