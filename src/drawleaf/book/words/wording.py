"""Steps in words: each operation's template says what to set, what to do, how to check it and what to do if the check fails.

A template in ``templates/steps/<operation kind>.j2`` writes lines that start with ``set:``, ``do:``, ``check:``, ``if not:`` or ``why:``;
other lines are no part of the wording. An author's own ``templates/steps`` stands in for ours file by file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.own_language import InLanguage, WatchedInLanguage
from drawleaf.book.words.own_templates import WordingError
from drawleaf.book.words.phrases import Phrases
from drawleaf.derive.operations.dry_fits import DRY_FIT
from drawleaf.derive.operations.late_sanding import SANDING
from drawleaf.english import capitalized, counted_thing, listed, lower_first
from drawleaf.language import Words
from drawleaf.model.catalogue import Tool
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Method, Operation, Step
from drawleaf.resources import template_folders
from drawleaf.units import LengthFormat, Units

_BLANKS = re.compile(r"[ \t]+")
_SENTENCE_END = re.compile(r"(?<=[.!?]) (?=[A-Z])")
_FIGURE = re.compile(r"\{([\d/-]+ in), ([\d.]+ mm)\}")
KEYS = ("set", "do", "check", "if not", "why")


@dataclass(frozen=True, slots=True)
class StepText:
    """A step as printed; every text is safe HTML. ``setup`` are settings, ``another_way`` other methods with their tools."""

    title: Markup
    setup: tuple[Markup, ...]
    actions: tuple[Markup, ...]
    check: Markup | None
    if_not: Markup | None
    why: Markup | None
    another_way: tuple[Markup, ...]


def step_text(step: Step, derived: Derived, formatter: Formatter, plan_folder: Path | None = None) -> StepText:
    """The words of one step. Raises ``WordingError`` or a jinja2 error where a template is at fault."""
    copies, step = step, step.once
    lines: dict[str, list[Markup]] = {key: [] for key in KEYS}
    for place, operation in enumerate(step.operations):
        for key, text in _render(step, operation, place, derived, formatter, plan_folder):
            if text not in lines[key]:
                lines[key].append(text)
    lines["do"] = [
        *_alike(copies, derived, formatter, plan_folder),
        *_help_lines("helps", step, derived, formatter, plan_folder),
        *lines["do"],
        *_help_lines("helps-off", step, derived, formatter, plan_folder),
    ]
    return StepText(
        title=Markup("{}").format(step.title),
        setup=tuple(lines["set"]),
        actions=tuple(lines["do"]),
        check=_paragraph(lines["check"]),
        if_not=_paragraph(lines["if not"]),
        why=_paragraph(lines["why"]),
        another_way=tuple(_other_ways(step, derived)),
    )


def _alike(step: Step, derived: Derived, formatter: Formatter, plan_folder: Path | None) -> list[Markup]:
    """What is said first where the work is done several times alike: how often, for what, and where it is other parts."""
    if not step.copies:
        return []
    template = _environment(plan_folder, derived.plan.words).get_template("alike.inc.j2")
    text = template.render(say=Phrases(derived, formatter, step, step.operations[0]))
    return [words for key, words in _told(text, template.filename) if key == "do"]


def _help_lines(
    name: str, step: Step, derived: Derived, formatter: Formatter, plan_folder: Path | None
) -> list[Markup]:
    """What is done with the step's helps before its own work, or after it."""
    if not step.helps:
        return []
    template = _environment(plan_folder, derived.plan.words).get_template(f"{name}.inc.j2")
    text = template.render(say=Phrases(derived, formatter, step, step.operations[0]))
    return [words for key, words in _told(text, template.filename) if key == "do"]


def _paragraph(lines: list[Markup]) -> Markup | None:
    """The lines as one text. A sentence that several of them say is said once, by the last."""
    sentences = [sentence for line in lines for sentence in _SENTENCE_END.split(line)]
    kept = [sentence for place, sentence in enumerate(sentences) if sentence not in sentences[place + 1 :]]
    return Markup(" ".join(kept)) if kept else None


def note_words(note: str, lengths: LengthFormat) -> str:
    """A note of ``shared/methods`` with its figures, written in braces as ``{1/16 in, 1.5 mm}``, in the booklet's own units."""
    shown = {Units.INCH: r"\1", Units.MM: r"\2", Units.BOTH: r"\1 (\2)"}
    return _FIGURE.sub(shown[lengths.units], note)


