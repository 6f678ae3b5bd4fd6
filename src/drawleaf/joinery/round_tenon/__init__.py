"""Round tenon: the round end of a rod, a handle or a rung in a hole of its own size."""

from __future__ import annotations

from drawleaf.model.code import Code, Example
from drawleaf.model.joint_family import Called, JointFamily

_STOOL = """\
plan: {title: Stool, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}
stock:
  seat: {material: beech board, size: 27x140}
  rod: {material: hardwood dowel rod, size: 30 rod}
assemblies:
  stool:
    parts:
      seat: {stock: seat, thickness: z, full_width: y, grain: x, left: 0, right: 300, front: 0, bottom: 420}
      leg: {stock: rod, thickness: x, grain: z, left: 50, front: 55, deep: 30, bottom: 0, top: seat.bottom, pivot: top, lean: {right: 10 deg}, level_ends: {bottom: 0}}
    joints:
      - {round_tenon: leg, in: seat, depth: 15, with: [glue]}
"""

ROUND_TENON = JointFamily(
    key="round_tenon",
    meaning="The round end of a rod or handle in a hole of its own size.",
    noun="hole",
    plural="holes",
    sits="sits in a hole in",
    grips=True,
    loose_end=True,
    holds_all_round=True,
    leans=True,
    square_end=True,
    called=(
        Called(
            ("rod_end", "round_mortise", "round_mortice", "round_joint", "rod_hole", "bored_joint"),
            "round_tenon: {a}, in: {b}, depth: 1/2, with: [glue]",
        ),
    ),
    codes=(
        Code(
            "round-end-cut",
            "The end of a leaning rod that goes into a hole is cut off level.",
            "It goes into its hole square to its own length, as long as the hole is deep.",
            "Take that end out of level_ends.",
            Example(wrong=_STOOL.replace("level_ends: {bottom: 0}", "level_ends: {bottom: 0, top: 420}")),
        ),
        Code(
            "slant-through",
            "A hole at a slant would break out on the far side.",
            "Its far rim comes out first, and an end that comes through at a slant cannot be sawn off square.",
            "Make depth no more than the message says, and leave through out.",
            Example(wrong=_STOOL.replace("depth: 15", "depth: 24")),
        ),
        Code(
            "slant-held",
            "A round end at a slant is held by more than glue.",
            "Screws and pins have no straight way into it.",
            "Leave all but glue out of with.",
            Example(wrong=_STOOL.replace("with: [glue]", "with: [glue, screws]")),
        ),
    ),
)
