"""The data files of ``shared/`` as typed models: every key that an entry may have.

A file is a mapping from an id to an entry. Lengths are written with their unit (``23/32 in``, ``18 mm``) and stay text here;
``library_values`` turns them into exact lengths. Other quantities (``680 kg/m^3``) are read by ``library_measures`` as the entry is.
"""

# ruff: noqa: RUF012 - pydantic copies a default for every instance
from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from drawleaf.source.lesson_names import LessonName
from drawleaf.source.library_measures import (
    Area,
    Density,
    Hours,
    Minutes,
    Movement,
    Percent,
    SpreadRate,
    Stiffness,
    Volume,
)
from drawleaf.source.look_models import Color, Sheen
from drawleaf.source.look_models import FinishLookEntry as FinishLookEntry
from drawleaf.source.look_models import LookEntry as LookEntry
from drawleaf.source.look_models import PoresEntry as PoresEntry
from drawleaf.source.look_models import RaysEntry as RaysEntry
from drawleaf.source.models import SourceNode, YesNo

Positive = Annotated[float, Field(gt=0)]
NO_SOURCE = "common practice, no source"


class ThicknessEntry(SourceNode):
    """``thicknesses:`` what a nominal thickness usually measures and which of the sheet sizes are sold in it; few stores keep those of ``special_order``."""

    actual: str
    sheets: list[str]
    special_order: list[str] = []


class BoardGroupEntry(SourceNode):
    """``boards:`` sections (nominal name: dressed thickness x width) that are sold in the same lengths."""

    lengths: list[str]
    sizes: dict[str, str]


class RandomEntry(SourceNode):
    """``random``: hardwood in random widths, sold by the board foot, or by the square metre where it is named in millimetres. ``thicknesses``
    says what each size (``4/4``, ``27 mm``) measures; ``planing`` is what planing both faces takes off, for lumber sold rough;
    layouts count on ``width``; ``waste`` is the share to buy on top of what the parts measure."""

    thicknesses: dict[Annotated[str, Field(pattern=r"^[1-9][0-9]*(/4| mm)$")], str]
    planing: str | None = None
    lengths: list[str]
    width: str
    narrowest: str
    waste: Percent = 30.0


class ProfileCornerEntry(SourceNode):
    """``profiles:`` a corner of a moulding's section, ``at`` so far out from its back and so far up from its bottom edge; ``arc`` is the
    radius of the arc to the next corner, negative where it is hollow."""

    at: str
    arc: str | None = None


class MaterialEntry(SourceNode):
    """``materials``: a sheet good or a wood. ``radial`` and ``tangential`` are its movement for each percent of moisture."""

    name: str
    form: Literal["sheet", "board", "moulding", "rod", "edge banding"]
    tint: Color
    look: str | None = None
    density: Density
    solid: YesNo = False
    hard: YesNo = False
    blotches: YesNo = False
    stiffness: Stiffness | None = None
    radial: Movement | None = None
    tangential: Movement | None = None
    sheets: dict[str, str] = {}
    thicknesses: dict[str, ThicknessEntry] = {}
    boards: list[BoardGroupEntry] = []
    random: RandomEntry | None = None
    extra: str | None = None
    profiles: dict[str, list[ProfileCornerEntry]] = {}
    aisle: str
    source: str = NO_SOURCE


class MountingScrewEntry(SourceNode):
    """``screws:`` what a piece of hardware is mounted with."""

    item: str
    count: int
    supplied: YesNo = False


class SizeEntry(SourceNode):
    """``sizes:`` of a family of screws: one gauge, its shank, its metric diameter, the lengths in store (inches)."""

    diameter: str
    metric: str = ""
    lengths: list[str]


class HardwareEntry(SourceNode):
    """``hardware``: a bought item; or a family, whose id has ``{gauge}`` or ``{length}`` in it and which lists its sizes."""

    name: str
    plural: str
    kind: str
    gauge: int | None = None
    length: str | None = None
    diameter: str | None = None
    hole: str | None = None
    body: str | None = None
    thread: Literal["", "coarse", "fine"] = ""
    clearances: dict[str, str] = {}
    measures: dict[str, str] = {}
    screws: list[MountingScrewEntry] = []
    sizes: dict[str, SizeEntry] = {}
    lengths: list[str] = []
    metric: str = ""
    metric_lengths: list[int] = []
    per_pack: Annotated[int, Field(ge=1)] = 1
    pack: str = "each"
    price: str | None = None
    aisle: str
    look: Sheen | None = None
    note: str = ""
    source: str = NO_SOURCE


class ConsumableEntry(SourceNode):
    """``consumables``: what is used up. ``covers`` is the area that one unit does."""

    name: str
    unit: str
    covers: Area | None = None
    price: str | None = None
    aisle: str
    open: Minutes | None = None
    clamp: Hours | None = None
    load: Hours | None = None
    metric_unit: str = ""
    abrasive: str = Field(
        default="",
        description="What sanding discs or paper are called without their grit: several grits are then told as one.",
    )
    grit: int | None = None
    source: str = NO_SOURCE


