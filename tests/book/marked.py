"""A booklet in the made-up language: each of our words between marks, so that what never went through the words room stands bare."""

from __future__ import annotations

import html
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

from markupsafe import Markup

from drawleaf.book.output.booklet import make_html
from drawleaf.book.words import wording
from drawleaf.book.words.phrases import Phrases
from drawleaf.language import MARKED, Words
from drawleaf.language.words import CLOSE, OPEN
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings

_KEYS = {
    "word",
    "value",
    "tool",
    "flag",
    "has",
    "uses",
    "number",
    "fmt",
    "plan",
    "derived",
    "step",
    "op",
    "words",
    "bit_fmt",
    "mode",
}
"""What a template asks to choose by, not to print."""
_UNITS = {
    "in",
    "mm",
    "ft",
    "lb",
    "kg",
    "sq",
    "fl",
    "oz",
    "ml",
    "m²",
    "x",
    "a",
    "an",
    "the",
    "and",
    "of",
    "to",
    "US",
    "N/m²",
    "lbf",
}


class MarkedPhrases(Phrases):
    """The phrases of the words room, each answer between marks: they know their grammar, and a translator writes them anew as a whole."""

    def __getattribute__(self, name: str) -> Any:
        found = super().__getattribute__(name)
        if name.startswith("_") or name in _KEYS:
            return found
        if callable(found):
            return lambda *given, **named: _marked(found(*given, **named))
        return _marked(found)


def _marked(found: Any) -> Any:
    if type(found) is Markup or (type(found) is str and " " in found):
        return type(found)(f"{OPEN}{found}{CLOSE}")
    if isinstance(found, list):
        return [_marked(one) for one in found]
    if isinstance(found, tuple) and type(found) is tuple:
        return tuple(_marked(one) for one in found)
    return found


def in_marks(folder: Path) -> str:
    """The tablet edition of a plan in the made-up language."""
    from drawleaf.compiler import Choice, read_and_resolve, work_out
    from drawleaf.draw.drawings import draw_all
    from drawleaf.resolve import resolver

    kept, resolver.heading.words = resolver.heading.words, lambda *_: Words(MARKED)  # type: ignore[assignment]
    try:
        outcome, plan = read_and_resolve(folder, Choice())
    finally:
        resolver.heading.words = kept
    assert plan is not None
    assert plan.words.tag == MARKED
    outcome, solids = work_out(outcome, plan)
    assert outcome.derived is not None
    assert solids is not None
    return page_in_marks(outcome.derived, draw_all(outcome.derived, solids, for_print=False))


def page_in_marks(derived: Derived, drawings: Drawings) -> str:
    """The page of a plan that is already worked out in the made-up language."""
    kept, wording.Phrases = wording.Phrases, MarkedPhrases  # type: ignore[misc]
    try:
        return make_html(replace(derived), drawings, for_print=False)
    finally:
        wording.Phrases = kept  # type: ignore[misc]


def escaped(page: str, own: str) -> Counter[str]:
    """Every visible string outside the marks, with how often; what the author's source holds, figures and units are left out."""
    page = re.sub(r"<(style|script)\b.*?</\1>", "", page, flags=re.DOTALL)
    spoken = re.findall(r'(?:alt|aria-label|title)="([^"]*)"', page)
    # Words that stand in one sentence are one string, whatever tags lie between them.
    lines = re.split(
        r"</?(?:p|li|h\d|td|th|text|title|figcaption|div|section|summary|button|dt|dd|tr|ul|ol|figure|desc|label|tspan)\b[^>]*>",
        page,
    )
    found: Counter[str] = Counter()
    for line in (*spoken, *lines):
        text = html.unescape(re.sub(r"<[^>]*>", "", line))
        for bare in _outside(text):
            words = [word for word in re.findall(r"[A-Za-z²/]{2,}", bare) if word not in _UNITS]
            if [word for word in words if word.lower() not in own]:
                found[" ".join(bare.split())] += 1
    return found


def _outside(text: str) -> list[str]:
    """The stretches of a text that lie outside all marks."""
    pieces, deep, start = [], 0, 0
    for place, sign in enumerate(text):
        if sign == OPEN:
            if not deep:
                pieces.append(text[start:place])
            deep += 1
        elif sign == CLOSE and deep:
            deep -= 1
            start = place + 1
    return [*pieces, "" if deep else text[start:]]


def authors_words(source: str) -> str:
    """The words of a plan's source, small, to tell them from ours; with what is made of a plan's keys."""
    return source.lower().replace("_", " ")
