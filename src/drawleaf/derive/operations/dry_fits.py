"""Bodies are tried dry before glue. How that is done is told once; after that it is how the step begins that puts the body together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.operations.drafts import Draft

DRY_FIT = "dry-fit"
"""The kind of work that tries a body without glue."""


def with_dry_fits(drafts: Sequence[Draft]) -> tuple[Draft, ...]:
    """The steps in their order; a dry fit after the first one opens the step that follows it, where that assembles the same body."""
    done: list[Draft] = []
    told = False
    for draft in drafts:
        before = done[-1] if done else None
        if told and before is not None and _is_dry_fit(before) and _begins(before, draft):
            done[-1] = _opened(draft, before)
        else:
            told = told or (before is not None and _is_dry_fit(before))
            done.append(draft)
    return tuple(done)


def _is_dry_fit(draft: Draft) -> bool:
    return all(operation.kind == DRY_FIT for operation in draft.operations)


def _begins(dry: Draft, draft: Draft) -> bool:
    """Whether a step assembles what has just been tried: of the same body, with parts of it alone."""
    tried = {part for operation in dry.operations for part in operation.parts}
    used = {part for operation in draft.operations for part in operation.parts}
    same = [one.assembly for one in dry.copies] == [one.assembly for one in draft.copies]
    return (
        dry.stage is draft.stage
        and dry.assembly == draft.assembly
        and same
        and used <= tried
        and not _is_dry_fit(draft)
    )


def _opened(draft: Draft, dry: Draft) -> Draft:
    copies = tuple(
        replace(one, operations=(*before.operations, *one.operations))
        for before, one in zip(dry.copies, draft.copies, strict=True)
    )
    also = (dry.id, *dry.also, *draft.also)
    return replace(draft, operations=(*dry.operations, *draft.operations), also=also, copies=copies)
