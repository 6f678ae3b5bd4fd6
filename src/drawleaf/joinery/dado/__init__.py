"""Dado: a channel across a part that takes the whole thickness of another."""

from __future__ import annotations

from drawleaf.model.joint_family import CutKind, Easing, JointFamily

DADO = JointFamily(
    key="dado",
    meaning="Let into a channel across the grain.",
    noun="dado",
    plural="dadoes",
    sits="sits in a dado in",
    let_in=True,
    channel=CutKind.DADO,
    held_in_channel=True,
    grips=True,
    easing=Easing.CHANNEL,
)
