"""Tongue: the edge of one part, thinned on one or both faces, enters a groove or dado that is narrower than its wood."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, Easing, JointFamily

TONGUE = JointFamily(
    key="tongue",
    meaning="Let in with a tongue: tongue and groove, or a rabbeted end in a dado.",
    noun="groove",
    plural="grooves",
    sits="has its tongue in a groove in",
    let_in=True,
    held_in_channel=True,
    moves=True,
    tongued=True,
    grips=True,
    end_share=0.3,
    easing=Easing.CHANNEL,
    called=(
        Called(
            ("tongue_and_groove", "tongue_groove", "t&g", "tongued", "tongue_and_dado", "barefaced_tongue"),
            "tongue: {a}, in: {b}, with: [glue]",
        ),
    ),
)
