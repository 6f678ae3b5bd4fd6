"""Rabbet: a step along the edge of a part, in which another part lies flush."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, CutKind, Easing, JointFamily

RABBET = JointFamily(
    key="rabbet",
    meaning="Let into a step along an edge.",
    noun="rabbet",
    plural="rabbets",
    sits="lies in a rabbet in",
    let_in=True,
    can_wait=True,
    channel=CutKind.RABBET,
    easing=Easing.CHANNEL,
    called=(
        Called(
            ("rebate", "rebated", "rabbit", "rebbate", "rabbet_joint", "rebate_joint"),
            "rabbet: {a}, in: {b}, depth: 3/8",
        ),
    ),
)
