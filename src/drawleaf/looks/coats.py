"""What the finish schedule does to the look of each part: stained, oiled, painted, and how it shines."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from drawleaf.looks.noise import Floats
from drawleaf.looks.wood import linear
from drawleaf.model.looks import FinishLook, WoodLook
from drawleaf.model.plan import FinishCoat, Plan

BARE = 0.05
"""How much bare sanded wood shines, where 1 is like glass."""
_AMBER = np.array([0.75, 1.0, 1.3], np.float32)
"""Wet wood loses more blue than red."""


@dataclass(frozen=True, slots=True)
class Coats:
    """All coats of a part, the first one first."""

    looks: tuple[FinishLook, ...] = ()

    @property
    def gloss(self) -> float:
        """From 0, dull, to 1, like glass: a share. The last coat that says decides."""
        return next((look.gloss for look in reversed(self.looks) if look.gloss is not None), BARE)

    @property
    def roughness(self) -> float:
        """The width of the spread of reflections, as a share: the alpha of a microfacet model."""
        return round(0.62 * (1.0 - self.gloss) ** 1.5, 3)


def coats_of(plan: Plan, done: Collection[FinishCoat] | None = None) -> dict[str, Coats]:
    """The coats of every part that has some, as the finish schedule has them; those lines of it that are ``done``, where given."""
    found: dict[str, list[FinishLook]] = {}
    for coat in plan.finish:
        if coat.product is None or coat.product.look is None or (done is not None and coat not in done):
            continue
        for part in coat.parts:
            found.setdefault(part, []).append(coat.product.look)
    return {part: Coats(tuple(looks)) for part, looks in found.items()}


def coated(color: Floats, wood: WoodLook, coats: Sequence[FinishLook]) -> Floats:
    """(N, 3) linear RGB of wood under its coats."""
    mean = mean_color(wood)
    for coat in coats:
        if coat.color is not None:
            # A stain colours as the wood takes it up: its grain stays, weaker the more is hidden.
            goal = linear(coat.color)
            if coat.hides < 1.0:
                # Pigment lodges in pores and in soft wood, so a thin stain makes the grain stand out more than it was.
                grain = np.power(np.clip(color / mean, 0.05, 4.0), 1.3 - 0.5 * coat.hides)
                color = color * (1.0 - coat.hides) * goal ** (0.5 * coat.hides) + goal * grain * coat.hides
            else:
                color = goal * np.ones_like(color)
            mean = goal
        if coat.deepens:
            color = np.power(color, 1.0 + 0.5 * coat.deepens * _AMBER)
    return np.clip(color, 0.003, 0.96).astype(np.float32)


def mean_color(wood: WoodLook) -> Floats:
    """(3) linear RGB about which a wood lies."""
    light, dark = linear(wood.light), linear(wood.dark)
    return np.asarray(light + (dark - light) * 0.32, np.float32)
