"""What stands when so much of the work is done."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Workshop
from drawleaf.model.steps import JOINING

CLOSING = (*JOINING, "set-panel", "set-splines", "fasten")
"""Operations after which parts hold together."""


def standing_so_far(shop: Workshop, wanted: Sequence[str] = ()) -> tuple[str, ...]:
    """The largest body that is joined by now: what goes on after the finish is not there yet, and loose pieces lie apart.

    Where parts are ``wanted``, the bodies that they are in.
    """
    links: dict[str, set[str]] = {part.id: {part.id} for part in shop.plan.parts}
    for draft in shop.drafts:
        for joint in (joint for op in draft.operations if op.kind in CLOSING for joint in op.joints):
            body = links[joint.insert] | links[joint.receiver]
            for part in body:
                links[part] = body
    largest = max(links.values(), key=len, default=set[str]())
    if wanted:
        largest = {one for part in wanted for one in links[part]}
    shown = largest if len(largest) > 1 else links.keys()
    return tuple(part.id for part in shop.plan.parts if part.id in shown)
