"""``cover:`` what the cover shows in place of the drawing."""

from __future__ import annotations

from pydantic import Field

from drawleaf.source.nodes import SourceNode


class CoverEntry(SourceNode):
    """``cover:`` a photograph of the piece, or a picture that `drawleaf picture` made."""

    picture: str = Field(description="A picture beside the plan: PNG, JPEG or WebP.")
