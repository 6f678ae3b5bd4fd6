"""The source language as typed models: every key that an author may write, with what it means.

The reader keeps each scalar as the text that was written, so ``3-1/2`` and ``15.5`` stay exact; ``Expr`` fields are parsed by
``drawleaf.source.expressions`` when the plan is resolved. Unknown keys are errors. The reader sets ``path`` on every node
(``("assemblies", "case", "parts", "side")``) and keeps the positions of all paths beside the tree.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr

Expr = Annotated[str, Field(description="A length, number or expression: 3-1/2, 18 mm, width / 2, side.right.")]
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*$", description="Lower-case letters, digits and underscores.")]
AxisName = Literal["x", "y", "z"]
FaceName = Literal["left", "right", "front", "back", "bottom", "top"]
Names = str | list[str]


class Node(BaseModel):
    """Base of all source nodes. ``path`` is where it stands in its file; ``source_file`` which file that is."""

    model_config = ConfigDict(extra="forbid", frozen=True)
    _path: tuple[str | int, ...] = PrivateAttr(default=())
    _file: str = PrivateAttr(default="")

    @property
    def path(self) -> tuple[str | int, ...]:
        return self._path

    @property
    def source_file(self) -> str:
        return self._file


class PlanHead(Node):
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
    history: list[RevisionEntry] = []


class RevisionEntry(Node):
    """One line of the revision history."""

    mark: str
    date: str
    text: str


class MakingEntry(Node):
    """``making:`` shop allowances."""

    kerf: Expr = "1/8 in"
    sheet_trim: Expr = "1/4 in"
    end_trim: Expr = "1/2 in"
    jointing: Expr = "0 in"
    kit: str = "common power tools"


class StockEntry(Node):
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
    uncommon: Literal["yes"] | None = Field(default=None, description="Take sheet sizes too that few stores keep.")
    name: str | None = None
    note: str = ""


class MirrorEntry(Node):
    """``mirror:`` a twin across a plane: ``mirror: {x: width / 2}``. Exactly one axis."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None


class RepeatEntry(Node):
    """``repeat:`` copies along an axis: ``{along: z, pitch: 5, count: 3}`` or ``{along: z, at: [0, 5, 11]}`` (offsets from the first)."""

    along: AxisName
    count: Expr | None = None
    pitch: Expr | None = None
    at: list[Expr] | None = None


class GlueUpEntry(Node):
    """``glue_up:`` the part is a panel of strips: ``{strips: 5}`` or ``{widest: 4}``; ``extra`` is trimmed off after glue-up."""

    strips: Expr | None = None
    widest: Expr | None = None
    extra: Expr = "1/2 in"


class PartEntry(Node):
    """``parts:`` a piece of stock between faces. On each axis two of low face, high face and extent; the thickness axis needs one face."""

    stock: str
    name: str | None = None
    thickness: AxisName
    full_width: AxisName | None = Field(default=None, description="Axis that takes the stock's own width.")
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
    mirror: MirrorEntry | None = None
    repeat: RepeatEntry | None = None
    glue_up: GlueUpEntry | None = None
    oversize: Expr | None = Field(
        default=None, description="Cut so much larger along each edge, and trimmed to size later."
    )
    match: str = Field(
        default="",
        description="Parts with the same word here are cut side by side from one strip, so that the grain runs on.",
    )
    note: str = ""


class ScrewOptions(Node):
    """How screws, pocket screws or brads are set: which item, how many or how far apart, how far from the ends, through which part."""

    item: str | None = None
    count: Expr | None = None
    every: Expr | None = None
    ends: Expr | None = None
    through: str | None = None
    on: FaceName | None = Field(default=None, description="Pocket screws: the face that the pockets are bored in.")
    slots: Literal["yes"] | None = Field(
        default=None, description="Screws through slots, so that a wide board can move across its grain."
    )


class Fastening(Node):
    """One entry of ``with:``. A bare word is short for the word with no options."""

    glue: Literal["yes"] | None = None
    screws: ScrewOptions | None = None
    pocket_screws: ScrewOptions | None = None
    brads: ScrewOptions | None = None


FasteningWord = Literal["glue", "screws", "pocket_screws", "brads"]


class JointEntry(Node):
    """``joints:`` how parts meet. Exactly one family key names what is let in or set on; ``to`` or ``in`` names what receives it.

    A name stands for all copies of a part; an assembly's name for those of its parts that touch. ``depth`` is how far the part is let in.
    """

    butt: Names | None = None
    dado: Names | None = None
    groove: Names | None = None
    rabbet: Names | None = None
    to: Names | None = None
    in_: Names | None = Field(default=None, alias="in")
    depth: Expr | None = None
    play: Expr | None = Field(default=None, description="Room left at the bottom of a groove for the panel to move.")
    stopped: dict[FaceName, Expr] = Field(
        default={}, description="Ends of the channel that stop short, and how far from that face."
    )
    with_: list[FasteningWord | Fastening] = Field(default=[], alias="with")
    name: str | None = None


class PinRows(Node):
    """``shelf_pins:`` rows of blind holes up a face."""

    face: FaceName
    rows: dict[FaceName, Expr] = Field(description="Distance of each row from a face of the part: {front: 2, back: 2}.")
    start: Expr = Field(description="Height of the lowest hole.")
    pitch: Expr
    count: Expr
    diameter: Expr = "1/4 in"
    depth: Expr = "3/8 in"


class At(Node):
    """A place: the two coordinates that the face leaves open, or all three."""

    x: Expr | None = None
    y: Expr | None = None
    z: Expr | None = None


