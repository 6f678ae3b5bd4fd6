"""Round tenon: the round end of a rod, a handle or a rung in a hole of its own size."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily

ROUND_TENON = JointFamily(
    key="round_tenon",
    meaning="The round end of a rod or handle in a hole of its own size.",
    noun="hole",
    plural="holes",
    sits="sits in a hole in",
    grips=True,
    loose_end=True,
    holds_all_round=True,
    called=(
        Called(
            ("rod_end", "round_mortise", "round_mortice", "round_joint", "rod_hole", "bored_joint"),
            "round_tenon: {a}, in: {b}, depth: 1/2, with: [glue]",
        ),
    ),
)
