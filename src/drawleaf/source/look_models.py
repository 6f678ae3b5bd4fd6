"""How woods, finishes and hardware look in pictures, as ``shared/`` writes it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from drawleaf.source.nodes import SourceNode

Color = Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")]
Share = Annotated[float, Field(ge=0.0, le=1.0)]
Strength = Annotated[float, Field(ge=-1.0, le=1.0)]
Sheen = Literal["steel", "brass", "bronze", "black", "white", "wood"]


class RaysEntry(SourceNode):
    """``rays:`` of a wood that shows them. ``dark`` is negative for rays that are paler than the wood."""

    dark: Strength
    long: str
    wide: str
    share: Share


class PoresEntry(SourceNode):
    """``pores:`` that the eye sees as strokes: in the early wood of each ring, or everywhere."""

    dark: Strength
    long: str
    wide: str
    where: Literal["early", "everywhere"]


class LookEntry(SourceNode):
    """``looks``: how a wood or a board looks under a clear finish."""

    light: Color
    dark: Color
    build: Literal["solid", "rotary plywood", "sliced plywood", "pressed"] = "solid"
    rings: str = "2.5 mm"
    late: Share = 0.3
    sharp: Annotated[float, Field(gt=0.0, le=20.0)] = 2.0
    streaks: Share = 0.2
    clouds: Share = 0.25
    rays: RaysEntry | None = None
    pores: PoresEntry | None = None
    knots: Annotated[float, Field(ge=0.0, le=12.0)] = 0.0
    trunk: str = "85 mm"
    strips: str | None = None
    plies: str | None = None
    source: str = "common practice, no source"


class FinishLookEntry(SourceNode):
    """``look:`` of a finish: a stain or paint has a ``color`` and ``hides`` so much of the wood; ``deepens`` is how much it wets the wood."""

    color: Color | None = None
    hides: Share = 0.0
    deepens: Share = 0.0
    gloss: Share | None = None
