"""The titles of steps that machine loose parts, whole: for one, and for several."""

from __future__ import annotations

from drawleaf.model.joint_family import CutKind

CHANNEL_TITLES = {
    CutKind.DADO: ("Cut the dado into the {}", "Cut the dadoes into the {}"),
    CutKind.GROOVE: ("Cut the groove into the {}", "Cut the grooves into the {}"),
    CutKind.RABBET: ("Cut the rabbet along the {}", "Cut the rabbets along the {}"),
}
ON_BOARD_TITLES: dict[str, str] = {
    CutKind.GROOVE: "Run the groove along the board, for the {}",
    CutKind.RABBET: "Run the rabbet along the board, for the {}",
    "round-over": "Round over the edge of the board, for the {}",
    "chamfer": "Chamfer the edge of the board, for the {}",
}
"""Of work that is done before the parts are cut off."""
HOLE_TITLES = {
    "hole": ("Drill the hole in the {}", "Drill the holes in the {}"),
    "finger hole": ("Drill the finger hole in the {}", "Drill the finger holes in the {}"),
}
EDGE_TITLES = {
    "round-over": ("Round over the edge of the {}", "Round over the edges of the {}"),
    "chamfer": ("Chamfer the {}", "Chamfer the {}"),
    "clip-corner": ("Saw the chamfer on the {}", "Saw the chamfer on the {}"),
    "rip-bevel": ("Rip the bevel on the {}", "Rip the bevels on the {}"),
    "cove": ("Run a cove along the edge of the {}", "Run a cove along the edges of the {}"),
    "ogee": ("Run an ogee along the edge of the {}", "Run an ogee along the edges of the {}"),
    "bead": ("Run a bead along the edge of the {}", "Run a bead along the edges of the {}"),
}
