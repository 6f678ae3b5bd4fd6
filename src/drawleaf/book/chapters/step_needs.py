"""What to have at hand for a step: its parts, its hardware, its tools and what is worn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from markupsafe import Markup

from drawleaf.book.chapters.context import WORN, Book
from drawleaf.book.page.measure import BALLOON, POINT
from drawleaf.book.words.format import NO_BREAK_SPACE, Formatter
from drawleaf.draw.paper.lettering import text_width
from drawleaf.english import capitalized, lower_first, noun
from drawleaf.model.catalogue import Consumable, FinishProduct
from drawleaf.model.lists import CutItem
from drawleaf.model.steps import HardwareUse, Step
from drawleaf.units import Units
from drawleaf.units.in_names import TIMES

PAIR = "pair"
"""The pack of what is sold by two, as ``shared/hardware`` names it."""
LONG_NAME = 18
"""A name of more letters than this does not stand on one line of the column beside the words."""
WHOLE_NAME, _SIZE = 60.0, 9.5
"""A name that is no wider than this, in mm, is not broken in a column that is no narrower; its size in points."""
_NAMED = 5
"""More parts than these are told by their numbers alone, on paper."""
_FEW = 8
"""Where a step takes all parts and there are more of them than this, they are not listed."""


def needs(book: Book, step: Step) -> Iterator[Markup]:
    """What to have at hand, one line for each kind: parts, hardware, tools.

    What joins in this step is new (its balloons carry the accent); parts that only are worked on are all alike.
    """
    moved = set(step.scene.new) if step.scene and step.scene.standing else set()
    coming = {item.number for item, _ in book.items(part for part in step.parts if part in moved)}
    rows = sorted(book.items(step.parts), key=lambda row: row[0].number not in coming)
    entire = sum(item.quantity == count for item, count in rows)
    if entire == len(book.derived.cut_list.items) > _FEW:
        yield Markup("All parts.")
    elif rows:
        yield Markup('<span class="need-parts">{}</span>').format(_parts(book, rows, coming))
    things = [_used(use, book.formatter) for use in step.hardware]
    things += _supplies(book, step.supplies)
    if things:
        yield capitalized(book.formatter.join(things)) + "."
    named = (tool for tool in step.tools if tool.group != WORN and tool not in book.on_the_bench)
    tools = [lower_first(tool.name) for tool in named]
    worn = [lower_first(tool.name) for tool in step.tools if tool.group == WORN]
    said = [capitalized(book.formatter.join(tools)) + "."] if tools else []
    said += [Markup("Wear {}.").format(book.formatter.join(worn))] if worn else []
    if said:
        yield Markup(" ").join(said)


def _supplies(book: Book, supplies: Sequence[Consumable | FinishProduct]) -> list[Markup]:
    """``wood glue``; several grits of one abrasive as one thing: ``sanding discs, 120, 150 and 180 grit``."""
    grits: dict[str, list[int]] = {}
    for one in supplies:
        if isinstance(one, Consumable) and one.abrasive and one.grit is not None:
            grits.setdefault(one.abrasive, []).append(one.grit)
    told: dict[Markup, None] = {}
    for one in supplies:
        words = Markup.escape(lower_first(one.name))
        if isinstance(one, Consumable) and len(own := grits.get(one.abrasive, [])) > 1:
            several = book.formatter.join([str(grit) for grit in own])
            words = Markup(book.words.put("{}, {} grit")).format(book.words.put(one.abrasive), several)
        told.setdefault(words)
    return list(told)


def _parts(book: Book, rows: Sequence[tuple[CutItem, int]], coming: set[int]) -> Markup:
    """What joins in this step by its name, else all that is worked on. On paper what stands already, and parts that are many, are told by
    their numbers, which the picture has too."""
    new = [row for row in rows if row[0].number in coming]
    named, standing = (new, rows[len(new) :]) if new and book.for_print else (rows, ())
    if len(named) > _NAMED and book.for_print:
        words = Markup("Parts{}").format(NO_BREAK_SPACE) + _numbers(named, coming)
    else:
        words = Markup(" ").join(
            _to_its_drawing(book, item, _part(item, count, "balloon new" if item.number in coming else "balloon"))
            for item, count in named
        )
    return Markup("{}; in place: {}").format(words, _numbers(standing, coming)) if standing else words


def _numbers(rows: Iterable[tuple[CutItem, int]], coming: set[int]) -> Markup:
    """Balloons without names: ``1 2 6 × 2``."""
    return Markup(" ").join(
        Markup('<span class="balloon{}">{}</span>{}').format(
            " new" if item.number in coming else "", item.number, _times(count)
        )
        for item, count in rows
    )


def _times(count: int) -> str:
    return f"{NO_BREAK_SPACE}{TIMES}{NO_BREAK_SPACE}{count}" if count > 1 else ""


def _part(item: CutItem, count: int, kind: str) -> Markup:
    """A balloon with its part's name, which never leave each other; a long name takes two lines only where it does not fit one."""
    name = item.name if len(item.name) > LONG_NAME else item.name.replace(" ", NO_BREAK_SPACE)
    words = f"{name}{_times(count)}"
    long = " long" if " " in name and BALLOON + text_width(words, _SIZE * POINT) <= WHOLE_NAME else ""
    told = Markup('<span class="need-part{}"><span class="{}">{}</span>{}{}{}</span>')
    return told.format(long, kind, item.number, NO_BREAK_SPACE, name, _times(count))


def _to_its_drawing(book: Book, item: CutItem, words: Markup) -> Markup:
    """On a screen a part leads to its own drawing; on paper its number says where that stands."""
    if book.for_print or item.number not in book.drawings.parts:
        return words
    return Markup('<a class="to-part" href="#part-{}">{}</a>').format(item.number, words)


def _used(use: HardwareUse, fmt: Formatter) -> Markup:
    """``4 × coat hooks``; ``1 pair of 12 in drawer slides`` for what is sold by the pair; with what a metric shop calls it."""
    item, count = use.item, use.count
    if item.pack != PAIR:
        words = how_many(item.name, item.plural, count)
        return words + f" ({item.metric})" if item.metric and fmt.units is not Units.INCH else words
    number = f"{count}{NO_BREAK_SPACE}{PAIR}{'s' if count > 1 else ''}"
    return Markup('<span class="qty">{}</span> of {}').format(number, item.name)


def how_many(one: str, many: str, count: int) -> Markup:
    """``4 × coat hooks``, ``4 × #8 x 2 in screws``: the sign keeps the count apart from a name that begins with a figure."""
    words = Markup('<span class="qty">{}{}{}</span> {}')
    return words.format(count, NO_BREAK_SPACE, TIMES, noun(count, one, many))
