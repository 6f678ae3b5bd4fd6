"""The printed page in millimetres. ``templates/css/print.css`` sets the same figures; ``tests/book`` holds them together."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper, and the part of it that the booklet prints on."""

    width: float
    height: float

    @property
    def text_width(self) -> float:
        """Millimetres between the margins."""
        return self.width - 2 * SIDE_MARGIN

    @property
    def text_height(self) -> float:
        """Millimetres between the margins."""
        return self.height - TOP_MARGIN - BOTTOM_MARGIN

    @property
    def opening(self) -> float:
        """Millimetres below the title of a chapter that begins a page. Since heights are only estimated, a little is kept back."""
        return self.text_height - _KEPT_BACK - CHAPTER_HEAD

    def following(self, begun: float) -> float:
        """Millimetres below the title of a chapter that follows one which takes ``begun`` mm of its page; none where that is not known."""
        return self.opening - begun - CHAPTER_GAP if begun else 0.0

    @property
    def main_width(self) -> float:
        """Millimetres: the main column, right of the labels."""
        return self.text_width - LABELS


_KEPT_BACK = 2.0
SIDE_MARGIN, TOP_MARGIN, BOTTOM_MARGIN = 20.0, 17.0, 15.0
LABELS = 36.0
"""The side column with its gap."""
CHAPTER_HEAD = 16.5
"""A chapter's title with its rule and the room below it."""
CHAPTER_GAP = 8.0
"""The room above a chapter that follows on the page of the one before it."""
STEPS_HEAD = 14.1
"""The title of the steps, which is smaller."""

_PAPERS = {"letter": Paper(215.9, 279.4), "a4": Paper(210.0, 297.0)}


def paper_of(name: str) -> Paper:
    """The paper by its name in the source: ``letter`` or ``a4``."""
    return _PAPERS[name]
