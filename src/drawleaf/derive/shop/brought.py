"""What one operation brings: which part of a joint comes to the other, whether what comes hangs together already, and in how many goes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drawleaf.model.plan import Joint, Plan
from drawleaf.model.steps import Operation


def is_tied(plan: Plan, operation: Operation) -> bool:
    """Whether the parts that come hang together already: a frame, a box."""
    own = set(operation.parts)
    return any(own.issuperset((joint.insert, joint.receiver)) for joint in plan.joints_of(own))


def brought_by(operation: Operation, joint: Joint) -> str:
    """The part of a joint that comes to the other."""
    return joint.insert if joint.insert in operation.parts else joint.receiver


def in_goes(parts: Sequence[str], fits: Callable[[Sequence[str]], bool]) -> tuple[tuple[str, ...], ...]:
    """The parts in their order, as many in each go as ``fits`` allows; a part that is too much by itself is a go of its own."""
    goes: list[tuple[str, ...]] = []
    for part in parts:
        if goes and fits((*goes[-1], part)):
            goes[-1] = (*goes[-1], part)
        else:
            goes.append((part,))
    return tuple(goes)
