"""Layouts: each sheet and board with its parts in place, and its cuts in order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.page.measure import text_height
from drawleaf.book.page.paging import in_order_on_pages
from drawleaf.book.page.paper import CHAPTER_HEAD, paper_of
from drawleaf.book.words.format import Formatter
from drawleaf.derive.layout.like_boards import like_runs, run_words
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import BoardLayout, SheetLayout
from drawleaf.units import Units

MOST_IN_ONE_COLUMN = 3
"""A longer list of cuts below a drawing is set in two columns."""
BESIDE_WIDTH, WIDEST_BESIDE = 86.0, 130.0
"""A drawing no wider than the first, in mm, has its list of cuts beside it, where its figures are in one unit; one no wider than the second
where that takes less room, and leaves ``LEAST_GIVES`` for the words on what a cut gives."""
LEAST_GIVES = 14.0


INTRODUCTION = 19.0
_ROW, _TABLE_HEAD, _HEAD = 5.3, 6.2, 8.5
_BEFORE_GIVES, _BEFORE_GIVES_BOTH, _GUIDE = 55.0, 62.0, 8.0
"""What the columns take that stand before the words on what a cut gives; less by the last where all cuts have one guide."""
_MEASURE = 128.0
_HEAVY = 16.0
"""What the words on a sheet's weight take."""
_MOVED_ALONG = (
    "Where the straightedge is moved along, draw the whole line first. Saw as far as it reaches, stop the blade, and clamp it anew "
    "in line with the cut that is made."
)


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet or board with its drawing, and whether it begins a page."""

    kind: str
    layout: SheetLayout | BoardLayout
    drawing: Drawing | None
    beside: bool
    leftovers: Markup
    paired: bool
    """Whether a long list of cuts is set in two columns."""
    new_page: bool = False
    alike: tuple[int, ...] = ()
    """The numbers of further sheets or boards that are cut in the same way, which are not drawn again."""
    name: str = ""
    like_words: Markup = Markup("")
    """What is said of those further ones."""


def gather(book: Book) -> dict[str, Any] | None:
    layouts, drawings = book.derived.layouts, book.drawings
    if not layouts.sheets and not layouts.boards:
        return None
    laid = [_laid("sheet", run, drawings.sheets, book.formatter) for run in like_runs(layouts.sheets)]
    laid += [_laid("board", run, drawings.boards, book.formatter) for run in like_runs(layouts.boards)]
    return {"laid": _placed(book, laid) if book.for_print else laid}


def _laid(kind: str, run: Sequence[SheetLayout | BoardLayout], drawings: Mapping[int, Drawing], fmt: Formatter) -> Laid:
    """The first of a run of layouts that are alike, which stands for all of them."""
    layout, drawing = run[0], drawings.get(run[0].number)
    beside = drawing is not None and drawing.width_mm <= BESIDE_WIDTH and fmt.units is not Units.BOTH
    one = Laid(kind, layout, drawing, beside, leftovers(layout, fmt), _paired(layout, beside, fmt))
    others = tuple(other.number for other in run[1:])
    return replace(one, alike=others, name=run_words(run, kind), like_words=_like_words(kind, run, fmt))


def _like_words(kind: str, run: Sequence[SheetLayout | BoardLayout], fmt: Formatter) -> Markup:
    """``Cut all 7 boards alike, each cut on all of them before you change the setting. Board 1 is drawn.``"""
    if len(run) == 1:
        return Markup("")
    how_many = "both" if len(run) == 2 else f"all {fmt.count_word(len(run))}"
    return Markup("Cut {} {}s alike: each cut on every one of them before you change the setting. {} is drawn.").format(
        how_many, kind, run_words(run[:1], kind)
    )


def _paired(layout: SheetLayout | BoardLayout, beside: bool, fmt: Formatter) -> bool:
    """Figures in two units need the width where each cut names its guide as well."""
    narrow = fmt.units is not Units.BOTH or len({cut.guide for cut in layout.cuts}) == 1
    return not beside and narrow and len(layout.cuts) > MOST_IN_ONE_COLUMN


def leftovers(layout: SheetLayout | BoardLayout, fmt: Formatter) -> Markup:
    """What stands below a list of cuts: the guide that all of them share, how much is used and what is worth keeping."""
    guides = {cut.guide for cut in layout.cuts}
    words = []
    if len(guides) == 1 and layout.cuts[0].guide:
        words.append(Markup("Guide every cut with a {}.").format(layout.cuts[0].guide))
    runs = [cut.run for cut in layout.cuts if cut.guide == "straightedge"]
    if runs and isinstance(layout, SheetLayout):
        words.append(Markup("The straightedge must be {} long for the longest cut.").format(fmt.length(max(runs))))
    if "straightedge moved along" in guides:
        words.append(Markup(_MOVED_ALONG))
    words.append(Markup("{} % is used.").format(fmt.number(layout.used * 100, 0)))
    sizes = [fmt.size(offcut.length, offcut.width) for offcut in layout.offcuts]
    if isinstance(layout, BoardLayout) and layout.leaves > 1:
        first = layout.number - layout.leaf + 1
        numbers = f"{first} {'and' if layout.leaves == 2 else 'to'} {first + layout.leaves - 1}"
        words.insert(0, Markup("Boards {} are resawn from one.").format(numbers))
    if isinstance(layout, BoardLayout) and layout.rest is not None and layout.leaf == layout.leaves:
        whole = fmt.size(layout.length, layout.board.width)
        sizes.append(Markup("what is resawn off, {}, {} thick once planed").format(whole, fmt.length(layout.rest)))
    if sizes:
        words.append(Markup("Worth keeping: {}.").format(Markup("; ").join(sizes)))
    return Markup(" ").join(words)


def _placed(book: Book, laid: list[Laid]) -> list[Laid]:
    """Layouts shared out over the pages, so that their sheets and boards fill them."""
    paper = paper_of(book.derived.plan.paper)
    room = paper.text_height - 2.0
    both = book.formatter.units is Units.BOTH
    before = _BEFORE_GIVES_BOTH if both else _BEFORE_GIVES
    laid = laid if both else [_lower(one, paper.text_width, before) for one in laid]
    heights = [_height(one, paper.text_width, before) for one in laid]
    pages = in_order_on_pages(heights, room, room - CHAPTER_HEAD - INTRODUCTION, gap=7.0)
    return [
        replace(laid[place], new_page=page is not pages[0] and place == page[0]) for page in pages for place in page
    ]


def _lower(one: Laid, width: float, before: float) -> Laid:
    """The layout with its cuts beside the drawing or below it, whichever takes less room."""
    if one.drawing is None or one.beside or one.drawing.width_mm > WIDEST_BESIDE:
        return one
    beside = replace(one, beside=True, paired=False)
    wide_enough = _free(beside, width) - _before_gives(beside, before) >= LEAST_GIVES
    return min((one, beside) if wide_enough else (one,), key=lambda way: _height(way, width, before))


def _free(one: Laid, width: float) -> float:
    """The width that the list of cuts has, in mm."""
    return width - (one.drawing.width_mm + 5.0 if one.beside and one.drawing else 0.0)


def _before_gives(one: Laid, before: float) -> float:
    return before - (_GUIDE if len({cut.guide for cut in one.layout.cuts}) == 1 else 0.0)


def _height(one: Laid, width: float, before: float) -> float:
    """``before``: what the columns take that stand before the words on what a cut gives."""
    drawn = one.drawing.height_mm if one.drawing else 0.0
    free = _free(one, width)
    columns = 2 if one.paired else 1
    below = 1.0 + text_height(f"{one.like_words} {one.leftovers}", min(_MEASURE, free), 9.5, 1.4)
    heavy = _HEAVY if any(cut.heavy for cut in one.layout.cuts) else 0.0
    gives = free / columns - _before_gives(one, before)
    rows = [text_height(cut.frees, gives, 9.5, 1.25) - 4.2 + _ROW for cut in one.layout.cuts]
    half = -(-len(rows) // columns)
    table = _TABLE_HEAD + max(sum(rows[:half]), sum(rows[half:]))
    if one.beside:
        return _HEAD + max(drawn + 2.0, table + below) + heavy
    return _HEAD + drawn + 2.0 + table + below + heavy


CHAPTER = Chapter("layouts", "Layouts", gather, runs_on=True, stays_whole=True)
