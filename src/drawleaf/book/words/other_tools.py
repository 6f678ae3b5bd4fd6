"""Other tools that do the same work, told once for all steps in which they may."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup

from drawleaf.book.words.wording import note_words, way_needs
from drawleaf.english import capitalized, lower_first
from drawleaf.model.catalogue import Caution, Tool
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Method, Step


@dataclass(frozen=True, slots=True)
class OtherTools:
    """Another method, the numbers of the steps whose work it does, and what is to say of it. ``anchor`` is its place in the page;
    ``named`` is what a step calls it: the tool that does the work."""

    anchor: str
    name: str
    named: str
    steps: tuple[int, ...]
    words: Markup


@dataclass(slots=True)
class _Found:
    """A method while the steps are looked through: what it asks for beyond what each has at hand."""

    method: Method
    steps: list[Step] = field(default_factory=list)
    lacking: dict[str, Tool] = field(default_factory=dict)


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
                key = method.name, method.note, *(caution.id for caution in method.cautions[:1])
                one = found.setdefault(key, _Found(method))
                one.lacking.update({tool.id: tool for tool in method.tools if tool.id not in at_hand})
                if step not in one.steps:
                    one.steps.append(step)
    return tuple(_told(derived, list(found.values())))


def _told(derived: Derived, found: Sequence[_Found]) -> Iterator[OtherTools]:
    told: set[str] = set()
    for place, one in enumerate(found, start=1):
        method, lacking = one.method, list(one.lacking.values())
        needed = way_needs(method, lacking, derived.plan.words)
        caution = _caution(one)
        if caution is not None and not caution.every_use and caution.id in told:
            caution = None
        said = (
            f"{capitalized(needed)}." if needed else "",
            note_words(method.note, derived.plan.lengths),
            f"{caution.signal}: {caution.short}" if caution is not None else "",
        )
        told.update({caution.id} if caution is not None else ())
        yield OtherTools(
            f"other-tools-{place}",
            capitalized(method.name),
            lower_first((lacking or method.tools)[0].name),
            tuple(step.number for step in one.steps),
            Markup("{}").format(" ".join(filter(None, said))),
        )


def _caution(one: _Found) -> Caution | None:
    """The caution of a method with power, unless each of its steps gives it already."""
    first, *_ = one.method.cautions or (None,)
    if first is None or not any(tool.power for tool in one.method.tools):
        return None
    return None if all(first.id in {own.id for own in step.cautions} for step in one.steps) else first