class CautionEntry(SourceNode):
    """``cautions``: a hazard message with a signal word as ANSI Z535.6 defines it."""

    name: str = Field(default="", description="What the list of cautions calls it; its key where left out.")
    signal: Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
    hazard: str
    consequence: str
    avoid: Annotated[list[str], Field(min_length=1)]
    short: str
    source: str = NO_SOURCE
    covers: str = Field(default="", description="A more general caution that this one stands in for.")
    every_use: bool = Field(default=False, description="Whether every step that has it prints it again.")


class ToolReachEntry(SourceNode):
    """``reach:`` of a tool: how ``wide`` a board it crosses and how ``deep`` it cuts, in one pass."""

    wide: str | None = None
    deep: str


class LeastPieceEntry(SourceNode):
    """``least_piece:`` of a tool: the shortest and narrowest finished piece that it can hold safely."""

    long: str
    wide: str = "0 mm"


class ToolEntry(SourceNode):
    """``tools``: a tool, its cautions (of every use, and of one use alone), what may stand in for it, and what it can do and hold."""

    name: str
    group: str
    power: YesNo = False
    cautions: list[str] = []
    uses: dict[str, list[str]] = {}
    wear: list[str] = []
    lesson: LessonName | None = None
    stand_ins: list[str] = []
    at_hand: YesNo = False
    note: str = ""
    reach: ToolReachEntry | None = None
    least_piece: LeastPieceEntry | None = None
    steered: YesNo = False
    clamp: Literal["plain", "bar"] | None = None
    leaves_round: YesNo = False
    marks_mate: YesNo = False
    squares: YesNo = False
    puts_on: Literal["wipe", "brush", "pad", "spray"] | None = None
    worded_as: str | None = None


class WayEntry(SourceNode):
    """``ways:`` one way to do a kind of work. ``tools`` by id, the one that does the work first; ``pace`` how much longer it takes;
    ``practiced`` where it asks for a hand that has done it before."""

    name: str
    tools: Annotated[list[str], Field(min_length=1)]
    uses: list[str] = []
    pace: Positive = 1.0
    note: str = ""
    practiced: bool = False


class MethodEntry(SourceNode):
    """``methods``: a kind of work, the time it takes to set up once and for each piece, and the ways to do it, best first."""

    once: Minutes
    each: Minutes
    lesson: LessonName | None = None
    ways: Annotated[list[WayEntry], Field(min_length=1)]


class ClampsEntry(SourceNode):
    """``clamps:`` so many clamps that open so far."""

    count: Annotated[int, Field(gt=0)]
    opening: str


class KitEntry(SourceNode):
    """``tool_sets``: what a buyer owns. ``like`` another tool set, with ``tools`` besides and ``without`` some of its tools. ``straightedge`` is how long
    the straightedge or guide rail is: first cuts keep to it as far as the parts allow."""

    name: str
    summary: str = ""
    like: str | None = None
    tools: list[str] = []
    without: list[str] = []
    clamps: list[ClampsEntry] = []
    straightedge: str | None = None


class FinishProductEntry(SourceNode):
    """``finishes``: a stain, oil, sealer or topcoat. ``coverage`` is for one coat."""

    name: str
    kind: Literal["oil", "conditioner", "stain", "gel stain", "sealer", "topcoat", "primer", "wax"]
    method: Literal["wipe", "brush", "spray"]
    coverage: SpreadRate
    recoat: Hours
    cure: Hours
    sand_between: str = ""
    containers: dict[str, Volume]
    metric_containers: dict[str, Volume] = {}
    cautions: list[str] = []
    water_borne: YesNo = False
    cleanup: str
    note: str = ""
    look: FinishLookEntry | None = None
    source: str = NO_SOURCE


class PriceBookEntry(SourceNode):
    """``prices``: what things cost, to a date. By length (``0.85 / ft``) for boards, else for a piece or a pack."""

    currency: str
    date: str
    note: str = ""
    sheets: dict[str, dict[str, dict[str, str]]] = {}
    boards: dict[str, dict[str, str]] = {}
    hardware: dict[str, str] = {}
    consumables: dict[str, str] = {}
    finishes: dict[str, dict[str, str]] = {}


MODELS: dict[str, type[SourceNode]] = {
    "looks": LookEntry,
    "materials": MaterialEntry,
    "hardware": HardwareEntry,
    "consumables": ConsumableEntry,
    "cautions": CautionEntry,
    "tools": ToolEntry,
    "finishes": FinishProductEntry,
    "methods": MethodEntry,
    "tool_sets": KitEntry,
}
"""The kinds of data, by the name of their folder or file, with the model of one entry."""
