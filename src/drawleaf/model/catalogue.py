"""What ``shared/`` holds, as values: materials, hardware, tools, cautions, finishes."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum, StrEnum
from fractions import Fraction

from drawleaf.model.hardware_family import HardwareFamily, family_of
from drawleaf.model.looks import FinishLook, WoodLook
from drawleaf.model.tool_sets import Kit
from drawleaf.model.tools import KindOfWork, PutOn, Tool
from drawleaf.units import ZERO, Length
from drawleaf.units.measures import convert


class Form(Enum):
    """How a material is sold."""

    SHEET = "sheet"
    BOARD = "board"
    MOULDING = "moulding"
    ROD = "rod"
    EDGE = "edge banding"


@dataclass(frozen=True, slots=True)
class SheetSize:
    """A sheet that a store sells. ``length`` runs with the face grain. Few stores keep an ``uncommon`` one."""

    name: str
    length: Length
    width: Length
    price: Fraction | None = None
    uncommon: bool = False


@dataclass(frozen=True, slots=True)
class BoardSize:
    """A board that a store sells: nominal name, actual dressed section, lengths in stock with the price of each.

    Hardwood in random widths is sold by the board foot: ``narrowest`` is what one may be handed, ``width`` what a layout counts on,
    ``foot_price`` the price of a board foot (of a square metre, where it is named in millimetres), ``waste`` the share to buy on top of
    the parts' own measure. ``planing`` is what planing both faces takes off rough-sawn lumber; nothing where it is sold surfaced.
    """

    name: str
    thickness: Length
    width: Length
    lengths: tuple[Length, ...]
    prices: tuple[Fraction | None, ...]
    narrowest: Length | None = None
    foot_price: Fraction | None = None
    waste: Fraction = Fraction(0)
    planing: Length = ZERO

    @property
    def thickest(self) -> Length:
        """The thickest that a finished part of it can be."""
        return self.thickness - self.planing

    @property
    def by_the_foot(self) -> bool:
        """Whether it is sold by the board foot: named in quarters of an inch."""
        return self.name.endswith("/4")

    def measure(self, length: Length, width: Length) -> Fraction:
        """What random-width lumber is sold by: board feet, or square metres where it is named in millimetres."""
        if self.by_the_foot:
            return self.board_feet(length, width)
        return convert(length.exact_mm * width.exact_mm, "mm^2", "m^2")

    @property
    def random_widths(self) -> bool:
        return self.narrowest is not None

    def board_feet(self, length: Length, width: Length) -> Fraction:
        """Board feet of random-width lumber: nominal quarters of an inch, by width and length (trade custom, no source)."""
        quarters = int(self.name.partition("/")[0])
        return convert(Fraction(quarters, 4) * length.inches * width.inches, "in^3", "board_foot")


@dataclass(frozen=True, slots=True)
class ProfileCorner:
    """A corner of a moulding's section: how far out from its back, how far up from its bottom edge. ``arc`` is the radius of the arc to
    the next corner: positive bulges out, negative is hollow; None for a straight line."""

    out: Length
    up: Length
    arc: Length | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """A sheet good or a wood, with the figures that lists and checks need.

    ``density`` in kg/m3; ``stiffness`` (modulus of elasticity) in MPa; movement coefficients per % of moisture change.
    ``sheets`` are the sizes sold for each nominal thickness; ``actuals`` what each nominal thickness usually measures. ``extra`` is what
    each piece of a moulding or edging is cut longer, for its mitres or for trimming flush.
    """

    id: str
    name: str
    form: Form
    tint: str
    density: float
    solid: bool
    hard: bool
    stiffness: float | None
    radial: float | None
    tangential: float | None
    sheets: tuple[tuple[Length, tuple[SheetSize, ...]], ...]
    boards: tuple[BoardSize, ...]
    aisle: str
    source: str
    actuals: tuple[tuple[Length, Length], ...] = ()
    extra: Length = ZERO
    profiles: tuple[tuple[str, tuple[ProfileCorner, ...]], ...] = ()
    """Of a moulding, the section of each nominal size."""
    blotches: bool = False
    """Whether it takes stain unevenly."""
    look: str = ""
    """The id of how it looks in pictures; empty where only its tint is known."""

    @property
    def specific_gravity(self) -> float:
        """By its weight when oven-dry and its volume at 12% moisture, as rules for screws have it: water weighs 1000 kg/m3, and 12% of the
        wood's weight is water (Wood Handbook FPL-GTR-282, eq. 4-7, from memory)."""
        return self.density / 1120

    def mass(self, volume: float) -> float:
        """Kilograms that so many cubic millimetres of it weigh."""
        return convert(volume, "mm^3", "m^3") * self.density

    def profile(self, nominal: str) -> tuple[ProfileCorner, ...]:
        """The section of that nominal size; empty where it is a plain rectangle."""
        return dict(self.profiles).get(nominal, ())

    def usual_thickness(self, nominal: Length) -> Length:
        """What a sheet of that nominal thickness usually measures; the nominal figure where nothing is known."""
        return dict(self.actuals).get(nominal, nominal)


