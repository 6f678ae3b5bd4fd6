"""Bridle: an open mortise and tenon. The end of one part is forked; the other, thinned on both faces, stands in the fork."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily, Moves

BRIDLE = JointFamily(
    key="bridle",
    meaning="An open tenon in a slot.",
    noun="bridle",
    plural="bridles",
    sits="stands in the fork of",
    crossing=True,
    forked=True,
    lapped=True,
    telling=Moves("Push {} into the fork of {}", "Push the fork of {} over {}", "in", "the fork"),
    called=(
        Called(
            ("open_mortise", "open_mortice", "slip_joint", "saddle_joint", "bridle_joint", "open_tenon"),
            "bridle: {a}, in: {b}, with: [glue]",
        ),
    ),
)
