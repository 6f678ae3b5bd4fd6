"""Which parts hold together when a step begins."""

from __future__ import annotations

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
    closed = (
        (joint.insert, joint.receiver)
        for earlier in derived.steps
        if earlier.number < step.number
        for operation in earlier.operations
        if operation.kind in CLOSING
        for joint in operation.joints
    )
    pieces = connected((part.id for part in derived.plan.parts), closed)
    touched = tuple(piece for piece in pieces if set(piece) & set(scene.new))
    return touched if any(len(piece) > 1 for piece in touched) else ()
