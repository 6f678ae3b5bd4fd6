"""How a piece lies at the bench."""

from __future__ import annotations

from enum import StrEnum


class Pose(StrEnum):
    """How the piece lies while a step works on it. Its drawing shows it so."""

    UPRIGHT = "upright"
    OVER = "upside down"
    ON_BACK = "on its back"