class BoreEntry(Node):
    """``bore:`` / ``finger_hole:`` round holes. Without ``depth`` they go through."""

    face: FaceName
    at: At
    repeat: RepeatEntry | None = None
    diameter: Expr
    depth: Expr | None = None


class NotchEntry(Node):
    """``notch:`` a corner cut off square, full thickness: the corner of two faces, and how far it runs along each axis."""

    corner: list[FaceName] = Field(min_length=2, max_length=2)
    wide: Expr | None = None
    deep: Expr | None = None
    high: Expr | None = None


class EdgeEntry(Node):
    """``round_over:`` / ``chamfer:`` edges named by their two faces: ``front-top``."""

    edges: list[str]
    size: Expr


class MachiningEntry(Node):
    """``machining:`` work on one part that is no joint. ``in`` names the part; a twin is machined as its mirror image.

    Exactly one of the other keys.
    """

    in_: Names = Field(alias="in")
    shelf_pins: PinRows | None = None
    bore: BoreEntry | None = None
    finger_hole: BoreEntry | None = None
    notch: NotchEntry | None = None
    round_over: EdgeEntry | None = None
    chamfer: EdgeEntry | None = None


class FittingEntry(Node):
    """``fittings:`` bought hardware in its place. ``fit`` is an id from ``shared/hardware``.

    Slides: ``on`` the fixed parts, ``carries`` the drawer's assembly. Shelf pins: ``on`` the shelf they carry.
    """

    fit: str
    on: Names
    face: FaceName | None = None
    at: At | None = None
    repeat: RepeatEntry | None = None
    into: Name | None = Field(
        default=None, description="The part behind a thin panel that the screws of the fitting reach through it."
    )
    carries: str | None = None
    count: Expr | None = None
    note: str = ""


class AssemblyEntry(Node):
    """``assemblies:`` parts that belong together; inside another it goes where ``at`` says. Or a component from ``shared/components``."""

    name: str | None = None
    component: str | None = None
    with_: dict[Name, Expr] = Field(default={}, alias="with", description="The component's parameters.")
    at: At | None = None
    loose: bool = Field(default=False, description="Not fastened to the rest: a drawer, a shelf on pins.")
    dimensions: dict[Name, Expr] = {}
    counts: dict[Name, Expr] = {}
    parts: dict[Name, PartEntry] = {}
    assemblies: dict[Name, AssemblyEntry] = {}
    joints: list[JointEntry] = []
    machining: list[MachiningEntry] = []
    fittings: list[FittingEntry] = []


class FinishEntry(Node):
    """``finish:`` one line of the schedule: ``sand`` through grits, or ``apply`` a product in so many ``coats``."""

    sand: list[int] | None = None
    apply: str | None = None
    coats: Expr = "1"
    to: Names = "all"
    but: Names = []
    before_assembly: bool = False
    note: str = ""


class NoteEntry(Node):
    """``notes:`` the author's words (Markdown) hooked onto a step, part or chapter; or a Markdown ``file`` beside the plan."""

    step: str | None = None
    part: str | None = None
    chapter: str | None = None
    text: str | None = None
    file: str | None = None
    picture: str | None = None


class LoadEntry(Node):
    """``loads:`` what will stand on some parts: a word, or a figure such as ``40 lb/ft2``, ``30 kg/m`` or ``20 kg``."""

    on: Names
    load: str


class WaiverEntry(Node):
    """``waive:`` a finding that the author accepts, and why. Without ``on`` all findings of that check."""

    check: str
    on: Names = []
    reason: str


class ChecksEntry(Node):
    """``checks:`` what the workshop checks assume, and which of their findings the author accepts."""

    climate: Literal["heated", "steady", "dry", "humid"] = "heated"
    humidity: list[str] | None = Field(
        default=None, description="Driest and dampest relative humidity in percent: [30, 60]. Goes before climate."
    )
    loads: list[LoadEntry] = []
    waive: list[WaiverEntry] = []


class EditionEntry(Node):
    """``editions:`` a named set of changes on the same source."""

    title: str | None = None
    subtitle: str | None = None
    units: Literal["in", "mm", "both"] | None = None
    paper: Literal["letter", "a4"] | None = None
    round_to: Expr | None = None
    dimensions: dict[Name, Expr] = {}
    counts: dict[Name, Expr] = {}
    stock: dict[Name, StockChange] = {}
    without: list[str] = Field(
        default=[], description="Assemblies left out; joints and fittings that name them go too."
    )
    kit: str | None = None


class StockChange(Node):
    """What an edition changes about a stock; what is left out stays."""

    material: str | None = None
    nominal: str | None = None
    size: str | None = None
    actual: Expr | None = None
    width: Expr | None = None
    name: str | None = None


class PlanSource(Node):
    """A whole ``plan.yaml``."""

    plan: PlanHead
    making: MakingEntry = MakingEntry()
    dimensions: dict[Name, Expr] = Field(default={}, description="Named lengths and angles.")
    counts: dict[Name, Expr] = Field(default={}, description="Named whole numbers: how many hooks, how many shelves.")
    stock: dict[Name, StockEntry]
    assemblies: dict[Name, AssemblyEntry]
    finish: list[FinishEntry] = []
    notes: list[NoteEntry] = []
    checks: ChecksEntry = ChecksEntry()
    editions: dict[str, EditionEntry] = {}


class ComponentSource(Node):
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
    fittings: list[FittingEntry] = []


for _model in (PlanHead, AssemblyEntry, EditionEntry, PlanSource, ComponentSource):
    _model.model_rebuild()
