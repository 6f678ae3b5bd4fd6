"""Where else in the booklet a step sends its reader: a joint cut through, a template, the same work with other tools or in another way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from drawleaf.book.chapters.context import Book
from drawleaf.book.words.other_tools import OtherTools
from drawleaf.english import capitalized, noun
from drawleaf.model.drawings import Drawing
from drawleaf.model.steps import Step

ANOTHER_WAY = "Another way"
NAMED = 2
"""So many other tools are named in a step; where there are more, it says so."""
Told = tuple[tuple[str, tuple[Markup, ...]], ...]
"""Lines under labels."""


def where_told(ways: Sequence[OtherTools], step: Step) -> Markup:
    """Which other tools do a step's work and where they are told: ``Hand saw or bandsaw, page 61.``; empty where there are none."""
    own = [one for one in ways if step.number in one.steps]
    if not own:
        return Markup("")
    names = list(dict.fromkeys(one.named for one in own))
    words = f"{', '.join(names[:NAMED])} and others" if len(names) > NAMED else " or ".join(names)
    return Markup('{} (page&nbsp;<a class="page" href="#{}"></a>).').format(capitalized(words), own[0].anchor)


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
