"""``helps:`` as typed models: scraps that hold or guide the work while it is done, and are no part of the piece."""

from __future__ import annotations

from pydantic import Field

from drawleaf.source.nodes import At, Expr, FaceName, Names, SourceNode

HELPS = (
    "Scraps that help with this line's work: a fence, a stop, spacers, a batten or a jig. The step tells and draws them, "
    "and a list below the cut list says which to make."
)


class HelpEntry(SourceNode):
    """One entry of ``helps:``. Exactly one of ``fence``, ``stop``, ``spacer``, ``batten`` and ``jig``."""

    fence: FaceName | None = Field(
        default=None,
        description="A straight scrap, clamped along this side of what comes, so that it lies against it and cannot creep.",
    )
    stop: FaceName | None = Field(
        default=None,
        description="A short block, clamped at this side of what comes; across both where they are to be flush there.",
    )
    spacer: Names | None = Field(
        default=None,
        description="The parts that scraps hold apart; how long these are follows from the parts' places. Beside hardware: the part that it is set from.",
    )
    batten: Names | None = Field(
        default=None, description="The parts that a strip is clamped across, to hold them until the joint has set."
    )
    jig: str | None = Field(
        default=None,
        description="Anything else that is made to help: what it is called. Its `note` says how it is made and used.",
    )
    on: FaceName | None = Field(default=None, description="A batten: the side of the parts that it lies on.")
    at: At | None = Field(
        default=None, description="Where the middle of a jig stands, or how far along the parts a batten lies."
    )
    wide: Expr | None = Field(default=None, description="Its extent along x, where the usual one does not do.")
    deep: Expr | None = Field(default=None, description="Its extent along y, where the usual one does not do.")
    high: Expr | None = Field(default=None, description="Its extent along z, where the usual one does not do.")
    note: str = ""
