"""Workshop checks in the booklet's words: their sentences with lengths set as everywhere else."""

from __future__ import annotations

from markupsafe import Markup, escape

from drawleaf.book.words.format import Formatter
from drawleaf.checks.plain import shown
from drawleaf.model.checks import Sentence, Value
from drawleaf.units import Length


def value_words(value: Value, formatter: Formatter) -> Markup:
    """A figure of a check."""
    if isinstance(value, Length):
        return formatter.length(value)
    if isinstance(value, (int, str)):
        return escape(value)
    return Markup('<span class="len">{}</span>').format(shown(value, formatter))


def sentence_words(sentence: Sentence, formatter: Formatter) -> Markup:
    """A sentence with its figures, in the booklet's language, safe for HTML."""
    values = {name: value_words(value, formatter) for name, value in sentence.values}
    return formatter.words.tell(Markup(sentence.template), **values) if sentence else Markup("")
