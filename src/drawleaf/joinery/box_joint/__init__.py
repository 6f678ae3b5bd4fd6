"""Box joint: straight fingers at a corner, those of one part in the gaps of the other."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily, Moves

BOX_JOINT = JointFamily(
    key="box_joint",
    meaning="Straight fingers at a corner.",
    noun="gap",
    plural="gaps",
    sits="has its fingers between those of",
    crossing=True,
    fingered=True,
    end_share=0.25,
    telling=Moves(
        "Push the fingers of {} between those of {}",
        "Push the fingers of {} between those of {}",
        "between",
        "the fingers",
    ),
    called=(
        Called(
            ("finger_joint", "finger", "fingers", "comb_joint", "comb", "box_finger", "boxjoint"),
            "box_joint: {a}, in: {b}, with: [glue]",
        ),
    ),
)
