"""The source language as typed models: every key that an author may write, with what it means.

The reader keeps each scalar as the text that was written, so ``3-1/2`` and ``15.5`` stay exact; ``Expr`` fields are parsed by
``drawleaf.source.expressions`` when the plan is resolved. Unknown keys are errors. The reader sets ``path`` on every node
(``("assemblies", "case", "parts", "side")``) and keeps the positions of all paths beside the tree.
"""

# ruff: noqa: RUF012 - pydantic copies a default for every instance
from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field

from drawleaf.source.cover_models import CoverEntry as CoverEntry
from drawleaf.source.film_models import FilmEntry as FilmEntry
from drawleaf.source.hardware_models import FittingEntry as FittingEntry
from drawleaf.source.help_models import HelpEntry as HelpEntry
from drawleaf.source.joint_models import Fastening as Fastening
from drawleaf.source.joint_models import FasteningWord as FasteningWord
from drawleaf.source.joint_models import JointEntry as JointEntry
from drawleaf.source.joint_models import LooseOptions as LooseOptions
from drawleaf.source.joint_models import ScrewOptions as ScrewOptions
from drawleaf.source.joint_models import SplineOptions as SplineOptions
from drawleaf.source.machining_models import BoreEntry as BoreEntry
from drawleaf.source.machining_models import CutoutEntry as CutoutEntry
from drawleaf.source.machining_models import EdgeEntry as EdgeEntry
from drawleaf.source.machining_models import MachiningEntry as MachiningEntry
from drawleaf.source.machining_models import NotchEntry as NotchEntry
from drawleaf.source.machining_models import OutlineCorner as OutlineCorner
from drawleaf.source.machining_models import PinRows as PinRows
from drawleaf.source.machining_models import RecessEntry as RecessEntry
from drawleaf.source.machining_models import ShapeEntry as ShapeEntry
from drawleaf.source.machining_models import TaperEntry as TaperEntry
from drawleaf.source.machining_models import TrimEntry as TrimEntry
from drawleaf.source.nodes import (
    LINE_NAME,
    AxisOrNo,
    MirrorOrNo,
    RepeatOrNo,
    unless_like,
)
from drawleaf.source.nodes import At as At
from drawleaf.source.nodes import AxisName as AxisName
from drawleaf.source.nodes import Expr as Expr
from drawleaf.source.nodes import FaceName as FaceName
from drawleaf.source.nodes import MirrorEntry as MirrorEntry
from drawleaf.source.nodes import Name as Name
from drawleaf.source.nodes import Names as Names
from drawleaf.source.nodes import RepeatEntry as RepeatEntry
from drawleaf.source.nodes import SourceNode as SourceNode
from drawleaf.source.nodes import Yes as Yes
from drawleaf.source.nodes import YesNo as YesNo
from drawleaf.source.part_models import AroundEntry as AroundEntry
from drawleaf.source.part_models import AroundOrNo, BetweenEntry, GlueUpOrNo
from drawleaf.source.part_models import FittedEntry as FittedEntry
from drawleaf.source.part_models import GlueUpEntry as GlueUpEntry
from drawleaf.source.stock_models import ProfileEntry as ProfileEntry
from drawleaf.source.stock_models import ProfilePoint as ProfilePoint
from drawleaf.source.stock_models import SectionEntry as SectionEntry
from drawleaf.source.stock_models import SectionOrNo
from drawleaf.source.stock_models import StockChange as StockChange
from drawleaf.source.stock_models import StockEntry as StockEntry


