"""Derived lists as typed rows: cut list, layouts, hardware, consumables, shopping, tools. Made once, printed anywhere."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.model.catalogue import BoardSize, Consumable, FinishProduct, HardwareItem, SheetSize, Stock
from drawleaf.model.diagnostic import Subject
from drawleaf.model.plan import Part
from drawleaf.model.tools import Tool
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class CutItem:
    """One row of the cut list: identical parts under one item number (the balloon's number in every drawing).

    ``key`` is a stable name for files and hooks (``case.side``). ``mirror_of`` is the number of the row that this one
    mirrors. ``edges`` says in words what is done to edges (``round over front edge 1/8``: lengths are in ``edge_profiles`` features of the part).
    """

    number: int
    key: str
    name: str
    parts: tuple[Part, ...]
    stock: Stock
    length: Length
    width: Length
    thickness: Length
    grain: str
    mirror_of: int | None
    setup: str | None
    note: str

    @property
    def quantity(self) -> int:
        return len(self.parts)

    @property
    def part(self) -> Part:
        """The copy that stands for all."""
        return self.parts[0]

    @property
    def cut(self) -> tuple[Length, Length]:
        """Length and width as cut at first: over the finished size where the part is fitted to the standing piece later."""
        return self.part.rough if self.part.fitted is not None else (self.length, self.width)


@dataclass(frozen=True, slots=True)
class CutList:
    """All rows in printing order: by stock, then by set-up, longest first."""

    items: tuple[CutItem, ...]

    def item_of(self, part_id: str) -> CutItem:
        """The row that a part belongs to. Raises KeyError where there is none."""
        for item in self.items:
            if any(part.id == part_id for part in item.parts):
                return item
        raise KeyError(part_id)


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece lying on a sheet or board: ``x`` along the sheet's length, ``y`` across. ``part`` is a part id;
    for a strip of a glue-up, ``strip`` counts from 1. ``length``/``width`` are the cut size there as it lies (rough size, turned if turned)."""

    part: str
    label: str
    number: int
    strip: int | None
    x: Length
    y: Length
    length: Length
    width: Length
    turned: bool


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle left over that is worth keeping."""

    x: Length
    y: Length
    length: Length
    width: Length


@dataclass(frozen=True, slots=True)
class Cut:
    """One edge-to-edge cut, in order. ``kind`` is ``rip`` (along the length) or ``crosscut``; ``setting`` the fence or stop distance
    from the reference edge of the piece being cut; ``start``/``end`` its line on the sheet; ``frees`` what comes off (words for the reader).
    ``guide`` is what the saw or the work runs on: ``fence``, ``straightedge``, ``stop``, ``square`` or ``line``. ``heavy`` when the blank is more than
    one person carries."""

    order: int
    kind: str
    setting: Length
    start: tuple[Length, Length]
    end: tuple[Length, Length]
    frees: str
    guide: str = ""
    heavy: bool = False

    @property
    def run(self) -> Length:
        """How long the cut is."""
        return max(self.end[0] - self.start[0], self.end[1] - self.start[1])


@dataclass(frozen=True, slots=True)
class SheetLayout:
    """One sheet to be cut, with its parts, cuts and offcuts."""

    number: int
    stock: Stock
    sheet: SheetSize
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    used: Fraction


@dataclass(frozen=True, slots=True)
class BoardLayout:
    """One board to be crosscut and, where narrower parts need it, ripped.

    Where a bought board is resawn into ``leaves`` that are laid out, this is the ``leaf`` of that number; they follow one another. ``rest`` is
    how thick what is left of that board is, once planed; None where nothing is, or it is not worth keeping.
    """

    number: int
    stock: Stock
    board: BoardSize
    length: Length
    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    used: Fraction
    leaf: int = 1
    leaves: int = 1
    rest: Length | None = None


@dataclass(frozen=True, slots=True)
class StockNeed:
    """What to buy of one stock: count of each size, the bound below which it cannot be done (None: not known).

    ``substitute`` is what to buy where a store has only the usual size (None where that is bought anyway): size, length, count.
    ``square_metres`` is the measure of random-width lumber that is named in millimetres.
    """

    stock: Stock
    buy: tuple[tuple[SheetSize | BoardSize, Length | None, int], ...]
    least: int | None
    board_feet: Fraction | None
    substitute: tuple[SheetSize | BoardSize, Length | None, int] | None = None
    square_metres: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Layouts:
    """All layouts of a plan, and what must be bought for them."""

    sheets: tuple[SheetLayout, ...]
    boards: tuple[BoardLayout, ...]
    needs: tuple[StockNeed, ...]


@dataclass(frozen=True, slots=True)
class HardwareRow:
    """A bought item with its count; ``uses`` says where it goes, ``packs`` how many packets to buy."""

    item: HardwareItem
    count: int
    packs: int
    uses: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """Strips to mill of which ``count`` loose tenons are cut off. ``length`` is that of each strip as milled, with what is left to hold at the
    last cut. ``board`` is the number of the board whose offcut gives them; None where no offcut is large enough and a piece is bought."""

    item: HardwareItem
    stock: Stock
    count: int
    strips: int
    length: Length
    width: Length
    thickness: Length
    board: int | None


@dataclass(frozen=True, slots=True)
class ConsumableRow:
    """Glue, paper and the like: amount in the consumable's own unit, and how it was calculated, in words."""

    item: Consumable
    amount: Fraction
    buy: int
    why: str


@dataclass(frozen=True, slots=True)
class FinishRow:
    """A finishing product with area, litres needed and containers to buy."""

    product: FinishProduct
    coats: int
    area: float
    litres: float
    containers: tuple[tuple[str, int, Fraction | None], ...]


@dataclass(frozen=True, slots=True)
class ShoppingRow:
    """One line to buy: ``quantity`` in words of the store (``2 sheets``), cost None where the price book has no price."""

    aisle: str
    name: str
    detail: str
    quantity: int
    unit: str
    each: Fraction | None
    cost: Fraction | None
    spare: str
    hold: tuple[tuple[str, Length], ...] = ()


@dataclass(frozen=True, slots=True)
class ShoppingList:
    """All that is bought, by aisle, with the total of what has a price; ``unpriced`` counts the rows that have none."""

    rows: tuple[ShoppingRow, ...]
    total: Fraction
    unpriced: int
    currency: str
    date: str


@dataclass(frozen=True, slots=True)
class ToolRow:
    """A tool that the steps use, the steps by number, and what may stand in for it. ``borrow`` where the kit lacks it and has no
    other way to do some step."""

    tool: Tool
    steps: tuple[int, ...]
    stand_ins: tuple[Tool, ...]
    why: str
    borrow: bool = False


@dataclass(frozen=True, slots=True)
class AuditLine:
    """One reconciliation: what was compared, the two figures, whether they agree; in words what does not, and the first of it."""

    name: str
    left: str
    right: str
    agrees: bool
    detail: str
    subject: Subject | None = None


@dataclass(frozen=True, slots=True)
class Audit:
    """Every reconciliation of design section 3.4. ``passed`` when all agree."""

    lines: tuple[AuditLine, ...]

    @property
    def passed(self) -> bool:
        return all(line.agrees for line in self.lines)
