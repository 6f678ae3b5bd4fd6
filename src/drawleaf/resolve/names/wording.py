"""Small words for the names of parts."""

from __future__ import annotations


def title(key: str) -> str:
    """A key as a name: ``front_rail`` becomes ``Front rail``."""
    words = key.replace("_", " ")
    return words[:1].upper() + words[1:]


def inside_sentence(name: str) -> str:
    """A name as it goes inside a sentence: ``Drawer side`` becomes ``drawer side``; ``MDF panel`` and ``A-frame`` stay."""
    if len(name) > 1 and name[0].isupper() and name[1].islower():
        return name[0].lower() + name[1:]
    return name
