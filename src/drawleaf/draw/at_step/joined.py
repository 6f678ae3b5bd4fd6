"""Which parts hold together when a step begins."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.standing import CLOSING
from drawleaf.graphs import connected
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step


def pieces_at(derived: Derived, step: Step) -> tuple[tuple[str, ...], ...]:
    """The pieces that the parts worked on in this step belong to, each with all its parts: what earlier steps joined stays together. Empty
    where all of them are still loose, where something is cut into them, or where the step puts them somewhere."""
    scene = step.scene
    if scene is None or scene.standing or scene.moves or scene.fasteners or scene.fittings or scene.layout is not None:
        return ()
    if len(scene.new) < 2 or any(operation.features for operation in step.operations):
        return ()
    pieces = _joined_before(derived, step)
    touched = tuple(piece for piece in pieces if set(piece) & set(scene.new))
    return touched if any(len(piece) > 1 for piece in touched) else ()


def loose_things(derived: Derived, step: Step, ids: Sequence[str]) -> list[list[tuple[str, ...]]]:
    """The kinds of things among these parts and fittings, each with all things of that kind: what earlier steps joined is one thing, whose
    kind is told by its numbers of the cut list; fittings of one bought item are of one kind."""
    wanted = set(ids)
    kinds: dict[object, list[tuple[str, ...]]] = {}
    for piece in _joined_before(derived, step):
        if own := tuple(part for part in piece if part in wanted):
            kind = tuple(sorted(derived.cut_list.item_of(part).number for part in own))
            kinds.setdefault(kind, []).append(own)
    for fitting in derived.plan.fittings:
        if fitting.id in wanted:
            kinds.setdefault(fitting.item.id, []).append((fitting.id,))
    return list(kinds.values())


def _joined_before(derived: Derived, step: Step) -> list[tuple[str, ...]]:
    """All parts, those that hold together when the step begins in one."""
    closed = (
        (joint.insert, joint.receiver)
        for earlier in derived.steps
        if earlier.number < step.number
        for operation in earlier.operations
        if operation.kind in CLOSING
        for joint in operation.joints
    )
    return connected((part.id for part in derived.plan.parts), closed)
