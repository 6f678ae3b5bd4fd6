"""The steps, each with what it needs, its cautions, its drawing, its actions and its check."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.check_words import sentence_words
from drawleaf.book.context import Book
from drawleaf.book.wording import StepText
from drawleaf.model.catalogue import Caution
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import Note
from drawleaf.model.steps import Step

WORN = "Keeping safe"
"""The group of what is worn, as ``shared/tools`` names it."""


@dataclass(frozen=True, slots=True)
class StepPage:
    """Everything that a step's page shows."""

    step: Step
    text: StepText
    drawing: Drawing | None
    new: tuple[tuple[CutItem, int], ...]
    standing: tuple[tuple[CutItem, int], ...]
    tools: tuple[str, ...]
    wear: tuple[str, ...]
    full: tuple[Caution, ...]
    short: tuple[Caution, ...]
    notes: tuple[Note, ...]
    why: Markup | None
    same_ways_as: Step | None
    minds: tuple[Markup, ...] = ()


def gather(book: Book) -> dict[str, Any]:
    stages: list[tuple[str, list[StepPage]]] = []
    said: dict[Any, Step] = {}
    for step in book.derived.steps:
        if not stages or stages[-1][0] != step.stage:
            stages.append((step.stage, []))
        stages[-1][1].append(_page(book, step, said))
    return {"stages": stages, "schedule": book.derived.schedule}


def _page(book: Book, step: Step, said: dict[Any, Step]) -> StepPage:
    """What joins in this step is new (its balloons carry the accent); parts that only are worked on are all alike.

    ``said`` remembers which step first gave a reason or another way: a reason is not given twice, and another way is told once
    and referred to afterwards.
    """
    text = book.texts[step.number]
    first_reason = said.setdefault(text.why, step)
    first_ways = said.setdefault(text.another_way, step)
    moved = set(step.scene.new) if step.scene and step.scene.standing else set()
    full, short = book.cautions_of(step)
    return StepPage(
        step=step,
        text=text,
        drawing=book.drawing_of(step),
        new=book.items(part for part in step.parts if part in moved),
        standing=book.items(part for part in step.parts if part not in moved),
        tools=tuple(_in_running_text(tool.name) for tool in step.tools if tool.group != WORN),
        wear=tuple(_in_running_text(tool.name) for tool in step.tools if tool.group == WORN),
        full=full,
        short=short,
        notes=book.notes("step", step.id),
        why=text.why if first_reason is step else None,
        same_ways_as=None if first_ways is step else first_ways,
        minds=tuple(_mind(book, result) for result in book.derived.checks if _belongs(result, step)),
    )


def _belongs(result: CheckResult, step: Step) -> bool:
    """Whether a finding that is no plain pass is told at this step: at the first of its steps."""
    return result.verdict is not Verdict.PASS and result.steps[:1] == (step.id,)


def _mind(book: Book, result: CheckResult) -> Markup:
    """A finding at its step: what to know, and what to do about it or why the author accepts it."""
    words = sentence_words(result.words, book.formatter)
    more = result.waived or sentence_words(result.remedy, book.formatter)
    return Markup("{} {}").format(words, more)


def _in_running_text(name: str) -> str:
    """A tool's name inside a sentence: a small first letter, unless the name begins with an abbreviation."""
    return name if name[1:2].isupper() else name[:1].lower() + name[1:]


CHAPTER = Chapter("steps", "Steps", gather)
