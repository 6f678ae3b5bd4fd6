"""What ``shared/`` holds, as values: materials, hardware, tools, cautions, finishes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from drawleaf.units import Length


class Form(Enum):
    """How a material is sold."""

    SHEET = "sheet"
    BOARD = "board"
    MOULDING = "moulding"
    ROD = "rod"
    EDGE = "edge trim"


@dataclass(frozen=True, slots=True)
class SheetSize:
    """A sheet that a store sells. ``length`` runs with the face grain."""

    name: str
    length: Length
    width: Length
    price: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BoardSize:
    """A board that a store sells: nominal name, actual dressed section, lengths in stock with the price of each."""

    name: str
    thickness: Length
    width: Length
    lengths: tuple[Length, ...]
    prices: tuple[Fraction | None, ...]


@dataclass(frozen=True, slots=True)
class Material:
    """A sheet good or a wood, with the figures that lists and checks need.

    ``density`` in kg/m3; ``stiffness`` (modulus of elasticity) in MPa; movement coefficients per % of moisture change.
    ``sheets`` are the sizes sold for each nominal thickness; ``actuals`` what each nominal thickness usually measures.
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

    def usual_thickness(self, nominal: Length) -> Length:
        """What a sheet of that nominal thickness usually measures; the nominal figure where nothing is known."""
        return dict(self.actuals).get(nominal, nominal)


@dataclass(frozen=True, slots=True)
class Stock:
    """A material at a thickness, as the plan names it.

    ``nominal`` is what the label says, ``thickness`` what a caliper says. ``width`` is the dressed width of a board,
    None for sheets and for boards sold in random widths.
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


@dataclass(frozen=True, slots=True)
class HardwareItem:
    """A bought item: a screw size, a slide, a hook, a strap.

    ``kind`` drives behaviour (``wood screw``, ``pocket screw``, ``brad``, ``slides``, ``hook``, ``pull``, ``shelf pin``,
    ``anti-tip strap``, ``hanger``). Screws carry ``gauge`` and ``length``; ``body`` is (along x, y, z as mounted on a
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


@dataclass(frozen=True, slots=True)
class Consumable:
    """Glue, abrasives, tape: bought by use. ``covers`` is square metres for one ``unit`` (None where counted otherwise)."""

    id: str
    name: str
    unit: str
    covers: float | None
    price: Fraction | None
    aisle: str
    source: str


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard message by ANSI Z535.6: signal word, hazard, consequence, how to avoid it; and a short form for repeats."""

    id: str
    signal: str
    hazard: str
    consequence: str
    avoid: tuple[str, ...]
    short: str
    source: str


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool: whether it is powered, the cautions of every use, and what may stand in for it.

    ``uses`` adds cautions that belong to one use alone (``rip``, ``dado``, ``edge``); ``wear`` names what to put on first.
    """

    id: str
    name: str
    power: bool
    group: str
    cautions: tuple[str, ...]
    stand_ins: tuple[str, ...]
    note: str
    wear: tuple[str, ...] = ()
    uses: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def cautions_for(self, *uses: str) -> tuple[str, ...]:
        """Ids of the cautions that these uses call for, the general ones first."""
        own = dict(self.uses)
        return tuple(dict.fromkeys([*self.cautions, *(caution for use in uses for caution in own.get(use, ()))]))


@dataclass(frozen=True, slots=True)
class FinishProduct:
    """A stain, oil, sealer or topcoat. ``coverage`` in square metres a litre and coat; waits in hours."""

    id: str
    name: str
    kind: str
    method: str
    coverage: float
    recoat_hours: float
    cure_hours: float
    sand_between: str
    containers: tuple[tuple[str, float, Fraction | None], ...]
    cautions: tuple[str, ...]
    cleanup: str
    note: str
    source: str


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
