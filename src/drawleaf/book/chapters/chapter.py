"""A chapter: its name, and the function that gathers what its template needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from drawleaf.book.chapters.context import Book


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter of the booklet; its template is ``chapters/<id>.html.j2``.

    ``gather`` returns the template's own values, or None where this plan has nothing for the chapter. A chapter that is not
    ``listed`` (the cover, the contents) stays out of the table of contents; one that ``runs_on`` follows the chapter before it on
    the same page; one that ``stays_whole`` moves to the next page where it does not fit there. A chapter that plans its own pages gives
    in ``ends`` how far down its last one reaches, in mm, and in ``follows`` whether it begins below the chapter before it (``Book.begun``).
    """

    id: str
    title: str
    gather: Callable[[Book], Mapping[str, Any] | None]
    listed: bool = True
    runs_on: bool = False
    stays_whole: bool = False
    titled: Callable[[Mapping[str, Any]], str] | None = None
    """Its title by what it holds, where that is not the same in every plan."""
