"""The same printed page with fewer elements: each costs WeasyPrint some two thousandths of a second, in its style, its boxes and its tags.

What only keeps words on one line is said by characters that do not break, and what has no style on paper is left out. The words, their order
and their look stay as they are. A booklet with an author's own templates is left alone: their style sheet may ask for any of these elements.
"""

from __future__ import annotations

import re

NO_BREAK_SPACE, THIN_SPACE, JOINER = "\u00a0", "\u2009", "\u2060"
_FIGURE = r'(?:[^<]|<span class="(?:frac|frac slot|slot)">[^<]*</span>)*'
_LENGTH = re.compile(rf'<span class="(?:len|money)">({_FIGURE})</span>')
_BALLOON = r'<span class="balloon[^"]*">\d+</span>'
_NAMED = re.compile(
    rf'(?:<(b|strong)>([^<]*)</\1>)?<span class="whole"><(b|strong)>([^<]*)</\3> ({_BALLOON}(?:\u00a0{_BALLOON})*)([^\s<]*)</span>'
)
_STEPS = re.compile(r'<span class="whole">((?:<a href="[^"]*">\d+</a>(?:, |–|,)?)+)</span>')
_PLAIN = re.compile(rf'<span class="(?:need-part|step-title)">((?:[^<]|{_BALLOON})*)</span>')
_SHORT = re.compile(r'<span class="(balloon(?: new)?)">(?=\d\d?</span>)')
_BETWEEN_TAGS = re.compile(r">([^<]*)<")


def with_fewer_elements(html: str) -> str:
    """The HTML for print, as it is to be laid out. Its own tags ``b``, ``strong`` and ``span`` change, and the spaces within figures."""
    html = _LENGTH.sub(lambda found: _unbroken(found[1]), html)
    html = _NAMED.sub(_named, html)
    html = _STEPS.sub(lambda found: _unbroken(found[1]), html)
    html = _PLAIN.sub(r"\1", html)
    return _SHORT.sub(
        r'<span class="\1 short">', html
    )  # of a width that is known: the renderer need not lay the number out to find it


def _unbroken(inside: str) -> str:
    """The same words, within which no line ends."""

    def joined(found: re.Match[str]) -> str:
        words = found[1].replace(" ", NO_BREAK_SPACE)
        return f">{words.replace(THIN_SPACE, THIN_SPACE + JOINER).replace('–', '–' + JOINER)}<"

    return _BETWEEN_TAGS.sub(joined, f">{inside}<")[1:-1]


def _named(found: re.Match[str]) -> str:
    """A part's name with its balloon: the balloon holds fast to the last word, and both parts of the name stand in one element."""
    before, words, tag, word, balloon, after = found.groups()
    if before not in (None, tag):
        return found[0]
    return f"<{tag}>{words or ''}{word}{NO_BREAK_SPACE}</{tag}>{balloon}{after}"
