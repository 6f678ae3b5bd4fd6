"""Slot: how a loose piece, such as a spline, sits in the parts that it holds together. No line of a source asks for it: a mitre brings it."""

from __future__ import annotations

from drawleaf.model.joint_family import JointFamily

SLOT = JointFamily(
    key="slot",
    meaning="A loose piece in its slot.",
    noun="slot",
    plural="slots",
    sits="sits in a slot in",
    let_in=True,
    brought=True,
)
