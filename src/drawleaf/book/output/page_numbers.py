"""The numbers of pages that a booklet's links name, most of them set after one layout.

CSS has ``target-counter`` for them, but WeasyPrint then lays out every page that names one a second time. Our style sheet sets what stands
in the link's attribute ``data-page`` instead, where it has one: for the layout a number with as many digits as the true one will have, and
afterwards the true one in its place. All digits of the text family are equally wide, so nothing else moves. Links to pages about the
tenth or the hundredth have no such attribute and are left to ``target-counter``. Should another count of digits come out in spite of it,
the pages are laid out again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from math import ceil
from typing import Any

ATTRIBUTE = "data-page"
LETTERS_OF_A_PAGE, MM_OF_A_PAGE = 2500, 235
"""How many letters of lists and words, or millimetres of pictures, fill a page where nothing says that it ends: from our booklets."""
SHORTEST, LONGEST = 0.85, 1.15
"""How much shorter or longer than expected all before a target may turn out, as shares."""
_HEIGHT = re.compile(r"(?<![\w-])height:([\d.]+)mm")
_MOST_LAYOUTS = 3
"""After so many the numbers are set as they are; only the room round them may then be a digit too wide or too narrow."""


def laid_out_with_numbers(tree: Any, lay_out: Callable[[], Any]) -> Any:
    """The document that ``lay_out`` makes of the page's ``tree``, with the true number wherever a link names the page of its target."""
    links = tuple(_links(tree))
    digits = _expected(tree)
    for turn in range(_MOST_LAYOUTS):
        for link, target in links:
            if count := digits.get(target):
                link.set(ATTRIBUTE, "0" * count)
        document = lay_out()
        pages = _page_of_each(document)
        found = {target: len(str(pages[target])) for _, target in links if target in pages}
        if turn + 1 == _MOST_LAYOUTS or all(digits[target] == found[target] for target in found if digits.get(target)):
            break
        digits = found
    _set(document, pages)
    return document


def _links(tree: Any) -> Iterator[tuple[Any, str]]:
    """Each link that names a page, with the id of its target: those marked so, and those of a list of contents."""
    listed = {link for nav in tree.iter("nav") for link in nav.iter("a")}
    for link in tree.iter("a"):
        target = link.get("href") or ""
        if target.startswith("#") and (link in listed or "page" in (link.get("class") or "").split()):
            yield link, target[1:]


def _expected(tree: Any) -> dict[str, int]:
    """How many digits the page of each id will have, where that is fairly sure."""
    digits: dict[str, int] = {}
    full = 0.0  # pages before this place

    def walk(element: Any) -> None:
        nonlocal full
        classes = (element.get("class") or "").split()
        if ("chapter" in classes and "runs-on" not in classes) or "new-page" in classes:
            full = float(ceil(full))
        if name := element.get("id"):
            least, most = (len(str(int(full * share) + 1)) for share in (SHORTEST, LONGEST))
            if least == most:
                digits[name] = least
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


def _set(document: Any, pages: Mapping[str, int]) -> None:
    for page in document.pages:
        for box in page._page_box.descendants():
            if box.element is None or box.element_tag != "a::after" or not hasattr(box, "pango_layout"):
                continue
            number = pages.get((box.element.get("href") or "")[1:])
            if box.text and number and box.text == box.element.get(ATTRIBUTE):
                box.text = str(number)
                box.pango_layout.text = box.text