@dataclass(frozen=True, slots=True)
class Stock:
    """A material at a thickness, as the plan names it.

    ``nominal`` is what the label says, ``thickness`` what a caliper says. ``width`` is the dressed width of a board,
    None for sheets and for boards sold in random widths. ``uncommon`` when the author takes sheets that few stores keep.
    ``at_yard`` when the yard planes it to its thickness; ``defects`` is the share of each board's length that is counted off for knots and checks.
    """

    id: str
    name: str
    material: Material
    nominal: str
    thickness: Length
    width: Length | None
    sheets: tuple[SheetSize, ...]
    boards: tuple[BoardSize, ...]
    note: str = ""
    uncommon: bool = False
    at_yard: bool = False
    defects: Fraction = Fraction(0)
    profile: str = ""
    """The plan's profile that all of it is run to: a moulding of one's own."""
    as_bought: bool = False
    """Whether boards are sold at this thickness, whatever the catalogue says: nobody planes them."""


@dataclass(frozen=True, slots=True)
class Clearance:
    """Room that a piece of hardware asks for, with the words for it: ``("each side of the drawer", 1/2 in)``."""

    where: str
    room: Length


@dataclass(frozen=True, slots=True)
class HardwareScrew:
    """Screws that a piece of hardware is mounted with. ``supplied`` when they come in its packet."""

    item: str
    count: int
    supplied: bool


class FastenerKind(StrEnum):
    """Kinds of hardware that join wood to wood, as ``shared/hardware`` writes them."""

    WOOD_SCREW = "wood screw"
    PAN_HEAD_SCREW = "pan-head screw"
    POCKET_SCREW = "pocket screw"
    MACHINE_SCREW = "machine screw"
    BRAD = "brad"
    DOWEL = "dowel"
    PEG = "peg"
    LOOSE_TENON = "loose tenon"


SCREWS = (FastenerKind.WOOD_SCREW, FastenerKind.PAN_HEAD_SCREW)
"""Screws driven square to a face, through a clearance hole."""
PINS = (FastenerKind.DOWEL, FastenerKind.PEG, FastenerKind.LOOSE_TENON)
"""Fasteners that are wood themselves, in holes of their own in both parts."""
WASHER = "washer"
"""The kind of the washers that lie under heads which slide in a slot."""
PLUG = "wood plug"
"""The kind of the plugs that hide the heads of screws."""


@dataclass(frozen=True, slots=True)
class HardwareItem:
    """A bought item: a screw size, a slide, a hook, a strap.

    ``kind`` drives behaviour: a ``FastenerKind``, or the key of a ``family`` of hardware. Screws carry ``gauge`` and ``length``; ``body`` is (along x, y, z as mounted on a
    front face) for the drawings: along the face, out from it, up; None where it is too small to draw. ``hole`` is the bore it asks for.
    ``thread`` is ``coarse`` or ``fine`` for pocket screws, else empty. ``metric`` is what to ask for in a metric shop, empty where the
    name serves.
    """

    id: str
    name: str
    plural: str
    kind: str
    length: Length | None
    gauge: int | None
    diameter: Length | None
    body: tuple[Length, Length, Length] | None
    hole: Length | None
    clearances: tuple[Clearance, ...]
    screws: tuple[HardwareScrew, ...]
    per_pack: int
    pack: str
    price: Fraction | None
    aisle: str
    note: str
    source: str
    thread: str = ""
    metric: str = ""
    measures: tuple[tuple[str, Length], ...] = ()
    """Named sizes that its family knows: the bore of a hinge's cup, the thickness of a leaf, the swivel of a castor."""
    made_of: Stock | None = None
    """What the maker makes it of, such as a loose tenon cut off a strip; None for what is bought."""
    look: str = "steel"
    """What it looks made of: steel, brass, bronze, black, white or wood."""

    @property
    def family(self) -> HardwareFamily:
        """What a room may ask of its kind."""
        return family_of(self.kind)

    @property
    def pin(self) -> bool:
        """Whether it is a pin of wood in holes of its own, made in both parts: a dowel, a peg, a loose tenon."""
        return self.kind in PINS

    @property
    def comes_along(self) -> bool:
        """Whether it stands in a part already when that part comes to another: a dowel or a loose tenon, which nothing drives."""
        return self.pin and self.kind != FastenerKind.PEG

    def measure(self, name: str) -> Length | None:
        """The measure of that name, None where it has none."""
        return dict(self.measures).get(name)


