"""The lines of a learner's booklet under a step: what the learner does, what the experienced hand does, what a second pair of hands holds.

A template in ``templates/lessons/<lesson>.j2`` writes lines that start with ``learner:``, ``hand:``, ``scrap:`` or ``look:``; an author's
own ``templates/lessons`` stands in for ours file by file.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.phrases import Phrases
from drawleaf.book.words.wording import environment_for
from drawleaf.english import capitalized
from drawleaf.language import Words
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from drawleaf.model.teaching import Lesson, Taught, Turn
from drawleaf.resources import template_folders

LABELS = {
    "scrap": "First in scrap",
    "learner": "The learner",
    "hand": "The experienced hand",
    "second": "A second pair of hands",
    "look": "Before you go on",
}
"""What the lines are called, in their order."""
_MOST_HELD = 3
"""More parts than this that are held are not named."""
Lines = tuple[tuple[str, tuple[Markup, ...]], ...]


def lesson_lines(
    step: Step, taught: Taught | None, derived: Derived, formatter: Formatter, plan_folder: Path | None = None
) -> Lines:
    """Each label with its lines; nothing where nothing is taught. Raises a jinja2 error where a template is at fault."""
    found: dict[str, list[Markup]] = {label: [] for label in LABELS}
    for key, text in _all(step, taught, derived, formatter, plan_folder) if taught is not None else ():
        if text not in found[key]:
            found[key].append(text)
    return tuple((formatter.words.put(LABELS[key]), tuple(lines)) for key, lines in found.items() if lines)


def _all(
    step: Step, taught: Taught, derived: Derived, formatter: Formatter, plan_folder: Path | None
) -> Iterable[tuple[str, Markup]]:
    pages = _environment(plan_folder, derived.plan.words)
    for lesson in taught.lessons:
        own = tuple(_rendered(pages, lesson.operation.lesson, {}))
        if lesson.turn is Turn.SHOWN:
            yield from own
            continue
        yield from _rendered(pages, "again", _again(lesson, derived))
        yield from (line for line in own if line[0] == "look")
    if taught.hold is not None:
        say = Phrases(derived, formatter, step.once, step.operations[0])
        values = {
            "hold": taught.hold.value,
            "held": say.the_parts(taught.held) if 0 < len(taught.held) <= _MOST_HELD else "",
            "single": len(taught.held) == 1,
        }
        yield from _rendered(pages, "second-pair", values)


def _again(lesson: Lesson, derived: Derived) -> dict[str, Any]:
    shown = next(one for one in derived.steps if one.number == lesson.shown_in)
    tools = lesson.operation.method.tools
    return {
        "turn": lesson.turn.name.lower(),
        "step_link": Markup('<a href="#step-{}">step&nbsp;{}</a>').format(shown.id, shown.number),
        "powered": bool(tools and tools[0].power),
        "new_setting": lesson.new_setting,
    }


def _rendered(pages: Environment, name: str, values: dict[str, Any]) -> Iterable[tuple[str, Markup]]:
    for line in pages.get_template(f"{name}.j2").render(**values).splitlines():
        key, colon, words = line.strip().partition(":")
        if colon and key in LABELS:
            yield key, capitalized(Markup(words.strip()))


@cache
def _environment(plan_folder: Path | None, words: Words) -> Environment:
    return environment_for(
        template_folders(plan_folder),
        words,
        loader=FileSystemLoader([folder / "lessons" for folder in template_folders(plan_folder)]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
