"""Butt joint: two parts meet face to face; nothing is let in."""

from __future__ import annotations

from drawleaf.model.joint_family import JointFamily

BUTT = JointFamily(
    key="butt",
    meaning="Set on, nothing let in.",
    noun="butt joint",
    plural="butt joints",
    sits="butts against",
    leans=True,
)
