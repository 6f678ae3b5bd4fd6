"""Texts of ours that hold HTML: the words between the tags are put into a language, names of classes and addresses are not."""

from __future__ import annotations

import re
from collections.abc import Callable

_PIECE = re.compile(r"(<[^>]*>)")
_SPOKEN = re.compile(r'(?<=[\s"])((?:alt|aria-label|title|placeholder)=")([^"]*)(")')
"""Attributes whose value a reader sees or hears."""


def between_tags(html: str, put: Callable[[str], str]) -> str:
    """The same HTML with each text between its tags, and each attribute that is read out, put into a language."""
    pieces = _PIECE.split(html)
    return "".join(in_tag(piece, put) if place % 2 else put(piece) for place, piece in enumerate(pieces))


def in_tag(tag: str, put: Callable[[str], str]) -> str:
    """A tag, or the part of one that a template writes out, with the attributes that are read out."""
    return _SPOKEN.sub(lambda found: found[1] + put(found[2]) + found[3], tag)
