"""Where else in the booklet a step sends its reader: a joint cut through, a template, the same work with other tools or in another way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from drawleaf.book.chapters.context import Book
from drawleaf.book.words.other_tools import OtherTools
from drawleaf.english import noun
from drawleaf.model.drawings import Drawing
from drawleaf.model.steps import Step

ANOTHER_WAY, OTHER_TOOLS = "Another way", "Other tools"
Told = tuple[tuple[str, tuple[Markup, ...]], ...]
"""Lines under labels."""


def where_told(lists: Sequence[OtherTools], step: Step) -> Markup:
    """Where other tools for a step's work are told: ``Page 62.``; empty where there are none."""
    first = next((one for one in lists if step.number in one.steps), None)
    return Markup('Page&nbsp;<a class="page" href="#{}"></a>.').format(first.anchor) if first else Markup("")


def joint_details(book: Book, details: Sequence[Drawing]) -> Markup:
    """Where the joints of a step are drawn cut through: ``Details 1 and 3, from page 12.`` on paper."""
    links = [Markup('<a href="#{}">{}</a>').format(one.id, one.number) for one in details]
    word, numbers = noun(len(details), "detail"), book.formatter.join(links)
    if not book.for_print:
        return Markup("Drawn cut through in {} {}.").format(word, numbers)
    page = Markup('page&nbsp;<a class="page" href="#{}"></a>').format(details[0].id)
    return Markup("{}&nbsp;{}, {}{}.").format(word.capitalize(), numbers, "from " if len(details) > 1 else "", page)


def marking_templates(book: Book, templates: Sequence[Drawing]) -> Markup:
    """Which templates mark this step's work: ``Template 2 (page 83) marks this at full size.``"""
    where = ' (page&nbsp;<a class="page" href="#{0}"></a>)' if book.for_print else ""
    links = [Markup('<a href="#{0}">{1}</a>' + where).format(one.id, one.number) for one in templates]
    word, verb = ("Template", "marks") if len(templates) == 1 else ("Templates", "mark")
    return Markup("{} {} {} this at full size.").format(word, book.formatter.join(links), verb)


def as_in(step: Step) -> Markup:
    """``As in step 12.``"""
    return Markup('As in <a href="#step-{}">step {}</a>.').format(step.id, step.number)


def authors_ways(book: Book, step: Step) -> Iterator[Markup]:
    """Where the author tells another way of this step's work: ``Pocket screwed: page 40.``"""
    for way in book.derived.ways:
        if step.number in way.in_place_of:
            if book.for_print:
                yield Markup('{}: page&nbsp;<a class="page" href="#way-{}"></a>.').format(way.name, way.id)
            else:
                yield Markup('<a href="#way-{}">{}</a>.').format(way.id, way.name)