class PlanHead(SourceNode):
    """``plan:`` what the cover and colophon say, and the units that the source is written in."""

    title: str
    subtitle: str = ""
    number: str
    revision: str = "A"
    date: str = Field(description="Date of this revision, 2026-11-20.")
    author: str
    contact: str = ""
    copyright: str = ""
    terms: str = ""
    summary: str = ""
    skill: Literal["beginner", "some experience", "experienced"] = "beginner"
    learner: YesNo | None = None
    hard_parts: list[str] = []
    care: list[str] = []
    price: str | None = Field(default=None, description="What the plan sells for; leave out for a free plan.")
    lengths: Literal["in", "mm"] = Field(default="in", description="Unit of every length written without one.")
    units: Literal["in", "mm", "both"] | None = Field(
        default=None, description="Unit printed; as `lengths` if left out."
    )
    paper: Literal["letter", "a4"] | None = Field(
        default=None, description="Letter for inch plans, A4 for metric, if left out."
    )
    round_to: Expr | None = Field(default=None, description="Finest fraction printed: 1/32 or 0.5 mm.")
    language: Literal["en-US", "en-GB"] | None = None
    history: list[RevisionEntry] = []


class RevisionEntry(SourceNode):
    """One line of the revision history."""

    mark: str
    date: str
    text: str


class ShopEntry(SourceNode):
    """``shop:`` what the layouts allow for, and the tools that the steps are written for."""

    kerf: Expr = "1/8 in"
    sheet_trim: Expr = "1/4 in"
    end_trim: Expr = "1/2 in"
    jointing_allowance: Expr = "0 in"
    tools: str = "common power tools"
    glue: str = "wood glue"


class PartEntry(SourceNode):
    """``parts:`` a piece of stock between faces. On each axis two of low face, high face and extent; the thickness axis needs one face."""

    model_config = ConfigDict(json_schema_extra=unless_like)

    like: Name | None = None
    stock: str
    name: str | None = None
    thickness: AxisName
    full_width: AxisOrNo | None = Field(default=None, description="Axis that takes the stock's own width.")
    grain: AxisName | Literal["any"]
    left: Expr | None = None
    right: Expr | None = None
    front: Expr | None = None
    back: Expr | None = None
    bottom: Expr | None = None
    top: Expr | None = None
    wide: Expr | None = Field(default=None, description="Extent along x.")
    deep: Expr | None = Field(default=None, description="Extent along y.")
    high: Expr | None = Field(default=None, description="Extent along z.")
    between: str | BetweenEntry | None = Field(
        default=None,
        description="A part of this assembly with a `mirror`: this one reaches from it to its twin, as a shelf does between two sides. Or by axis two parts that it stands between: `{x: [post, side], z: [floor, lid], gap: 1/16}`.",
    )
    mirror: MirrorOrNo | None = None
    repeat: RepeatOrNo | None = None
    around: AroundOrNo | None = Field(
        default=None, description="Copies evenly round an upright: `{x: 0, y: 0, count: 3}`."
    )
    glue_up: GlueUpOrNo | None = None
    section: SectionOrNo | None = Field(default=None, description="A moulding's profile, or `round`.")
    lean: dict[FaceName, Expr] = Field(
        default={},
        description="Degrees by which the top leans to a side, seen square-on (splay sideways, rake to the front or back); two sides for both.",
    )
    turn: Expr | None = Field(default=None, description="Degrees that the part is turned about the upright.")
    level_ends: dict[FaceName, Expr] = Field(
        default={},
        description="Ends of a leaning part that are cut off level with the piece: {bottom: 0, top: seat.bottom}.",
    )
    pivot: FaceName | At | None = Field(
        default=None, description="What stays in place as the part leans: the middle of a face (bottom), or a point."
    )
    oversize: Expr | None = Field(
        default=None, description="Cut so much larger along each edge, and trimmed to size later."
    )
    fitted: FittedEntry | YesNo | None = Field(
        default=None,
        description="Cut over its size, and marked from the standing piece: `{length: 1/2, from: case}`; `no` to cut it to size at once.",
    )
    grain_match: str = Field(
        default="",
        description="Parts with the same word here are cut side by side from one strip, so that the grain runs on.",
    )
    note: str = ""


