"""Entries of what parts are cut from: stocks, and the sections of mouldings."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from drawleaf.source.nodes import Expr, FaceName, Name, No, SourceNode, Yes, unless_no


class StockEntry(SourceNode):
    """``stock:`` a material from ``shared/materials`` at a thickness.

    A sheet names its ``nominal`` thickness; a dressed board its nominal ``size`` (``1x4``), which gives thickness and width. ``actual`` is
    what a caliper says, and replaces the catalogue's figure.
    """

    material: str
    nominal: str | None = None
    size: str | None = None
    actual: Expr | None = None
    width: Expr | None = Field(
        default=None, description="Actual width of a board, where it differs from the catalogue."
    )
    special_order: Yes = Field(default=None, description="Take sheet sizes too that few stores keep.")
    planed: Literal["at the yard", "as bought"] | None = Field(
        default=None,
        description="`planed: at the yard` has the lumber yard plane the boards to `actual`; without it the tools must be able to. "
        "`planed: as bought` says that boards are sold at `actual` where you live: nobody planes them.",
    )
    waste: int = Field(
        default=0,
        ge=0,
        le=50,
        description="Per cent of each board's length that is counted off for knots, checks and bends.",
    )
    profile: Name | None = Field(
        default=None,
        description="One of the plan's `profiles`: everything cut from this stock is a moulding of that section.",
    )
    name: str | None = None
    note: str = ""


class StockChange(SourceNode):
    """What an edition changes about a stock; what is left out stays."""

    material: str | None = None
    nominal: str | None = None
    size: str | None = None
    actual: Expr | None = None
    width: Expr | None = None
    name: str | None = None


class SectionEntry(SourceNode):
    """``section:`` the cross section of a moulding or a round. ``profile`` names one of the plan's or the material's ``profiles``, whose
    face looks to ``face`` and whose top lies to ``top``; ``round`` makes the part as round as it is thick."""

    profile: str | None = None
    face: FaceName | None = None
    top: FaceName | None = None
    round: Yes = None


SectionOrNo = Annotated[SectionEntry | None, BeforeValidator(unless_no, json_schema_input_type=SectionEntry | No)]


class ProfilePoint(SourceNode):
    """A corner of a profile: ``out`` from the back, ``up`` from the bottom edge. ``arc`` is the radius of a quarter or other arc to the
    next corner: positive bulges out, negative is hollow."""

    out: Expr
    up: Expr
    arc: Expr | None = None


class ProfileEntry(SourceNode):
    """``profiles:`` a moulding's section: by its ``points``, or by the bit that runs it along the front edge of its top: ``{cove: 3/8, step: 1/8}``."""

    name: str | None = None
    points: list[ProfilePoint] = Field(default=[], min_length=3)
    cove: Expr | None = Field(default=None, description="A hollow of this radius.")
    round_over: Expr | None = Field(default=None, description="A round of this radius.")
    chamfer: Expr | None = Field(default=None, description="A slope, so wide on both sides.")
    ogee: Expr | None = Field(
        default=None, description="A hollow at the face that runs into a round at the top, so wide on both sides."
    )
    step: Expr | None = Field(
        default=None, description="How deep the bit steps in from the face; not at all if left out."
    )
