"""The catalogue of diagnostics: every code that drawleaf can print, with what, why, an example and how to mend it.

It is the single truth: ``drawleaf why`` and ``docs/diagnostics.md`` are made from it, and a test compares it with the code.
"""

from __future__ import annotations

from drawleaf.codes import (
    expressions,
    findings,
    hardware,
    helps,
    in_place,
    joints,
    leaning,
    order,
    placing,
    proofs,
    reading,
    shapes,
    wood_joints,
)
from drawleaf.joinery import CODES as CODES_OF_FAMILIES
from drawleaf.model.code import Code, Example

GROUPS: tuple[tuple[str, tuple[Code, ...]], ...] = (
    ("Files, keys and words", reading.CODES),
    ("Lengths and expressions", expressions.CODES),
    ("Stock, parts and their places", placing.CODES),
    ("Sections, leaning parts and cuts at an angle", leaning.CODES),
    ("Joints and fastenings", joints.CODES),
    ("Joints in solid wood", (*wood_joints.CODES, *CODES_OF_FAMILIES)),
    ("The order of work", order.CODES),
    ("Helps", helps.CODES),
    ("Outlines, openings, mitres and round ends", shapes.CODES),
    ("Machining, hardware in its place, finish and notes", in_place.CODES),
    ("Hardware", hardware.CODES),
    ("Proofs, lists and steps", proofs.CODES),
    ("Workshop checks", findings.CODES),
)
CODES: dict[str, Code] = {code.name: code for _, group in GROUPS for code in group}

__all__ = ["CODES", "GROUPS", "Code", "Example"]
