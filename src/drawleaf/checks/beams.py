"""Bending of boards and shelves: published beam constants, composite sections, creep. Millimetres, newtons, N/mm2."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drawleaf.model.catalogue import Material

# Constants kb of d = kb W L^3 / (E I), W the total load: Wood Handbook FPL-GTR-190, Table 9-1 (read in a reprint).
UNIFORM_SIMPLE = 5 / 384
POINT_SIMPLE = 1 / 48
UNIFORM_CANTILEVER = 1 / 8
POINT_CANTILEVER = 1 / 3

# Wood across its grain, E_T/E_L of Wood Handbook Table 5-1, from memory: pines from 0.04, hard woods from 0.065 (sugar maple); red oak 0.08.
ACROSS_SOFT, ACROSS_HARD = 0.04, 0.065
# Plywood across its face grain: half; common practice, no source.
ACROSS_SHEET = 0.5


@dataclass(frozen=True, slots=True)
class Strip:
    """One rectangle of a section: ``wide`` across the span, ``high`` up, its ``bottom``; ``stiffness`` in N/mm2 along the span."""

    wide: float
    high: float
    bottom: float
    stiffness: float


def bending_stiffness(*strips: Strip) -> float:
    """E times I of strips glued into one section, about its own neutral axis (transformed section; parallel-axis theorem), N mm2."""
    weights = [strip.wide * strip.high * strip.stiffness for strip in strips]
    total = sum(weights)
    if not total:
        return 0.0
    middle = sum(w * (s.bottom + s.high / 2) for w, s in zip(weights, strips, strict=True)) / total
    return sum(
        s.stiffness * s.wide * s.high**3 / 12 + w * (s.bottom + s.high / 2 - middle) ** 2
        for w, s in zip(weights, strips, strict=True)
    )


def edged_on_one_side(composite: float, bare: float) -> float:
    """The stiffness (MPa, as given) to assume for the far edge of a board that has an edging along one side alone: the edged side follows the composite
    section, the far side sags more. The geometric mean of both; finite-element models of eight shelves give up to 15% more and as
    little as half (tests/outside/test_shelves_fe.py)."""
    return math.sqrt(composite * bare)


def sag(constant: float, load: float, span: float, stiffness: float) -> float:
    """Deflection in mm: Wood Handbook eq. 9-2 without its shear term (small for boards twenty times as long as thick)."""
    return constant * load * span**3 / stiffness


def longest_span(constant: float, load_per_mm: float, stiffness: float, limit_ratio: float) -> float:
    """The span at which a uniform load sags by span / ``limit_ratio``: kb w L^4 / EI = L / ratio."""
    return (stiffness / (constant * load_per_mm * limit_ratio)) ** (1 / 3)


def creep_factor(material: Material) -> float:
    """Sag after years of a load that stays, over the sag of the first day.

    Solid wood 1.5 (NDS-2018 3.5.2, read in public code that quotes it), plywood 2.0 (same clause, from memory), other boards 3.25
    (1 + kdef of Eurocode 5 Table 3.2 for particleboard and MDF in dry rooms, from memory).
    """
    if material.solid:
        return 1.5
    return 2.0 if "plywood" in material.id.lower() else 3.25


CREEP_SOURCE = (
    "creep: NDS-2018 3.5.2 (panels from memory), Eurocode 5 Table 3.2 for MDF and particleboard (from memory)"
)


def along(material: Material, *, with_grain: bool) -> float | None:
    """Stiffness of a material along the span, N/mm2; None where the catalogue has none."""
    if material.stiffness is None:
        return None
    if with_grain:
        return material.stiffness
    if not material.solid:
        return material.stiffness * ACROSS_SHEET
    return material.stiffness * (ACROSS_HARD if material.hard else ACROSS_SOFT)


def edging_height(missing: float, wide: float, stiffness: float, board: Strip) -> float | None:
    """How high an edging strip of that width, glued flush with the top of ``board``, must be to raise the section to ``missing``
    N mm2; in steps of 1 mm up to 80 mm, None where that does not do."""
    for high in range(math.ceil(board.high), 81):
        strip = Strip(wide, float(high), board.bottom + board.high - high, stiffness)
        if bending_stiffness(board, strip) >= missing:
            return float(high)
    return None
