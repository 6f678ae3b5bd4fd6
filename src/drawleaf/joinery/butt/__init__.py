"""Butt joint: two parts meet face to face; nothing is let in."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily

BUTT = JointFamily(
    key="butt",
    meaning="Set on, nothing let in.",
    noun="butt joint",
    plural="butt joints",
    sits="butts against",
    leans=True,
    called=(
        Called(
            ("dowel", "dowels", "dowel_joint", "dowelled", "doweled", "dowel_butt"),
            "butt: {a}, to: {b}, with: [glue, dowels]",
        ),
        Called(
            ("butt_joint", "edge_joint", "edge_glued", "screwed", "nailed"),
            "butt: {a}, to: {b}, with: [glue, screws]",
        ),
        Called(
            ("pocket_hole", "pocket_holes", "pocket_screw", "pocket_joint", "pocket_hole_joint"),
            "butt: {a}, to: {b}, with: [glue, {{pocket_screws: {{count: 2, on: bottom}}}}]",
        ),
    ),
)
