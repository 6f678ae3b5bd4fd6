"""Mitre: two parts meet at a corner along its diagonal. Flat (frames, mouldings lying down) or on edge (corners of a case); any corner ratio."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily, Moves

MITRE = JointFamily(
    key="mitre",
    meaning="Two parts that meet at half the corner's angle.",
    noun="mitre",
    plural="mitres",
    sits="meets in a mitre",
    crossing=True,
    mitred=True,
    partner_word="and",
    american="miter",
    telling=Moves("Set {} against the miter of {}", "Set {} against the miter of {}"),
    called=(
        Called(
            ("miter", "mitred", "mitered", "miter_joint", "mitre_joint"),
            "mitre: {a}, in: {b}, with: [glue]",
        ),
        Called(
            ("splined_miter", "splined_mitre", "spline_joint", "keyed_mitre", "keyed_miter"),
            "mitre: {a}, in: {b}, spline: {{thickness: 1/8, depth: 3/8}}, with: [glue]",
        ),
    ),
)
