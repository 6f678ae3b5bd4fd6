"""The numbers of pages that a booklet's links name, set after one layout.

CSS has ``target-counter`` for them, but WeasyPrint then lays out every page that names one a second time. Our style sheet sets what stands
in the link's attribute ``data-page`` instead, where it has one: for the layout a number with as many digits as the true one may have, and
afterwards the true one in its place. All digits of the text family are equally wide, so nothing else moves; where a page about the tenth
turns out to be the ninth, what follows in its line moves up by a digit. Should a number have more digits than expected, the pages
are laid out again. The true number is written into WeasyPrint's own boxes: should another release have others, so that a number finds no
place, the attributes are taken away and the style sheet's ``target-counter`` sets them all.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from math import ceil
from typing import Any

ATTRIBUTE = "data-page"
LETTERS_OF_A_PAGE, MM_OF_A_PAGE = 2500, 235
"""How many letters of lists and words, or millimetres of pictures, fill a page where nothing says that it ends: from our booklets."""
LONGEST = 1.15
"""How much longer than expected all before a target may turn out, as a share."""
_HEIGHT = re.compile(r"(?<![\w-])height:([\d.]+)mm")
_MOST_LAYOUTS = 3
"""After so many the numbers are set as they are; only the room for them may then be a digit too narrow."""


def laid_out_with_numbers(tree: Any, lay_out: Callable[[], Any]) -> Any:
    """The document that ``lay_out`` makes of the page's ``tree``, with the true number wherever a link names the page of its target."""
    links = tuple(_links(tree))
    digits = _expected(tree)
    layouts = 0
    while True:
        for link, target in links:
            if target in digits:
                link.set(ATTRIBUTE, "0" * digits[target])
        document = lay_out()
        pages = _page_of_each(document)
        layouts += 1
        found = {target: len(str(pages[target])) for _, target in links if target in pages}
        if layouts == _MOST_LAYOUTS or all(found[target] <= digits.get(target, 0) for target in found):
            if _all_set(document, pages, {link for link, target in links if target in pages}):
                return document
            for link, _ in links:
                link.attrib.pop(ATTRIBUTE, None)
            return lay_out()
        digits = {target: max(count, digits.get(target, 0)) for target, count in found.items()}


def _links(tree: Any) -> Iterator[tuple[Any, str]]:
    """Each link that names a page, with the id of its target: those marked so, and those of a list of contents."""
    listed = {link for nav in tree.iter("nav") for link in nav.iter("a")}
    for link in tree.iter("a"):
        target = link.get("href") or ""
        if target.startswith("#") and (link in listed or "page" in (link.get("class") or "").split()):
            yield link, target[1:]


def _expected(tree: Any) -> dict[str, int]:
    """How many digits the page of each id may have."""
    digits: dict[str, int] = {}
    full = 0.0  # pages before this place

    def walk(element: Any) -> None:
        nonlocal full
        classes = (element.get("class") or "").split()
        if ("chapter" in classes and "runs-on" not in classes) or "new-page" in classes:
            full = float(ceil(full))
        if name := element.get("id"):
            digits[name] = len(str(int(full * LONGEST) + 1))
        if height := _HEIGHT.search(element.get("style") or ""):
            full += float(height[1]) / MM_OF_A_PAGE
        full += _letters(element.text) / LETTERS_OF_A_PAGE
        for child in element:
            if isinstance(child.tag, str):
                walk(child)
            full += _letters(child.tail) / LETTERS_OF_A_PAGE

    for body in tree.iter("body"):
        walk(body)
    return digits


def _letters(text: str | None) -> int:
    return len("".join(text.split())) if text else 0


def _page_of_each(document: Any) -> dict[str, int]:
    """The page on which each id stands first, counted from 1."""
    pages: dict[str, int] = {}
    for number, page in enumerate(document.pages, start=1):
        for name in page.anchors:
            pages.setdefault(name, number)
    return pages


def _all_set(document: Any, pages: Mapping[str, int], left: set[Any]) -> bool:
    """Sets the numbers; whether each of the links that are ``left`` to be set had a place for its own."""
    try:
        for page in document.pages:
            for box in page._page_box.descendants():
                if type(box).__name__ == "LineBox":
                    _set_in(box, pages, 0.0, left)
    except AttributeError:  # the boxes are others than those we know
        return False
    return not left


def _set_in(box: Any, pages: Mapping[str, int], moved: float, left: set[Any]) -> float:
    """Sets the numbers in a line, or in part of one that is ``moved`` in px; how far what follows is moved."""
    if moved:
        box.position_x += moved
    before = moved
    for child in getattr(box, "children", ()):
        if not child.is_in_normal_flow():
            continue
        if hasattr(child, "pango_layout"):
            child.position_x += moved
            moved -= _narrower(child, pages, left)
        elif type(child).__name__ == "InlineBox":
            moved = _set_in(child, pages, moved, left)
        elif moved:
            child.translate(dx=moved)
    if type(box).__name__ == "InlineBox":
        box.width += moved - before
    return moved


def _narrower(text: Any, pages: Mapping[str, int], left: set[Any]) -> float:
    """Sets the number where this is a link's: by how much it is narrower than the room for it, in px. Behind a leader it ends where the room does."""
    if text.element is None or text.element_tag != "a::after" or text.text != text.element.get(ATTRIBUTE):
        return 0.0
    number = str(pages.get((text.element.get("href") or "")[1:], ""))
    if not number:
        return 0.0
    spare = text.width * (1 - len(number) / len(text.text))
    text.text = text.pango_layout.text = number
    left.discard(text.element)
    if "page" in (text.element.get("class") or "").split():
        text.width -= spare
        return spare
    text.position_x += spare
    return 0.0
