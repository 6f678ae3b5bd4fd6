"""Breadboard end: a cross piece that keeps a glued-up top flat and lets it swell and shrink."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily

BREADBOARD = JointFamily(
    key="breadboard",
    meaning="A panel with a tongue and tenons let into an end board, free to move.",
    noun="breadboard end",
    plural="breadboard ends",
    sits="stands in a groove in",
    let_in=True,
    moves=True,
    tongued=True,
    caps_end=True,
    glued_at="middle tenon",
    grips=True,
    holds_all_round=True,
    end_share=0.3,
    called=(
        Called(
            ("breadboard_end", "bread_board", "clamped_end", "cleated_end", "end_cleat", "batten_end"),
            "breadboard: {a}, in: {b}, with: [pegs]",
        ),
    ),
)