GLUE = "wood glue"
"""The entry of the consumables that joints are glued with; a plan may put another glue in its place."""


@dataclass(frozen=True, slots=True)
class Consumable:
    """Glue, abrasives, tape: bought by use. ``covers`` is square metres for one ``unit`` (None where counted otherwise).

    Glue has an ``open_minutes`` (from spreading to closing), and hours in the clamps and until it may be loaded. Of an ``abrasive``, what it
    is called whatever its ``grit``, several grits are told as one.
    """

    id: str
    name: str
    unit: str
    covers: float | None
    price: Fraction | None
    aisle: str
    source: str
    open_minutes: float | None = None
    clamp_hours: float | None = None
    load_hours: float | None = None
    metric_unit: str = ""
    abrasive: str = ""
    grit: int | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard message by ANSI Z535.6: signal word, hazard, consequence, how to avoid it; and a short form for repeats.

    ``covers`` is the id of a more general caution that this one says in the words of its own work, and stands in for.
    ``every_use``: it is printed at every step that has it, however often.
    """

    id: str
    signal: str
    hazard: str
    consequence: str
    avoid: tuple[str, ...]
    short: str
    source: str
    covers: str = ""
    every_use: bool = False
    name: str = ""
    """What a list calls it, where that is not its id."""


class FinishKind(StrEnum):
    """What a finish is."""

    OIL = "oil"
    CONDITIONER = "conditioner"
    STAIN = "stain"
    GEL_STAIN = "gel stain"
    SEALER = "sealer"
    TOPCOAT = "topcoat"
    PRIMER = "primer"
    WAX = "wax"


@dataclass(frozen=True, slots=True)
class FinishProduct:
    """A stain, oil, sealer or topcoat; ``kind`` and ``method`` as its maker means it. ``coverage`` in square metres a litre and coat; waits in hours."""

    id: str
    name: str
    kind: FinishKind
    method: PutOn
    coverage: float
    recoat_hours: float
    cure_hours: float
    sand_between: str
    containers: tuple[tuple[str, float, Fraction | None], ...]
    cautions: tuple[str, ...]
    cleanup: str
    note: str
    source: str
    metric_containers: tuple[tuple[str, float, Fraction | None], ...] = ()
    water_borne: bool = False
    look: FinishLook | None = None

    @property
    def stains(self) -> bool:
        """Whether it colours the wood."""
        return self.kind in (FinishKind.STAIN, FinishKind.GEL_STAIN)

    @property
    def soaks_in(self) -> bool:
        """Whether it colours the wood by soaking in, so that it shows where the wood takes more of it."""
        return self.kind is FinishKind.STAIN

    @property
    def evens(self) -> bool:
        """Whether what soaks in goes on evenly over it."""
        return self.kind in (FinishKind.CONDITIONER, FinishKind.SEALER)


@dataclass(frozen=True, slots=True)
class PriceBook:
    """Where the prices come from and when they were noted, with the currency sign to print."""

    currency: str
    date: str
    note: str


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All of ``shared/`` that lists draw on, by id."""

    materials: dict[str, Material]
    hardware: dict[str, HardwareItem]
    consumables: dict[str, Consumable]
    cautions: dict[str, Caution]
    tools: dict[str, Tool]
    finishes: dict[str, FinishProduct]
    prices: PriceBook
    methods: dict[str, KindOfWork] = field(default_factory=dict)
    kits: dict[str, Kit] = field(default_factory=dict)
    looks: dict[str, WoodLook] = field(default_factory=dict)
