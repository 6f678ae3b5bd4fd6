"""Mortise and tenon: the end of one part, thinned to a tongue, stands in a square hole in the other. Blind, through, haunched or loose."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, Easing, JointFamily

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
    called=(
        Called(
            (
                "mortise",
                "mortice",
                "tenon",
                "mortise_tenon",
                "mortice_and_tenon",
                "mortise_and_tennon",
                "stub_tenon",
                "through_tenon",
                "blind_tenon",
                "m&t",
            ),
            "mortise_and_tenon: {a}, in: {b}, with: [glue]",
        ),
        Called(
            ("floating_tenon", "loose_tenon", "slip_tenon", "free_tenon"),
            "mortise_and_tenon: {a}, in: {b}, loose: yes, with: [glue]",
        ),
        Called(
            ("pegged_tenon", "drawbore", "drawbored"),
            "mortise_and_tenon: {a}, in: {b}, with: [glue, pegs]",
        ),
    ),
)