class AssemblyRepeat(RepeatEntry):
    """``repeat:`` of an assembly: copies along an axis, and in lists what is not the same in all of them."""

    count: str | None = Field(
        default=None,
        description="How many there are, the first among them: a number, or a sum of dimensions and counts of the plan.",
    )
    names: list[str] | None = Field(
        default=None, description="What each is called; if left out they have the assembly's name and a number."
    )
    with_: dict[Name, list[Expr]] = Field(
        default={},
        alias="with",
        description="A component's parameters that differ, each with a list: one for each copy.",
    )
    dimensions: dict[Name, list[Expr]] = Field(
        default={}, description="Dimensions of the assembly that differ, each with a list: one for each copy."
    )
    joints: list[JointEntry] = Field(
        default=[], description="How each copy is joined to the one before, which is called `previous` here."
    )


class AssemblyEntry(SourceNode):
    """``assemblies:`` parts that belong together; inside another it goes where ``at`` says. Or a component from ``shared/components``."""

    name: str | None = None
    like: Name | None = None
    mirrored: MirrorEntry | None = None
    repeat: AssemblyRepeat | None = Field(
        default=None,
        description="It is made several times: {along: x, count: 3, spacing: 24} or {along: x, at: [0, 24, 50]}. Copies are called bay_2, bay_3.",
    )
    component: str | None = None
    with_: dict[Name, Expr] = Field(
        default={}, alias="with", description="The component's parameters: lengths, and stocks of the plan."
    )
    at: At | None = None
    between: BetweenEntry | None = Field(
        default=None,
        description="What a component stands between, by axis, from which its `wide`, `deep` or `high` and its place follow: `{x: [post, side], gap: 1/2}`.",
    )
    loose: YesNo = Field(default=False, description="Not fastened to the rest: a drawer, a shelf on pins.")
    upside_down: YesNo = Field(
        default=False,
        description="Its mouldings lie the other way up, as a base moulding does that serves as a cornice.",
    )
    dimensions: dict[Name, Expr] = {}
    counts: dict[Name, Expr] = {}
    parts: dict[Name, PartEntry] = {}
    assemblies: dict[Name, AssemblyEntry] = {}
    joints: list[JointEntry] = []
    machining: list[MachiningEntry] = []
    hardware: list[FittingEntry] = []


class FinishEntry(SourceNode):
    """``finish:`` one line of the schedule: ``sand`` through grits, ``fill`` gaps, or ``apply`` a product in so many ``coats``."""

    sand: list[int] | None = None
    fill: Literal["gaps"] | None = Field(
        default=None,
        description="Open joints are filled when the glue is dry, before the last sanding.",
    )
    apply: str | None = None
    coats: Expr = "1"
    by: Literal["wipe", "brush", "pad", "spray"] | None = Field(
        default=None,
        description="How the product is put on; as its maker says and the tools do it best where left out.",
    )
    to: Names = "all"
    but: Names = []
    before_assembly: YesNo = False
    after: Names = Field(default=[], description="What is joined before this is done.")
    before: Names = Field(default=[], description="What comes when this is done: it is done before assembly.")
    note: str = ""
    name: Name | None = Field(default=None, description=LINE_NAME)


class NoteEntry(SourceNode):
    """``notes:`` the author's words (Markdown) hooked onto a step, part or chapter; or a Markdown ``file`` beside the plan."""

    step: str | None = None
    part: str | None = None
    chapter: str | None = None
    text: str | None = None
    file: str | None = None
    picture: str | None = None
    name: Name | None = Field(default=None, description=LINE_NAME)


class LoadEntry(SourceNode):
    """``loads:`` what will stand on some parts: a word, or a figure such as ``40 lb/ft2``, ``30 kg/m`` or ``20 kg``."""

    on: Names
    load: str


class WaiverEntry(SourceNode):
    """``waive:`` a finding that the author accepts, and why. Without ``on`` all findings of that check."""

    check: str
    on: Names = []
    reason: str


