"""What holds a half of a piece of hardware in the wood."""

from __future__ import annotations

from enum import Enum


class HeldBy(Enum):
    """By screws, by glue, or by both."""

    SCREWS = "screws"
    GLUE = "glue"
    BOTH = "both"

    @property
    def glued(self) -> bool:
        """Whether glue holds it, alone or with screws."""
        return self is not HeldBy.SCREWS

    @property
    def screwed(self) -> bool:
        """Whether screws hold it, alone or with glue."""
        return self is not HeldBy.GLUE
