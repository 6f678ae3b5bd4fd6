"""Edge tape: cut a little long from the roll, ironed on, trimmed flush. It brings its own glue."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Workshop
from drawleaf.derive.operations.small_parts import Piece
from drawleaf.model.catalogue import Form
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.model.settings import TapeSettings
from drawleaf.model.steps import Scene

CUT, IRON = "cut-tape", "iron-on"
"""Kinds of work of ``shared/methods``; the first is the step's wording as well."""


def is_tape(part: Part) -> bool:
    """Whether a part is cut from edge tape."""
    return part.stock.material.form is Form.EDGE


def cut_tape(shop: Workshop, pieces: Sequence[Piece]) -> None:
    """All lengths of tape in one step: they are as wide as they come until they are trimmed in their places."""
    if not pieces:
        return
    parts = tuple(dict.fromkeys(piece.placed.part for piece in pieces))
    lengths = tuple((piece.placed.part, piece.placed.length) for piece in pieces)
    operation = shop.operation(CUT, CUT, parts, settings=TapeSettings(lengths))
    shop.add(CUT, Stage.CUT, shop.words.put("Cut the edge tape to length"), (operation,), Scene((), parts, (), (), ()))


def all_tape(plan: Plan, joints: Sequence[Joint]) -> bool:
    """Whether nothing but tape is put on."""
    return bool(joints) and all(is_tape(plan.part(joint.insert)) for joint in joints)
