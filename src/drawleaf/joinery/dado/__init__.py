"""Dado: a channel across a part that takes the whole thickness of another."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, CutKind, Easing, JointFamily

DADO = JointFamily(
    key="dado",
    meaning="Let into a channel across the grain, square or at the slope of a part that leans. British: housing.",
    noun="dado",
    plural="dadoes",
    sits="sits in a dado in",
    let_in=True,
    channel=CutKind.DADO,
    held_in_channel=True,
    grips=True,
    easing=Easing.CHANNEL,
    called=(
        Called(
            (
                "trench",
                "trenching",
                "trenched",
                "through_housing",
                "through_dado",
                "housed",
                "housing_joint",
                "housed_joint",
                "dado_joint",
                "dadoe",
            ),
            "dado: {a}, in: {b}, depth: 3/8, with: [glue]",
        ),
        Called(
            ("stopped_housing", "stopped_dado", "blind_dado"),
            "dado: {a}, in: {b}, depth: 3/8, stopped: {{front: 1/2}}, with: [glue]",
        ),
    ),
)
