"""Groove: a channel that a panel rides in, with room at the bottom for it to move."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, CutKind, Easing, JointFamily

GROOVE = JointFamily(
    key="groove",
    meaning="Let into a channel along the grain; with a `clearance` where a panel must move.",
    noun="groove",
    plural="grooves",
    sits="rides in a groove in",
    let_in=True,
    channel=CutKind.GROOVE,
    held_in_channel=True,
    panel=True,
    moves=True,
    grips=True,
    loose_end=True,
    easing=Easing.CHANNEL,
    called=(
        Called(
            ("plough", "plow", "ploughed", "plowed", "slot", "panel_groove", "drawer_bottom_groove"),
            "groove: {a}, in: {b}, depth: 1/4",
        ),
    ),
)
