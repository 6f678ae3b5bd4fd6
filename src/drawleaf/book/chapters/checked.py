"""How this design was checked, on one page: what the workshop checks found, what rests on the maker's judgement, where the figures
come from. ``plan.json`` has every finding and every count."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.words.check_words import sentence_words
from drawleaf.book.words.references import told
from drawleaf.model.checks import CheckResult, Verdict

CUSTOM = "common practice, no source"
IN_WORDS, NAMED = 1, 2
"""So many findings of a check are printed; of the parts of the others, which pass likewise, only so many are named."""


@dataclass(frozen=True, slots=True)
class Checked:
    """What one check found. ``likewise`` are further parts that pass it; ``judged`` those that rest on the maker's judgement instead;
    ``sources`` are the numbers of its lines among the sources."""

    title: str
    findings: tuple[Markup, ...]
    likewise: Markup
    judged: Markup
    limit: Markup
    sources: tuple[int, ...]


def gather(book: Book) -> dict[str, Any] | None:
    lines = book.derived.audit.lines
    results = book.derived.checks
    if not lines and not results:
        return None
    sources = tuple(dict.fromkeys(source for result in results for source in _sources(result)))
    settings = book.derived.plan.checks
    return {
        "counted": sum(line.agrees for line in lines),
        "checks": tuple(_checked(book, group, sources) for group in _by_title(results)),
        "sources": sources,
        "humidity": settings.humidity,
        "loads": any(result.check == "shelf-sag" for result in results),
    }


def _sources(result: CheckResult) -> tuple[str, ...]:
    """A finding's sources one by one; whatever is common practice is printed as that once, whichever figure it is."""
    return tuple("common practice" if one.endswith(CUSTOM) else told(one) for one in result.source.split("; "))


def _by_title(results: tuple[CheckResult, ...]) -> list[list[CheckResult]]:
    groups: dict[str, list[CheckResult]] = {}
    for result in results:
        groups.setdefault(result.title, []).append(result)
    return list(groups.values())


def _checked(book: Book, group: list[CheckResult], sources: tuple[str, ...]) -> Checked:
    """A finding that is no pass reaches the buyer with what to do about it, or not at all: its mend is a change of the plan, and the
    author has read it. What is judged otherwise than by the sum is still named."""
    passed = [result for result in group if result.verdict is Verdict.PASS]
    advised = [result for result in group if result.open and result.advice]
    judged = [result.what for result in group if result.verdict is not Verdict.PASS and result not in advised]
    in_words = [*advised, *passed[: max(0, IN_WORDS - len(advised))]]
    likewise = [result.what for result in passed if result not in in_words]
    return Checked(
        title=book.words.put(group[0].title),
        findings=tuple(_found(book, result) for result in group if result in in_words),
        likewise=_named(book, likewise),
        judged=_named(book, judged),
        limit=_limit(book, group),
        sources=tuple(sorted({sources.index(source) + 1 for result in group for source in _sources(result)})),
    )


def _limit(book: Book, group: list[CheckResult]) -> Markup:
    """What the findings were held against; where no figure or rule is told, that workshops do it so."""
    limits = dict.fromkeys(sentence_words(result.limit, book.formatter) for result in group if result.limit)
    return Markup("; ").join(limits) if limits else Markup.escape(book.words.put("What workshops do"))


def _named(book: Book, parts: list[str]) -> Markup:
    """Parts in words, each once, the last of many as a number; empty where there are none."""
    names = [Markup.escape(one) for one in dict.fromkeys(parts)]
    if len(names) > NAMED:
        names = [*names[: NAMED - 1], Markup.escape(book.words.tell("{} more", len(names) - NAMED + 1))]
    return book.formatter.join(names) if names else Markup("")


def _found(book: Book, result: CheckResult) -> Markup:
    """What was found, and what to do about it where it is no pass."""
    words = sentence_words(result.words, book.formatter)
    return Markup("{} {}").format(words, sentence_words(result.advice, book.formatter)) if result.open else words


CHAPTER = Chapter("checked", "How this design was checked", gather, runs_on=True)
