"""The lessons that ``shared/methods`` and ``shared/tools`` may name."""

from __future__ import annotations

from typing import Literal

LessonName = Literal[
    "angles",
    "bandsaw",
    "chisel",
    "circular-saw",
    "dowels",
    "drill",
    "dry-fit",
    "edge-profile",
    "filling",
    "finish",
    "fitting",
    "gluing",
    "hand-saw",
    "hanging",
    "hardware",
    "iron",
    "jigsaw",
    "knife",
    "lathe",
    "marking",
    "mitre-saw",
    "mortise",
    "nailing",
    "panel",
    "plane",
    "planer",
    "plugs",
    "pockets",
    "recess",
    "router",
    "router-table",
    "sanding",
    "screwing",
    "sheet",
    "squaring",
    "table-saw",
    "top",
    "wall",
    "wiping",
]
"""How a kind of work, or the use of a tool, is taught: a file of ``templates/lessons``."""
