"""Small words for the names of parts."""

from __future__ import annotations

from drawleaf.english import capitalized, lower_first


def title(key: str) -> str:
    """A key as a name: ``front_rail`` becomes ``Front rail``."""
    return capitalized(key.replace("_", " "))


def inside_sentence(name: str) -> str:
    """A name as it goes inside a sentence: ``Drawer side`` becomes ``drawer side``; ``MDF panel`` and ``A-frame`` stay."""
    return lower_first(name)
