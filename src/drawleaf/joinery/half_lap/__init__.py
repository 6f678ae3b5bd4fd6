"""Half lap: two parts that cross or meet in one plane, each let into the other by half of its thickness. T, L and X alike."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily, Moves

HALF_LAP = JointFamily(
    key="half_lap",
    meaning="Two parts that cross, each cut away to half.",
    noun="lap",
    plural="laps",
    sits="lies in a lap in",
    crossing=True,
    lapped=True,
    telling=Moves(
        "Lay {} in the lap of {}", "Lay {} over the lap of {}", "on", "both halves of the lap", glue_on_first=True
    ),
    called=(
        Called(
            (
                "halving",
                "halving_joint",
                "halved_joint",
                "cross_halving",
                "cross_lap",
                "crosslap",
                "lap",
                "lap_joint",
                "half_lap_joint",
                "halflap",
                "edge_lap",
                "egg_crate",
                "end_lap",
                "corner_halving",
            ),
            "half_lap: {a}, in: {b}, with: [glue]",
        ),
    ),
)
