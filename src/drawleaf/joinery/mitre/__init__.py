"""Mitre: two parts meet at a corner along its diagonal. Flat (frames, mouldings lying down) or on edge (corners of a case); any corner ratio."""

from __future__ import annotations

from drawleaf.model.joint_family import JointFamily, Moves

MITRE = JointFamily(
    key="mitre",
    meaning="Two parts that meet at half the corner's angle.",
    noun="mitre",
    plural="mitres",
    sits="meets in a mitre",
    crossing=True,
    mitred=True,
    partner_word="and",
    telling=Moves("Set {} against the mitre of {}", "Set {} against the mitre of {}"),
)
