"""Diagnostics as text for a terminal: the place, the line quoted with what is meant ruled twice below, the cause and the mend.

The preview's panel and ``docs/diagnostics.md`` are laid out the same. Columns are for programs: ``--format json`` has them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping

from drawleaf.english import capitalized, counted
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.position import Position
from drawleaf.source.text_files import lines_of

WIDEST = 100
_TAB = 4
_LEAD = 30
_INDENT = "    "
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the direction of what follows."""
_RULE = "═"
_WORDS = {Severity.ERROR: "to mend", Severity.ADVICE: "advice"}

_BOLD, _RED, _YELLOW, _FAINT, _PLAIN = "\x1b[1m", "\x1b[1;31m", "\x1b[1;33m", "\x1b[2m", "\x1b[0m"


def render(diagnostic: Diagnostic, texts: Mapping[str, str], color: bool = False) -> str:
    """One diagnostic in several lines, without a line break at its end. ``texts`` holds the files by the name that positions give."""
    tint = _Tint(color)
    lines = [_head(diagnostic, tint)]
    if diagnostic.position:
        lines += _quoted(diagnostic.position, texts, tint)
    if diagnostic.cause:
        lines.append(f"{_INDENT}Cause: {_safe(diagnostic.cause)}")
    if diagnostic.mend:
        lines.append(f"{_INDENT}Mend:  {_safe(diagnostic.mend)}")
    for position, word in diagnostic.related:
        lines.append(f"{_INDENT}See:   {_place(position)}, {_safe(word)}")
        lines += _quoted(position, texts, tint)
    return "\n".join(lines)


def render_all(diagnostics: Iterable[Diagnostic], texts: Mapping[str, str], color: bool = False) -> str:
    """All diagnostics by their places, each once, with an empty line between."""
    return "\n\n".join(render(one, texts, color) for one in in_order(diagnostics))


def in_order(diagnostics: Iterable[Diagnostic]) -> tuple[Diagnostic, ...]:
    """By file, line and column, each once; those without a place last."""
    return tuple(sorted(dict.fromkeys(diagnostics), key=_rank))


def summary(diagnostics: Iterable[Diagnostic]) -> str:
    """``3 errors, 1 piece of advice``; each diagnostic counts once."""
    unique = dict.fromkeys(diagnostics)
    errors = sum(one.is_error for one in unique)
    advice = len(unique) - errors
    words = []
    if errors:
        words.append(counted(errors, "error"))
    if advice:
        words.append(counted(advice, "piece of advice"))
    return ", ".join(words) or "nothing to mend"


def _rank(one: Diagnostic) -> tuple[bool, Position, str, str]:
    return one.position is None, one.position or Position("", 0, 0), one.code, one.message


class _Tint:
    """Terminal colours, or none."""

    def __init__(self, color: bool) -> None:
        self.color = color

    def __call__(self, code: str, text: str) -> str:
        return f"{code}{text}{_PLAIN}" if self.color else text


def _head(diagnostic: Diagnostic, tint: _Tint) -> str:
    place = f"{_place(diagnostic.position)}, " if diagnostic.position else ""
    hue = _RED if diagnostic.severity is Severity.ERROR else _YELLOW
    word = _WORDS[diagnostic.severity]
    said = tint(hue, f"{place}{word}:" if place else f"{capitalized(word)}:")
    return f"{said} {tint(_BOLD, _safe(diagnostic.message))} {tint(_FAINT, f'({diagnostic.code})')}"


def _place(position: Position) -> str:
    return f"{_safe(position.file)}, line {position.line}"


def _quoted(position: Position, texts: Mapping[str, str], tint: _Tint) -> list[str]:
    """The line and the marks under it; nothing where the file's text is not at hand."""
    text = texts.get(position.file)
    lines = lines_of(text) if text is not None else []
    if not 1 <= position.line <= len(lines):
        return []
    before, meant, after = _pieces(lines[position.line - 1], position)
    if not (before + meant + after).strip():
        return []
    before, meant, after = _cropped(before, meant, after)
    spare = len(before) - len(before.lstrip(" ")) if meant.strip() else 0
    before = before[spare:]
    marks = " " * (len(_INDENT) + _width(before)) + tint(_RED, _RULE * max(1, _width(meant)))
    return [f"{_INDENT}{before}{meant}{after}", marks]


def _pieces(line: str, position: Position) -> tuple[str, str, str]:
    """The line before, within and after the span, as shown: tabs made spaces, no trailing space."""
    start = min(position.column - 1, len(line))
    stop = min(start + position.length, len(line))
    before = _untabbed(line[:start], 0)
    meant = _untabbed(line[start:stop], _width(before))
    after = _untabbed(line[stop:].rstrip(), _width(before + meant))
    return before, meant, after


def _untabbed(text: str, column: int) -> str:
    shown = []
    for character in text:
        piece = " " * (_TAB - column % _TAB) if character == "\t" else _safe(character)
        shown.append(piece)
        column += _width(piece)
    return "".join(shown)


def _cropped(before: str, meant: str, after: str) -> tuple[str, str, str]:
    """The part of a long line around what is meant, with an ellipsis where it goes on; indent is dropped first."""
    if _width(before + meant + after) <= WIDEST:
        return before, meant, after
    room = max(_LEAD, WIDEST - _width(meant))
    stripped = before.lstrip()
    before = "…" + _last(stripped, room // 2) if _width(stripped) > room // 2 else stripped
    left = max(0, WIDEST - _width(before))
    if _width(meant) > left:
        return before, _first(meant, left) + "…", ""
    left -= _width(meant)
    return before, meant, after if _width(after) <= left else _first(after, left) + "…"


def _first(text: str, columns: int) -> str:
    kept, used = [], 0
    for character in text:
        used += _width(character)
        if used > columns:
            break
        kept.append(character)
    return "".join(kept)


def _last(text: str, columns: int) -> str:
    return _first(text[::-1], columns)[::-1]


def _width(text: str) -> int:
    """Columns that a terminal gives a text (Unicode Standard Annex 11: wide and fullwidth take two)."""
    return sum(_columns(character) for character in text)


def _columns(character: str) -> int:
    if character.isascii():
        return 1
    if unicodedata.combining(character) or unicodedata.category(character) in ("Cf", "Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1


def _safe(text: str) -> str:
    """Without characters that would steer the terminal."""
    return "".join("�" if (unicodedata.category(c) in ("Cc", "Cs") and c != "\t") or c in _TURNING else c for c in text)
