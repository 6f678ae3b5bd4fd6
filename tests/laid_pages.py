"""Booklets laid out on paper, each once in a run: the renderer's boxes without the renderer, so that workers can hand them on."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.conftest import made_once

ATTRIBUTES = ("class", "id", "data-step")


@dataclass(frozen=True, slots=True)
class LaidBox:
    """A box where it stands on its page, in CSS pixels. ``element`` is the same for all boxes of one element."""

    kind: str
    tag: str | None
    element: int | None
    attributes: dict[str, str]
    visible: bool
    font_size: float
    text: str
    top: float
    height: float
    children: tuple[LaidBox, ...]

    @property
    def classes(self) -> list[str]:
        return self.attributes.get("class", "").split()

    def all(self) -> Iterator[LaidBox]:
        """This box and all that are in it."""
        yield self
        for child in self.children:
            yield from child.all()


@dataclass(frozen=True, slots=True)
class LaidPage:
    """A page, its size in CSS pixels, and how far from its left edge the first word stands."""

    width: float
    height: float
    text_from: float
    box: LaidBox


@cache
def laid_out(html: str, folder: Path | None = None) -> tuple[LaidPage, ...]:
    """The pages of a booklet's HTML for print; ``folder`` is the plan's, for its pictures."""

    def make() -> tuple[LaidPage, ...]:
        from drawleaf.book.output import pdf

        return pages_of(pdf.laid_out(html, folder))

    return made_once(f"pages of {html}", make)


@dataclass(frozen=True, slots=True)
class Printed:
    """A booklet's PDF, what the renderer complained of while it made it, and the pages as they were laid out for it."""

    pdf: bytes
    said: tuple[str, ...]
    pages: tuple[LaidPage, ...]


@cache
def printed(html: str) -> Printed:
    """The booklet as a compile prints it."""

    def make() -> Printed:
        import weasyprint

        from drawleaf.book.output.pdf import make_pdf

        said: list[str] = []
        ear = logging.Handler(logging.WARNING)
        ear.emit = lambda record: said.append(record.getMessage())
        logger = logging.getLogger("weasyprint")
        logger.addHandler(ear)
        documents: list[Any] = []
        render = weasyprint.HTML.render

        def kept(self: Any, *arguments: Any, **options: Any) -> Any:
            documents.append(render(self, *arguments, **options))
            return documents[-1]

        try:
            with pytest.MonkeyPatch.context() as patch:
                patch.setattr(weasyprint.HTML, "render", kept)
                pdf = make_pdf(html)
        finally:
            logger.removeHandler(ear)
        return Printed(pdf, tuple(said), pages_of(documents[0]))

    return made_once(f"PDF of {html}", make)


def pages_of(document: Any) -> tuple[LaidPage, ...]:
    """The pages of a document that WeasyPrint has laid out."""
    numbers: dict[Any, int] = {}
    return tuple(_page(page._page_box, numbers) for page in document.pages)


def _page(page: Any, numbers: dict[Any, int]) -> LaidPage:
    texts = (one for one in _everything(page) if type(one).__name__ == "TextBox")
    lefts = [one.content_box_x() for one in texts if one.style["visibility"] == "visible"]
    return LaidPage(page.margin_width(), page.margin_height(), min(lefts, default=0.0), _box(page, numbers))


def _everything(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", ()):
        yield from _everything(child)


def _box(box: Any, numbers: dict[Any, int]) -> LaidBox:
    element = box.element
    height = box.height
    return LaidBox(
        type(box).__name__,
        box.element_tag,
        None if element is None else numbers.setdefault(element, len(numbers)),
        {key: element.get(key) for key in ATTRIBUTES if element.get(key)} if element is not None else {},
        box.style["visibility"] == "visible",
        float(box.style["font_size"]),
        getattr(box, "text", "") if type(box).__name__ == "TextBox" else "",
        float(box.position_y),
        float(height) if isinstance(height, int | float) else 0.0,
        tuple(_box(child, numbers) for child in getattr(box, "children", ())),
    )
