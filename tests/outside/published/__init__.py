"""Published figures with where they come from, each beside what drawleaf makes of it. ``test_published`` compares them.

A new figure is one line in one of the files here. ``known`` says how the figure is known: ``read`` (seen on a page, mostly a reprint),
``memory`` (not seen; hold the original against it before you rely on it), ``arithmetic`` (worked out by hand from figures that are),
``custom`` (common practice in the trade, no source).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Known = Literal["read", "memory", "arithmetic", "custom"]


@dataclass(frozen=True, slots=True)
class Published:
    """``value`` is the published figure, ``within`` what its last printed digit leaves open, ``ours`` what drawleaf says."""

    what: str
    value: float
    unit: str
    within: float
    source: str
    table: str
    known: Known
    ours: Callable[[], float]


def all_published() -> tuple[Published, ...]:
    """Every figure, by subject."""
    from tests.outside.published import customs, fasteners, hardware, holding, loads, moisture, sizes, wood

    return (
        *wood.FIGURES,
        *moisture.FIGURES,
        *loads.FIGURES,
        *sizes.FIGURES,
        *fasteners.FIGURES,
        *hardware.FIGURES,
        *holding.FIGURES,
        *customs.FIGURES,
    )
