"""What is cut in the standing piece is not there before: drawings of earlier steps show the parts without it."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.model.derived import Derived
from drawleaf.model.plan import Part
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Step
from drawleaf.solids.build import Solids
from drawleaf.solids.memos import Memo

LATER = "cut-standing"
"""Kind of the operations that cut the standing piece."""


_STILL_WHOLE: Memo[frozenset[str], Solids] = Memo()


def solids_at(derived: Derived, solids: Solids, step: Step) -> Solids:
    """The parts as they are once this step is done: without the openings that a later step cuts."""
    still_whole = {part for part, number in _cut_in(derived) if number > step.number}
    if not still_whole:
        return solids

    def make() -> Solids:
        return solids.with_states({part.id: uncut(part) for part in solids.plan.parts if part.id in still_whole})

    return _STILL_WHOLE.get(solids.memos, frozenset(still_whole), make)


def uncut(part: Part) -> Part:
    """The part as it goes into the piece."""
    features = tuple(one for one in part.features if not (isinstance(one, OutlineCut) and one.after_assembly))
    return part if len(features) == len(part.features) else replace(part, features=features)


def cutting_steps(derived: Derived, part: str) -> tuple[Step, ...]:
    """The steps that cut openings in this part once it stands."""
    numbers = {number for one, number in _cut_in(derived) if one == part}
    return tuple(step for step in derived.steps if step.number in numbers)


def _cut_in(derived: Derived) -> list[tuple[str, int]]:
    return [
        (part, step.number)
        for step in derived.steps
        for operation in step.operations
        if operation.kind == LATER
        for part in operation.parts
    ]
