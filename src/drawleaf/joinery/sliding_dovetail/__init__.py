"""Sliding dovetail: a tail along the end or edge of one part slides into a socket of its shape across another. It holds without glue."""

from __future__ import annotations

from drawleaf.model.code import Code, Example
from drawleaf.model.joint_family import Called, JointFamily

_SHELF = """\
plan: {title: Rack, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}
stock:
  board: {material: beech board, size: 20x140}
assemblies:
  rack:
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {x: 300}}
      shelf: {stock: board, thickness: z, full_width: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 200}
    joints:
      - {sliding_dovetail: shelf, in: side, depth: 8, thickness: 4, with: [glue]}
"""

SLIDING_DOVETAIL = JointFamily(
    key="sliding_dovetail",
    meaning="A tail along an end slides into a socket across the other part.",
    noun="socket",
    plural="sockets",
    sits="slides in a socket in",
    let_in=True,
    moves=True,
    grips=True,
    end_share=0.3,
    verb="Slide",
    called=(
        Called(
            ("dovetail_housing", "dovetailed_housing", "dovetail_dado", "french_dovetail", "sliding_dovetail_joint"),
            "sliding_dovetail: {a}, in: {b}, depth: 3/8, with: [glue]",
        ),
        Called(
            ("stopped_sliding_dovetail", "stopped_dovetail_housing", "stopped_dovetail_dado"),
            "sliding_dovetail: {a}, in: {b}, depth: 3/8, stopped: {{front: 1/2}}, with: [glue]",
        ),
    ),
    codes=(
        Code(
            "no-neck",
            "A sliding dovetail's tail is too thin at its shoulder, or wider than its wood.",
            "The tail is narrowest where it leaves its shoulder, and all the load goes through that neck.",
            "Leave thickness out, make depth less, or give the sides a gentler slope.",
            Example(wrong=_SHELF),
        ),
    ),
)
