"""Socket: the round end of a rod, a handle or a rung in a hole of its own size."""

from __future__ import annotations

from drawleaf.model.joint_family import JointFamily

SOCKET = JointFamily(
    key="socket",
    meaning="The round end of a rod or handle in a hole of its own size.",
    noun="hole",
    plural="holes",
    sits="sits in a hole in",
    grips=True,
    loose_end=True,
    holds_all_round=True,
)
