"""Other tools that do the same work, told once for all steps in which they may."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from markupsafe import Markup

from drawleaf.book.words.wording import note_words
from drawleaf.english import capitalized, listed, lower_first
from drawleaf.model.catalogue import Caution
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Method, Step


@dataclass(frozen=True, slots=True)
class OtherTools:
    """What other tools there are for the same steps, these by their numbers; ``anchor`` is its place in the page."""

    anchor: str
    steps: tuple[int, ...]
    words: Markup


@dataclass(slots=True)
class _Found:
    """A method while the steps are looked through: what it asks for beyond what each has at hand."""

    method: Method
    steps: list[Step] = field(default_factory=list)
    extra: dict[str, str] = field(default_factory=dict)


def other_tools(derived: Derived) -> tuple[OtherTools, ...]:
    """Each other method once, in the order of the first step that it may do. A caution is told with the first that needs it, unless the
    steps themselves tell it, or at every use where ``shared/cautions`` says so."""
    found: dict[tuple[object, ...], _Found] = {}
    for step in derived.steps:
        at_hand = {tool.id for tool in step.tools}
        for operation in step.once.operations:
            for method in operation.others:
                if not method.tools:
                    continue
                key = method.name, method.note, tuple(tool.id for tool in method.tools)
                one = found.setdefault(key, _Found(method))
                one.extra.update({tool.id: lower_first(tool.name) for tool in method.tools if tool.id not in at_hand})
                if step not in one.steps:
                    one.steps.append(step)
    lists: dict[tuple[int, ...], list[Markup]] = {}
    for steps, words in _told(derived, found.values()):
        lists.setdefault(steps, []).append(words)
    return tuple(
        OtherTools(f"other-tools-{place}", steps, Markup(" ").join(words))
        for place, (steps, words) in enumerate(lists.items(), start=1)
    )


def _told(derived: Derived, found: Iterable[_Found]) -> Iterator[tuple[tuple[int, ...], Markup]]:
    """The numbers of the steps that a method may do, and its words."""
    told: set[str] = set()
    for one in found:
        name, method = capitalized(one.method.name), one.method
        extra = list(one.extra.values())
        words = derived.plan.words.tell("{}: you need {}.", name, listed(extra)) if extra else f"{name}."
        words += f" {note_words(method.note, derived.plan.lengths)}" if method.note else ""
        caution = _caution(one)
        if caution is not None and (caution.every_use or caution.id not in told):
            told.add(caution.id)
            words += f" {caution.signal}: {caution.short}"
        yield tuple(step.number for step in one.steps), Markup("{}").format(words)


def _caution(one: _Found) -> Caution | None:
    """The caution of a method with power, unless each of its steps gives it already."""
    first, *_ = one.method.cautions or (None,)
    if first is None or not any(tool.power for tool in one.method.tools):
        return None
    return None if all(first.id in {own.id for own in step.cautions} for step in one.steps) else first
