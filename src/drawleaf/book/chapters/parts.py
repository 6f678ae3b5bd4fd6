"""Part drawings, two to four a page, and a table of the parts that need none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.page.measure import BALLOON, POINT, line_count, text_height
from drawleaf.book.page.paging import in_order_on_pages
from drawleaf.book.page.paper import paper_of
from drawleaf.draw.paper.lettering import text_width
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import Note

_HEAD, _ONE_LINE, _BELOW_FACTS, _GAP, _INTRODUCTION = 6.6, 5.4, 1.5, 5.0, 12.5
"""In mm: a part's title, or the title with the facts beside it; below the facts; between two parts; the words above them all."""
_TITLE, _FACTS, _SCALE, _BETWEEN = 13.0, 9.5, 22.0, 10.0
"""Sizes in points of a part's title and its facts; the room of the scale, and of the balloon with the air around, in mm."""
_TABLE, _TABLE_NAMES, _ROW_AIR = 15.0, 55.4, 1.8
"""The table of plain parts: its title and the air around it, what numbers and names take of its width, and the air in a row."""


@dataclass(frozen=True, slots=True)
class PartBlock:
    """A part with its drawing, its line of facts and the author's words."""

    item: CutItem
    drawing: Drawing
    facts: Markup
    words: tuple[Note, ...]
    new_page: bool = False
    one_line: bool = False
    """Whether the facts stand beside the title, on paper, and not below it."""

    @property
    def title(self) -> str:
        times = f" × {self.item.quantity}" if self.item.quantity > 1 else ""
        return f"{self.item.name}{times}"


def gather(book: Book) -> dict[str, Any] | None:
    """Parts by number; on paper, a small part may stand a page earlier to fill it."""
    drawn = book.drawings.parts
    blocks = [
        PartBlock(item, drawn[item.number], _facts(book, item), book.part_notes(item))
        for item in book.derived.cut_list.items
        if item.number in drawn
    ]
    if not blocks:
        return None
    plain = [block for block in blocks if block.drawing.plain and not block.words]
    worked = [block for block in blocks if block not in plain]
    found = {"blocks": worked, "plain": plain}
    return found | _placed(book, worked, plain) if book.for_print else found


def _placed(book: Book, blocks: list[PartBlock], plain: list[PartBlock]) -> dict[str, Any]:
    """The blocks in their places; those that are ``plain`` stand in a table before the drawings. They follow the chapter before them on
    its page where that saves a page."""
    paper = paper_of(book.derived.plan.paper)
    blocks = [replace(block, one_line=_on_one_line(block, paper.text_width)) for block in blocks]
    heights = [_height(block, paper.text_width) for block in blocks]
    room = paper.text_height - 2.0
    before = _INTRODUCTION + _table_height(plain, paper.text_width)
    first_room = paper.opening - before
    pages = in_order_on_pages(heights, room, first_room, _GAP)
    below = paper.following(book.begun) - before
    follows = _follows(heights, room, below, len(pages), alone=bool(plain))
    if follows is not None:
        pages, first_room = follows, below
    placed: list[PartBlock] = []
    for page in pages:
        spare = (room if page is not pages[0] else first_room) - sum(heights[place] + _GAP for place in page) + _GAP
        whole = _filled([blocks[place] for place in page], book.drawings.parts_larger, spare)
        # What does not fit below a table that stands alone begins the next page by itself.
        begins = page is not pages[0] and (bool(pages[0]) or page is not pages[1])
        placed += [replace(block, new_page=block is whole[0] and begins) for block in whole]
    return {"blocks": placed, "follows": follows is not None}


def _follows(
    heights: Sequence[float], room: float, below: float, apart: int, *, alone: bool
) -> tuple[tuple[int, ...], ...] | None:
    """The blocks shared out from ``below`` mm on a page that is begun, where that takes a page less than ``apart`` pages of their own;
    the table of plain parts may stand ``alone`` there."""
    if below > 0.0 and heights and heights[0] <= below:
        pages = in_order_on_pages(heights, room, below, _GAP)
    elif below > 0.0 and alone:
        pages = ((), *in_order_on_pages(heights, room, room, _GAP))
    else:
        return None
    return pages if len(pages) - 1 < apart else None


def _table_height(plain: Sequence[PartBlock], width: float) -> float:
    """Title, head and rows of the table of plain parts, in mm."""
    facts = width - _TABLE_NAMES
    return _TABLE * bool(plain) + sum(text_height(block.facts, facts, _FACTS, 1.25) + _ROW_AIR for block in plain)


def _filled(blocks: list[PartBlock], larger: Mapping[int, Sequence[Drawing]], spare: float) -> list[PartBlock]:
    """The parts of a page, drawn larger as long as ``spare`` (mm) lasts: first those that take least of it."""
    found = list(blocks)
    left = [list(larger.get(block.item.number, ())) for block in blocks]
    while True:
        more = [
            (drawings[0].height_mm - block.drawing.height_mm, place)
            for place, (block, drawings) in enumerate(zip(found, left, strict=True))
            if drawings
        ]
        cost, place = min(more, default=(spare + 1.0, 0))
        if cost > spare:
            return found
        spare -= cost
        found[place] = replace(found[place], drawing=left[place].pop(0))


def _on_one_line(block: PartBlock, width: float) -> bool:
    """Whether the facts find room between the title and the scale."""
    title = text_width(block.title, _TITLE * POINT, 700) + BALLOON + _BETWEEN
    return line_count(block.facts, width - title - _SCALE, _FACTS) == 1


def _height(block: PartBlock, width: float) -> float:
    head = _ONE_LINE if block.one_line else _HEAD + text_height(block.facts, width - _SCALE, _FACTS, 1.3)
    words = sum(
        text_height(note.text, width - 36.0, 10.5, 1.38) + (92.0 if note.picture else 8.0) for note in block.words
    )
    return head + _BELOW_FACTS + block.drawing.height_mm + words


def _facts(book: Book, item: CutItem) -> Markup:
    """Size, stock, what mirrors it, what is done to it, and where it is worked on."""
    facts = [
        book.formatter.size(item.length, item.width, item.thickness)
        + Markup(", {}").format(book.stock_words(item.stock))
    ]
    if item.mirror_of:
        facts.append(Markup('mirror image of <span class="balloon">{}</span>').format(item.mirror_of))
    if item.note:
        facts.append(Markup("{}").format(item.note.rstrip(".")))
    return Markup("; ").join(facts) + "."


CHAPTER = Chapter("parts", "Part drawings", gather)
