"""How this design was checked: what the workshop checks found, what the author accepts and why, and the audit in plain words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.words.check_words import sentence_words
from drawleaf.model.checks import CheckResult, Verdict

CUSTOM = "common practice, no source"
VERDICTS = {Verdict.PASS: "sound", Verdict.ADVICE: "advice", Verdict.STOP: "not sound"}


@dataclass(frozen=True, slots=True)
class Finding:
    """One finding as printed."""

    words: Markup
    advice: Markup
    verdict: str
    waived: str | None


@dataclass(frozen=True, slots=True)
class Checked:
    """All findings of one check. ``sources`` are the numbers of its lines among the sources."""

    title: str
    findings: tuple[Finding, ...]
    limit: Markup
    sources: tuple[int, ...]
    verdict: str


def gather(book: Book) -> dict[str, Any] | None:
    lines = book.derived.audit.lines
    results = book.derived.checks
    if not lines and not results:
        return None
    sources = tuple(dict.fromkeys(source for result in results for source in _sources(result)))
    settings = book.derived.plan.checks
    return {
        "lines": tuple(line for line in lines if not (line.agrees and line.left.startswith("0 "))),
        "checks": tuple(_checked(book, group, sources) for group in _by_title(results)),
        "sources": sources,
        "from_memory": any("from memory" in source for source in sources),
        "humidity": settings.humidity,
        "loads": any(result.check == "shelf-sag" for result in results),
    }


def _sources(result: CheckResult) -> tuple[str, ...]:
    """A finding's sources one by one; whatever is common practice is told as that once, whichever figure it is."""
    return tuple(CUSTOM if source.endswith(CUSTOM) else source for source in result.source.split("; "))


def _by_title(results: tuple[CheckResult, ...]) -> list[list[CheckResult]]:
    groups: dict[str, list[CheckResult]] = {}
    for result in results:
        groups.setdefault(result.title, []).append(result)
    return list(groups.values())


def _checked(book: Book, group: list[CheckResult], sources: tuple[str, ...]) -> Checked:
    findings = tuple(
        Finding(
            sentence_words(result.words, book.formatter),
            sentence_words(result.advice, book.formatter),
            VERDICTS[result.verdict],
            result.waived,
        )
        for result in group
    )
    order = list(VERDICTS)
    worst = max((result.verdict for result in group), key=order.index)
    accepted = worst is not Verdict.PASS and all(
        result.waived is not None for result in group if result.verdict is not Verdict.PASS
    )
    return Checked(
        title=group[0].title,
        findings=findings,
        limit=Markup("; ").join(dict.fromkeys(sentence_words(result.limit, book.formatter) for result in group)),
        sources=tuple(sorted({sources.index(source) + 1 for result in group for source in _sources(result)})),
        verdict="accepted" if accepted else VERDICTS[worst],
    )


CHAPTER = Chapter("checked", "How this design was checked", gather, runs_on=True)
