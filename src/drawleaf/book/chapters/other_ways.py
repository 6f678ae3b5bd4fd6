"""Other ways that the author offers: what is done instead of some steps, what is cut at another size, bought and needed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.words.check_words import sentence_words
from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import StepText, step_text
from drawleaf.english import lower_first
from drawleaf.model.catalogue import Caution
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.derived import OtherWay
from drawleaf.model.steps import HardwareUse, Step
from drawleaf.units import Length
from drawleaf.units.in_names import TIMES


def gather(book: Book) -> dict[str, Any] | None:
    ways = book.derived.ways
    told = {caution.id for step in book.derived.steps for caution in step.cautions}
    return {"ways": [_told(book, way, told) for way in ways]} if ways else None


def _told(book: Book, way: OtherWay, told: set[str]) -> dict[str, Any]:
    formatter = Formatter.of(way.derived.plan)
    steps = [(step, step_text(step, way.derived, formatter, book.plan_folder)) for step in way.steps]
    numbers = {step.number: step for step in book.derived.steps}
    return {
        "id": way.id,
        "name": way.name,
        "in_place_of": [numbers[number] for number in way.in_place_of],
        "sizes": list(_sizes(book, way)),
        "more": [_use(use) for use in way.more],
        "fewer": [_use(use) for use in way.fewer],
        "tools": [lower_first(tool.name) for tool in way.tools],
        "checks": list(dict.fromkeys(_found(book, result) for result in way.checks if _says(result))),
        "steps": [_step(book, way, step, text, told) for step, text in steps],
    }


def _says(result: CheckResult) -> bool:
    """Whether the buyer hears of it: what passes, and what there is something to do about."""
    return result.verdict is Verdict.PASS or bool(result.open and result.advice)


def _found(book: Book, result: CheckResult) -> Markup:
    """``Screws: they hold 31 lb``; and what to do about it where it is no pass."""
    said = [sentence_words(result.words, book.formatter)]
    said += [sentence_words(result.advice, book.formatter)] if result.open else []
    return Markup("<strong>{}.</strong> {}").format(book.words.put(result.title), Markup(" ").join(said))


def _step(book: Book, way: OtherWay, step: Step, text: StepText, told: set[str]) -> dict[str, Any]:
    """A step of the way. Cautions that were not ``told`` yet stand in full, and are told from then on."""
    drawn = {drawing.number: drawing for drawing in book.drawings.ways.get(way.id, ())}
    own: dict[str, Caution] = {one.id: one for op in step.operations for one in op.method.cautions}
    full = [one for an_id, one in own.items() if an_id not in told]
    short = [one for an_id, one in own.items() if an_id in told]
    told.update(own)
    return {"text": text, "full": full, "short": short, "drawing": drawn.get(step.number)}


def _sizes(book: Book, way: OtherWay) -> Iterator[tuple[str, Markup, Markup]]:
    """Parts cut at another size, copies once: their name, the size as the cut list has it, and the size for this way."""
    seen: set[tuple[str, str]] = set()
    for part_id in way.sized:
        first = next((part for part in book.derived.plan.parts if part.id == part_id), None)
        other = way.derived.plan.part(part_id)
        if first is None:
            continue
        row = first.name, _size(book, *first.size[:2]), _size(book, *other.size[:2])
        if (str(row[1]), first.kind) not in seen:
            seen.add((str(row[1]), first.kind))
            yield row


def _size(book: Book, long: Length, wide: Length) -> Markup:
    return Markup("{} {} {}").format(book.formatter.length(long), TIMES, book.formatter.length(wide))


def _use(use: HardwareUse) -> str:
    return f"{use.item.plural if use.count > 1 else use.item.name} {TIMES} {use.count}"


CHAPTER = Chapter("other_ways", "Other ways", gather, runs_on=True)
