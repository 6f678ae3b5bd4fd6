"""Mortise and tenon: the end of one part, thinned to a tongue, stands in a square hole in the other. Blind, through, haunched or loose."""

from __future__ import annotations

from drawleaf.model.joint_family import Easing, JointFamily

MORTISE_AND_TENON = JointFamily(
    key="mortise_and_tenon",
    meaning="Let in with a tenon.",
    noun="mortise",
    plural="mortises",
    sits="stands in a mortise in",
    let_in=True,
    tenoned=True,
    grips=True,
    holds_all_round=True,
    end_share=0.3,
    easing=Easing.TENON,
)
