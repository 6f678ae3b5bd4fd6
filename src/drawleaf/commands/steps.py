"""``drawleaf check --steps``: the steps of a plan by the names that notes hang on, each with the source lines that it follows from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drawleaf.english import listed
from drawleaf.model.derived import Derived
from drawleaf.model.position import Position
from drawleaf.model.steps import Step

MOST_LINES = 4


def step_lines(derived: Derived) -> Iterator[str]:
    """A line for each step: its number, its name, its title, and where in the plan's own file its work is written."""
    own = next((part.position.file for part in derived.plan.parts), "")
    own = next((one.position.file for one in derived.plan.assemblies), own)
    wide = max((len(name) for step in derived.steps for name in _names(step)), default=0)
    for step in derived.steps:
        first, *others = _names(step)
        yield f"{step.number:>4}  {first:<{wide}}  {step.title}{_written(own, derived, step)}"
        for name in others:
            yield f"      {name:<{wide}}  in the same step"


def _names(step: Step) -> tuple[str, ...]:
    return tuple(dict.fromkeys((step.id, *step.also)))


def _written(own: str, derived: Derived, step: Step) -> str:
    lines = sorted({place.line for place in _places(derived, step) if place.file == own})
    if not lines:
        return ""
    shown = [str(line) for line in lines[:MOST_LINES]]
    if len(lines) > MOST_LINES:
        shown.append("others")
    return f"  (line{'s' if len(lines) > 1 else ''} {listed(shown)})"


def _places(derived: Derived, step: Step) -> Iterable[Position]:
    """Where the joints, machining, hardware and coats of a step are written; where its parts are, if it has none of these."""
    made: list[Position] = []
    for operation in step.operations:
        made += [joint.position for joint in operation.joints]
        made += [feature.position for _, feature in operation.features]
        made += [fitting.position for fitting in operation.fittings]
        made += [operation.coat.position] if operation.coat is not None else []
    return made or [derived.plan.authors_line(derived.plan.part(part)) for part in step.parts]
