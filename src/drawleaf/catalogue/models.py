"""The keys of a catalogue's file."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from drawleaf.source.nodes import SourceNode

AS_WRITTEN = "as written"
"""In a list of editions, units, papers or tools: what the plan itself says."""
ALL = "all"
Paper = Literal["as written", "letter", "a4"]
UnitWord = Literal["as written", "in", "mm", "both"]


class ListedPlans(SourceNode):
    """A line of ``plans:``: a plan, or several by a pattern, and what is made of them where that differs from the catalogue's own lists."""

    plan: str = Field(description="A plan's folder, from the catalogue's file on; `plans/*` means all in a folder.")
    editions: Literal["all"] | list[str] | None = Field(
        default=None, description="Names of editions, `as written`, or `all`."
    )
    units: list[UnitWord] | None = Field(default=None, description="`as written`, `in`, `mm`, `both`.")
    papers: list[Paper] | None = Field(default=None, description="`as written`, `letter`, `a4`.")
    tools: list[str] | None = Field(default=None, description="Tool sets by name, files that hold one, `as written`.")
    copies: str | None = Field(default=None, description="A list of buyers, each of whom gets a copy.")


class CatalogueSource(SourceNode):
    """The whole file."""

    plans: list[ListedPlans] = Field(min_length=1, description="The plans, a line for one or several.")
    out: str = Field(default="build", description="The folder that holds a folder for each booklet.")
    editions: Literal["all"] | list[str] = Field(default=[AS_WRITTEN], description="For lines that name none.")
    units: list[UnitWord] = Field(default=[AS_WRITTEN], description="For lines that name none.")
    papers: list[Paper] = Field(default=[AS_WRITTEN], description="For lines that name none.")
    tools: list[str] = Field(default=[AS_WRITTEN], description="For lines that name none.")
    copies: str | None = Field(default=None, description="For lines that name none.")
