"""The catalogue of diagnostics: every code that drawleaf can tell, with what, why, an example and how to mend it.

It is the single truth: ``drawleaf explain`` and ``docs/diagnostics.md`` are made from it, and a test compares it with the code.
"""

from __future__ import annotations

from drawleaf.codes import expressions, findings, fittings, joints, placing, proofs, reading
from drawleaf.codes.entry import Code, Example

GROUPS: tuple[tuple[str, tuple[Code, ...]], ...] = (
    ("Files, keys and words", reading.CODES),
    ("Lengths and expressions", expressions.CODES),
    ("Stock, parts and their places", placing.CODES),
    ("Joints and fastenings", joints.CODES),
    ("Machining, fittings, finish and notes", fittings.CODES),
    ("Proofs, lists and steps", proofs.CODES),
    ("Workshop checks", findings.CODES),
)
CODES: dict[str, Code] = {code.name: code for _, group in GROUPS for code in group}

__all__ = ["CODES", "GROUPS", "Code", "Example"]
