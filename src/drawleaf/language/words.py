"""Our own words in the language of a booklet.

What is put into a language is always a text of ours as it is written in the code, a template or ``shared/``; names and figures are filled in
afterwards. So no word of an author's is ever changed, even where it is one that the other English has not.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeVar

from markupsafe import Markup

from drawleaf.english import with_articles
from drawleaf.language.measures import in_units
from drawleaf.language.pairs import british
from drawleaf.language.tags import BASE, MARKED
from drawleaf.language.texts import between_tags
from drawleaf.units import Units

Text = TypeVar("Text", str, Markup)
OPEN, CLOSE = "\u27e6", "\u27e7"
"""The marks of the made-up language."""


@dataclass(frozen=True, slots=True)
class Words:
    """The words of one language, by its tag, and the system of the measures in them."""

    tag: str = BASE
    units: Units = Units.BOTH

    def put(self, text: Text) -> Text:
        """A text of ours in this language. In safe HTML, what is inside tags stays as it is."""
        if self.as_written or not text:
            return text
        if isinstance(text, Markup):
            return Markup(between_tags(str(text), self._one))
        return self._one(text)

    def tell(self, pattern: Text, *values: Any, **named: Any) -> Text:
        """A sentence of ours in this language, then with its names and figures in it: ``tell("Cut the rabbet in {}", name)``."""
        return with_articles(self.put(pattern), values).format(*values, **named)

    @property
    def as_written(self) -> bool:
        """Whether these are the very words that the code, the templates and ``shared/`` have."""
        return self.tag == BASE and self.units is Units.BOTH

    def _one(self, text: str) -> str:
        text = in_units(text, self.units)
        if self.tag == BASE:
            return text
        return _marked(text) if self.tag == MARKED else british(text)


@lru_cache(maxsize=4096)
def _marked(text: str) -> str:
    bare = text.strip()
    if not any(sign.isalpha() for sign in bare):
        return text
    start = len(text) - len(text.lstrip())
    return f"{text[:start]}{OPEN}{bare}{CLOSE}{text[start + len(bare) :]}"
