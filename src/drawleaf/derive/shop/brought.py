"""What one operation brings: which part of a joint comes to the other, and whether what comes hangs together already."""

from __future__ import annotations

from drawleaf.model.plan import Joint, Plan
from drawleaf.model.steps import Operation


def is_tied(plan: Plan, operation: Operation) -> bool:
    """Whether the parts that come hang together already: a frame, a box."""
    own = set(operation.parts)
    return any(own.issuperset((joint.insert, joint.receiver)) for joint in plan.joints)


def brought_by(operation: Operation, joint: Joint) -> str:
    """The part of a joint that comes to the other."""
    return joint.insert if joint.insert in operation.parts else joint.receiver