class ChecksEntry(SourceNode):
    """``checks:`` what the workshop checks assume, and which of their findings the author accepts."""

    climate: Literal["heated", "steady", "dry", "humid"] = "heated"
    humidity: list[str] | None = Field(
        default=None, description="Driest and dampest relative humidity in percent: [30, 60]. Goes before climate."
    )
    loads: list[LoadEntry] = []
    waive: list[WaiverEntry] = []


class EditionEntry(SourceNode):
    """``editions:`` a named set of changes on the same source."""

    title: str | None = None
    subtitle: str | None = None
    units: Literal["in", "mm", "both"] | None = None
    paper: Literal["letter", "a4"] | None = None
    round_to: Expr | None = None
    language: Literal["en-US", "en-GB"] | None = None
    cover: CoverEntry | None = Field(
        default=None, description="Its own picture: without one, an edition that looks otherwise has a drawing."
    )
    dimensions: dict[Name, Expr] = {}
    counts: dict[Name, Expr] = {}
    stock: dict[Name, StockChange] = {}
    without: list[str] = Field(
        default=[],
        description="Assemblies left out, with the joints, hardware and notes that name them; or lines of the plan by their `name`.",
    )
    another_way: list[Name] = Field(
        default=[], description="Other ways that this edition takes, each by the name of its line under `another_way`."
    )
    assemblies: dict[str, AssemblyChange] = Field(
        default={},
        description="Lines that this edition adds to assemblies, or puts in place of those with the same `name`.",
    )
    finish: list[FinishEntry] = Field(
        default=[], description="Lines of the finish that are added, or take the place of those with the same `name`."
    )
    notes: list[NoteEntry] = Field(
        default=[], description="Notes that are added, or take the place of those with the same `name`."
    )
    tools: str | None = None
    summary: str | None = None
    skill: Literal["beginner", "some experience", "experienced"] | None = None
    learner: YesNo | None = None
    hard_parts: list[str] | None = None
    care: list[str] | None = None


class AssemblyChange(SourceNode):
    """What an edition adds to an assembly. A line with the ``name`` of one of the plan's stands in its place, whole."""

    dimensions: dict[Name, Expr] = {}
    counts: dict[Name, Expr] = {}
    joints: list[JointEntry] = []
    machining: list[MachiningEntry] = []
    hardware: list[FittingEntry] = []


class PlanSource(SourceNode):
    """A whole ``plan.yaml``."""

    plan: PlanHead
    shop: ShopEntry = ShopEntry()
    dimensions: dict[Name, Expr] = Field(default={}, description="Named lengths and angles.")
    counts: dict[Name, Expr] = Field(default={}, description="Named whole numbers: how many hooks, how many shelves.")
    stock: dict[Name, StockEntry]
    profiles: dict[Name, ProfileEntry] = Field(default={}, description="Sections of mouldings.")
    assemblies: dict[Name, AssemblyEntry]
    finish: list[FinishEntry] = []
    notes: list[NoteEntry] = []
    checks: ChecksEntry = ChecksEntry()
    cover: CoverEntry | None = Field(default=None, description="A picture of the piece for the cover.")
    film: FilmEntry | None = Field(
        default=None, description="The film of the build: each step shows a code and the time."
    )
    editions: dict[str, EditionEntry] = {}


class ComponentSource(SourceNode):
    """A reusable assembly in ``shared/components``: parameters with defaults (None: must be given) and what an assembly holds.

    Stock parameters are given by the name of one of the plan's stocks.
    """

    component: str
    about: str = ""
    lengths: Literal["in", "mm"] = "in"
    parameters: dict[Name, Expr | None] = Field(default={}, description="Lengths; null where the plan must give one.")
    stock: dict[Name, str] = Field(default={}, description="Stock parameters with what each is for.")
    dimensions: dict[Name, Expr] = {}
    parts: dict[Name, PartEntry]
    joints: list[JointEntry] = []
    machining: list[MachiningEntry] = []
    hardware: list[FittingEntry] = []
