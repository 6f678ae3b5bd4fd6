"""Entries of a part that say how it is made: glued up from strips, or fitted to the standing piece."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator, Field

from drawleaf.source.nodes import Expr, Names, No, SourceNode, Yes, unless_no


class AroundEntry(SourceNode):
    """``around:`` copies of a part, evenly round an upright line: ``{x: 0, y: 0, count: 3}``, as legs stand round a centre. Each is turned by its share of
    a full turn, anticlockwise from above."""

    x: Expr = Field(default="0", description="Where the upright is, left to right.")
    y: Expr = Field(default="0", description="Where it is, front to back.")
    count: Expr = Field(description="How many, with the one that is written.")


AroundOrNo = Annotated[AroundEntry | None, BeforeValidator(unless_no, json_schema_input_type=AroundEntry | No)]


_Ends = str | Annotated[list[str], Field(min_length=2, max_length=2)]


class BetweenEntry(SourceNode):
    """``between:`` the parts that a part or a component stands between, by axis: two parts, the lower one first, or one with its twin. ``gap`` is left free at both ends."""

    x: _Ends | None = Field(default=None, description="What is on its left and on its right.")
    y: _Ends | None = Field(default=None, description="What is before it and behind it.")
    z: _Ends | None = Field(default=None, description="What is below it and above it.")
    gap: Expr | None = Field(default=None, description="How much is left free at either end.")


class GlueUpEntry(SourceNode):
    """``glue_up:`` the part is a panel of strips: ``{strips: 5}`` or ``{widest_strip: 4}``; ``extra`` is trimmed off after glue-up."""

    strips: Expr | None = None
    widest_strip: Expr | None = None
    extra: Expr = "1/2 in"


GlueUpOrNo = Annotated[GlueUpEntry | None, BeforeValidator(unless_no, json_schema_input_type=GlueUpEntry | No)]


class FittedEntry(SourceNode):
    """``fitted:`` the part is cut over its size first, and its last size is marked from the standing piece:
    ``{length: 1/2, width: 1/8, from: case}``. ``no`` cuts it to size at once."""

    length: Expr | None = Field(default=None, description="How much longer it is cut at first.")
    width: Expr | None = Field(default=None, description="How much wider it is cut at first.")
    from_: Names | None = Field(
        default=None, alias="from", description="The parts or assemblies that its last size is marked from."
    )
    trim: Yes = Field(
        default=None,
        description="Glued on larger, and trimmed flush when the glue is dry: with a flush-trim bit, a plane or a chisel.",
    )
