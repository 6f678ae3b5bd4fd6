"""Dovetails: tails on the end of the first part, pins on the other. Through, or half-blind where the tails stop inside the second part."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily, Moves

DOVETAIL = JointFamily(
    key="dovetail",
    meaning="Tails on the first part, pins on the other.",
    noun="socket",
    plural="sockets",
    sits="has its tails in sockets in",
    crossing=True,
    fingered=True,
    comes_across=True,
    end_share=0.1,
    telling=Moves(
        "Tap the tails of {} into the sockets of {}",
        "Tap the sockets of {} over the tails of {}",
        "on",
        "the tails",
        glue_on_first=True,
    ),
    called=(
        Called(
            ("dovetails", "dovetail_joint", "tails", "through_dovetail", "half_blind_dovetail", "lapped_dovetail"),
            "dovetail: {a}, in: {b}, with: [glue]",
        ),
    ),
)
