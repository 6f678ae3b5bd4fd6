"""The author's notes, as resolved."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.position import Position


@dataclass(frozen=True, slots=True)
class Note:
    """The author's words, hooked onto a part, a step or a chapter. ``text`` is Markdown; ``picture`` a file beside the plan.

    ``passing``: it goes with what it hangs on, where an edition leaves that out or does it in another way.
    """

    target: str
    hook: str
    text: str
    picture: str | None
    position: Position
    passing: bool = False
