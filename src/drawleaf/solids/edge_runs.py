"""What is run along edges besides round-overs and chamfers: coves, ogees and beads, as sections of lines and arcs."""

from __future__ import annotations

from manifold3d import Manifold

from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.solids.cutters import OVERSHOOT, edge_place, edge_profile
from drawleaf.solids.solid import Curve
from drawleaf.solids.sweeps import Stretch, sweep

QUIRK = 0.2
"""The step beside a bead, as a share of its size."""


def edge_run(profile: EdgeProfile, part: Part) -> tuple[Manifold, tuple[Curve, ...]]:
    """The void of any profile along an edge, run past both ends."""
    if profile.kind not in SECTIONS:
        body, curve = edge_profile(profile, part)
        return body, () if curve is None else (curve,)
    origin, frame, length = edge_place(profile, part)
    return sweep((-OVERSHOOT, -OVERSHOOT), section_of(profile.kind, profile.size.mm), origin, frame, length)


def section_of(kind: str, size: float) -> list[Stretch]:
    """What the profile takes away, anticlockwise from the overshot corner; the axes run into the wood from the edge's two faces."""
    first, *_, last = SECTIONS[kind](size)
    assert first.to[0] > 0.0 < last.to[1]
    near, far = first.to, last.to
    return [
        Stretch((near[0], -OVERSHOOT)),
        *SECTIONS[kind](size),
        Stretch((-OVERSHOOT, far[1])),
        Stretch((-OVERSHOOT, -OVERSHOOT)),
    ]


def _cove(size: float) -> list[Stretch]:
    """A quarter hollow about the corner."""
    return [Stretch((size, 0.0)), Stretch((0.0, size), 90.0)]


def _ogee(size: float) -> list[Stretch]:
    """A round that runs into a hollow: the hollow ends at the first face."""
    half = size / 2.0
    return [Stretch((size, 0.0)), Stretch((half, half), -90.0), Stretch((0.0, size), 90.0)]


def _bead(size: float) -> list[Stretch]:
    """A quarter round with a step at either end."""
    step = size * QUIRK
    return [Stretch((size, step)), Stretch((step, size), -90.0), Stretch((-OVERSHOOT / 2.0, size))]


SECTIONS = {"cove": _cove, "ogee": _ogee, "bead": _bead}