def way_needs(method: Method, lacking: Sequence[Tool], words: Words) -> str:
    """``you need a push stick too``: what of the tools that are lacking for a method its name does not tell already; else empty."""
    told = method.name.lower()
    extra = [name for tool in lacking if _bare(name := lower_first(tool.name)) not in told]
    if not extra:
        return ""
    pattern = "you need {} too" if len(extra) < len(lacking) else "you need {}"
    return words.tell(pattern, listed([counted_thing(name) for name in extra]))


def _bare(tool: str) -> str:
    """A tool's name as the name of a method has it: ``dowel centers`` for a set of them, ``hand drill`` for one or a brace."""
    return tool.partition(" or ")[0].rpartition(" of ")[2]


def _other_ways(step: Step, derived: Derived) -> Iterable[Markup]:
    """Each other method once: what it is and which tools it takes that neither its name nor the step has already; its caution, where the reader has
    not met it in this stage of the work, or at every use where ``shared/cautions`` says so."""
    lengths = derived.plan.lengths
    at_hand = {tool.id for tool in step.tools}
    sooner = [one for one in derived.steps if one.stage == step.stage and one.number < step.number]
    own = {caution.id for caution in step.cautions}
    told = {caution.id for one in sooner for caution in one.cautions}
    told.update(way.cautions[0].id for one in sooner for op in one.operations for way in op.others if way.cautions)
    seen: set[str] = set()
    for operation in step.operations:
        for method in operation.others:
            if method.id in seen or not method.tools:
                continue
            seen.add(method.id)
            needed = way_needs(method, [tool for tool in method.tools if tool.id not in at_hand], derived.plan.words)
            first, *_ = method.cautions or (None,)
            words = f"{capitalized(method.name)}: {needed}." if needed else f"{capitalized(method.name)}."
            words += f" {note_words(method.note, lengths)}" if method.note else ""
            fresh = first is not None and first.id not in own and (first.every_use or first.id not in told)
            if first is not None and fresh and any(tool.power for tool in method.tools):
                words += f" {first.signal}: {first.short}"
            yield Markup("{}").format(words)


def _render(
    step: Step, operation: Operation, place: int, derived: Derived, formatter: Formatter, plan_folder: Path | None
) -> Iterable[tuple[str, Markup]]:
    template = _environment(plan_folder, derived.plan.words).get_template(f"{operation.kind}.j2")
    phrases = Phrases(derived, formatter, step, operation)
    text = template.render(
        step=step,
        op=operation,
        say=phrases,
        first=all(sooner.kind == DRY_FIT for sooner in step.operations[:place]),
        last=all(later.kind == SANDING for later in step.operations[place + 1 :]),
        many=len(step.operations) > 1,
        tool=operation.method.tools[0].handled_as if operation.method.tools else "",
        length=formatter.length,
    )
    yield from _told(text, template.filename)


def _told(text: str, file: str | None) -> Iterable[tuple[str, Markup]]:
    """The lines that a template wrote, by their keys. Raises WordingError where one has none."""
    for line in text.splitlines():
        line = _BLANKS.sub(" ", line).strip(" ")  # thin and no-break spaces stay
        if not line:
            continue
        key, colon, rest = line.partition(":")
        if not colon or key not in KEYS:
            words = f"it writes “{line[:80]}”, which begins with none of {', '.join(f'{one}:' for one in KEYS)}"
            raise WordingError(words, file, _line_of(line, file))
        if rest.strip():
            yield key, Markup(rest.strip())


def _line_of(written: str, file: str | None) -> int:
    """The line of a template that begins as what it wrote; the first where none does."""
    start = written[:12]
    lines = Path(file).read_text(encoding="utf-8", errors="replace").splitlines() if file else []
    return next((number for number, line in enumerate(lines, start=1) if line.strip().startswith(start)), 1)


def environment_for(folders: tuple[Path, ...], words: Words, **settings: Any) -> Environment:
    """Sandboxed where a plan's folder brings templates of its own, as a plan may come from a stranger. Our own need no watching, and are
    rendered sooner without; they speak the language of ``words``, and ``ours`` puts a word of ours that comes from elsewhere into it. ``settings`` are those of jinja2."""
    environment = (WatchedInLanguage if len(folders) > 1 else InLanguage)(**settings)
    environment.words = words
    environment.filters["ours"] = words.put
    return environment


@cache
def _environment(plan_folder: Path | None, words: Words) -> Environment:
    folders = template_folders(plan_folder)
    return environment_for(
        folders,
        words,
        loader=FileSystemLoader([folder / "steps" for folder in folders]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.do"],
    )
