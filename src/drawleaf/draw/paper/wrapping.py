"""Lines of words and figures broken to a width, by the face's own metrics."""

from __future__ import annotations

import re
from collections.abc import Sequence

from drawleaf.draw.paper.lettering import Piece, Rich, label, with_sizes

_SECOND_UNIT = re.compile(r"\(\S+ mm\)")
"""The second unit stays in one piece."""


def wrapped(lines: Sequence[Rich], width: float) -> list[Rich]:
    """Each line broken between words where it is wider than ``width`` mm; a figure with its fraction is never broken."""
    found: list[Rich] = []
    for line in lines:
        row: list[Piece] = []
        for words in _unbroken(_words(with_sizes(line))):
            if row and label([(*row, *words)]).width > width:
                found.append(_trimmed(row))
                row = []
            row += words
        found.append(_trimmed(row))
    return [row for row in found if row]


def _unbroken(words: Sequence[Piece]) -> list[list[Piece]]:
    """What stands together without a space: a figure keeps the comma after it."""
    found: list[list[Piece]] = []
    for word in words:
        before = found[-1][-1] if found else " "
        closed = isinstance(word, str) and word[:1] in (",", ";", ".", ":", ")")
        if closed and not (isinstance(before, str) and before.endswith(" ")):
            found[-1].append(word)
        else:
            found.append([word])
    return found


def _words(line: Rich) -> list[Piece]:
    """Pieces cut after each space."""
    words: list[Piece] = []
    for piece in line:
        if not isinstance(piece, str) or _SECOND_UNIT.fullmatch(piece):
            words.append(piece)
            continue
        parts = piece.split(" ")
        words += [f"{part} " for part in parts[:-1]] + ([parts[-1]] if parts[-1] else [])
    return [word for word in words if word != ""]


def _trimmed(row: Sequence[Piece]) -> Rich:
    """Neighbouring words joined into one run again; no space at the ends."""
    joined: list[Piece] = []
    for piece in row:
        if joined and isinstance(piece, str) and isinstance(joined[-1], str):
            joined[-1] = joined[-1] + piece
        else:
            joined.append(piece)
    if joined and isinstance(joined[0], str):
        joined[0] = joined[0].lstrip(" ")
    if joined and isinstance(joined[-1], str):
        joined[-1] = joined[-1].rstrip(" ")
    return tuple(piece for piece in joined if piece != "")
