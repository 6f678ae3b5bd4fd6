"""Parts that are cut to the standing piece are sanded late, a few at a time: that work goes into the step before it, on the same parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.operations.drafts import Draft
from drawleaf.language import Words

SANDING = "sand-parts"
"""The kind of work that sands loose parts."""


def with_late_sanding(drafts: Sequence[Draft], words: Words) -> tuple[Draft, ...]:
    """The steps in their order; sanding that only repeats for a few late parts what was told for all is the end of the step before it,
    where that works on loose parts of theirs and leaves nothing wet. Late parts that are sanded one lot after the other are one lot."""
    done: list[Draft] = []
    told = late = False
    for draft in drafts:
        sanding = _is_sanding(draft)
        if told and sanding and late:
            done[-1] = _one_lot(done[-1], draft)
        elif told and done and sanding and _leads_to(done[-1], draft):
            done[-1] = _joined(done[-1], draft, words)
        else:
            done.append(draft)
            late = told and sanding
        told = told or sanding
    return tuple(done)


def _one_lot(before: Draft, sanding: Draft) -> Draft:
    scene = before.scene
    if scene is not None and sanding.scene is not None:
        scene = replace(scene, new=(*scene.new, *sanding.scene.new))
    return replace(
        before,
        operations=(*before.operations, *sanding.operations),
        scene=scene,
        also=(*before.also, sanding.id, *sanding.also),
        assembly=before.assembly if before.assembly == sanding.assembly else None,
    )


def _is_sanding(draft: Draft) -> bool:
    return all(operation.kind == SANDING for operation in draft.operations)


def _parts(draft: Draft) -> set[str]:
    return {part for operation in draft.operations for part in operation.parts}


def _leads_to(before: Draft, sanding: Draft) -> bool:
    """Whether the step before is work on loose parts of which all are sanded now."""
    loose = before.scene is not None and not before.scene.standing and before.scene.layout is None
    wet = any(operation.wait_hours for operation in before.operations)
    return loose and not wet and _parts(before) <= _parts(sanding) and not before.copies


def _joined(before: Draft, sanding: Draft, words: Words) -> Draft:
    sanded = _parts(sanding)
    them = "{}, and sand it" if len(sanded) == 1 else "{}, and sand them"
    if sanded != _parts(before):
        them = "{}, and sand the parts"
    return replace(
        before,
        title=words.tell(them, before.title),
        operations=(*before.operations, *sanding.operations),
        also=(*before.also, sanding.id, *sanding.also),
    )
