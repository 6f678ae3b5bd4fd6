"""What a booklet hangs on, noted while it is made: each entry, answer and file that was asked for.

A note is a tuple of words, so that it can be written down: ``("entry", "hardware", "cup hinge")``. What it stood at then is its state, a short text
that is equal for equal content and empty where there was nothing of that name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, replace
from typing import Any, cast

from drawleaf.model.catalogue import Catalogue
from drawleaf.model.looking_through import Given, answer
from drawleaf.source.library import Library

Note = tuple[str, ...]
Tell = Callable[[Note], None]

ENTRY, IDS, ALL, ANSWER = "entry", "ids", "all", "answer"
COMPONENTS = "components"
KINDS = tuple(one.name for one in fields(Catalogue) if one.name != "prices")
"""Kinds of entries of ``shared/`` that are looked up by id; components are the one besides."""


class NotingEntries(Mapping[str, Any]):
    """Entries of one kind that tell what is looked up in them. Copied or sent elsewhere they are plain, and all of them count as used."""

    def __init__(self, kind: str, entries: Mapping[str, Any], tell: Tell) -> None:
        self._kind, self._entries, self._tell = kind, entries, tell

    def __getitem__(self, key: str) -> Any:
        self._tell((ENTRY, self._kind, key))
        return self._entries[key]

    def __contains__(self, key: object) -> bool:
        self._tell((ENTRY, self._kind, str(key)))
        return key in self._entries

    def __iter__(self) -> Iterator[str]:
        self._tell((IDS, self._kind))
        return iter(self._entries)

    def __len__(self) -> int:
        self._tell((IDS, self._kind))
        return len(self._entries)

    def asked(self, question: str, given: Given) -> Any:
        """The answer to a question that goes through all entries; noted is the answer alone."""
        self._tell((ANSWER, self._kind, question, *given))
        return answer(self._entries, question, given)

    def __reduce__(self) -> tuple[type, tuple[dict[str, Any]]]:
        self._tell((ALL, self._kind))
        return dict, (dict(self._entries),)


def noting(library: Library, tell: Tell) -> Library:
    """The library, which tells what plans look up in it."""

    def noted(known: Catalogue) -> Catalogue:
        watched = {kind: NotingEntries(kind, getattr(known, kind), tell) for kind in KINDS}
        return replace(known, **cast(Any, watched))

    components = cast(Any, NotingEntries(COMPONENTS, library.components, tell))
    return replace(library, noted=noted, components=components)
