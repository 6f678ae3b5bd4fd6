"""Between the plan's exact lengths and the whole numbers of the layout search, and back to placed pieces, cuts and offcuts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from fractions import Fraction
from math import atan2, lcm, tau

from drawleaf.derive.layout.cut_order import CutPlan, Matched, Sawn, plan_cuts
from drawleaf.derive.layout.search.guillotine import Filled, Kind, Piece
from drawleaf.derive.shop.limits import CARRY_KG, ShopLimits
from drawleaf.english import listed
from drawleaf.model.lists import Cut, Offcut, Placed
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.units import ZERO, Length

# Least size of an offcut that is worth a place on the rack: common practice, no source.
OFFCUT_SIDE = Length.of_mm(300)
OFFCUT_LONG, OFFCUT_NARROW = Length.of_mm(1000), Length.of_mm(100)
BOARD_OFFCUT_LENGTH, BOARD_OFFCUT_WIDTH = Length.of_mm(300), Length.of_mm(35)


@dataclass(frozen=True, slots=True)
class Wanted:
    """A piece to be cut: which part it becomes, its cut size, its row of the cut list. ``strip`` for strips of a glue-up."""

    part: Part
    number: int
    label: str
    strip: int | None
    length: Length
    width: Length
    turns: bool


def told_of(piece: Wanted) -> tuple[object, ...]:
    """All that a layout takes from a piece: of its part only the id, but for one of a matched set, which is laid as it stands."""
    part = piece.part
    return part.id, (part if part.match else None), *(getattr(piece, one.name) for one in fields(piece)[1:])


@dataclass(frozen=True, slots=True)
class Margins:
    """What is lost of a blank: trim at each end, trim along each long edge, the saw's kerf, and the share of the length that is counted
    off for knots and checks (wherever they lie, so much less can be relied on)."""

    end: Length
    edge: Length
    kerf: Length
    defects: Fraction = Fraction(0)

    def usable(self, length: Length, width: Length) -> tuple[Length, Length]:
        """What is left of a blank inside its trims, defects counted off."""
        return length - self.end * 2 - length * self.defects, width - self.edge * 2


@dataclass(frozen=True, slots=True)
class Scale:
    """Whole numbers that hold every length of one order exactly: millimetres times ``times``."""

    times: int

    @staticmethod
    def for_lengths(lengths: Iterable[Length]) -> Scale:
        return Scale(lcm(*(length.exact_mm.denominator for length in lengths)))

    def whole(self, length: Length) -> int:
        return int(length.exact_mm * self.times)

    def length(self, whole: int) -> Length:
        return Length(Fraction(whole, self.times))


@dataclass(frozen=True, slots=True)
class Gathered:
    """Pieces of equal size gathered into kinds, in step: ``kinds[i]`` stands for ``pieces[i]``.

    A matched set is one kind, named by ``matched``; its pieces stand beyond those of the kinds, one for each.
    """

    kinds: tuple[Kind, ...]
    pieces: tuple[tuple[Wanted, ...], ...]
    matched: dict[int, Matched] = field(default_factory=dict)


def gather(wanted: Sequence[Wanted], scale: Scale, kerf: int) -> Gathered:
    """Kinds with the kerf folded in, largest first; matched sets last."""
    loose = [piece for piece in wanted if not piece.part.match]
    gathered = _gathered(loose, scale, kerf)
    sets = matched_sets(wanted)
    kinds, pieces, matched = list(gathered.kinds), list(gathered.pieces), {}
    pieces += [()] * len(sets)
    for along, members in sets:
        axis = 0 if along else 1
        laid: list[Piece] = []
        at = 0
        for member in members:
            length, width = scale.whole(member.length) + kerf, scale.whole(member.width) + kerf
            laid.append(Piece(len(pieces), at if along else 0, 0 if along else at, length, width, False))
            pieces.append((member,))
            at += length if along else width
        length = at if along else max(piece.length for piece in laid)
        width = max(piece.width for piece in laid) if along else at
        matched[len(kinds)] = Matched(axis, tuple(laid))
        kinds.append(Kind(length, width, 1, False))
    return Gathered(tuple(kinds), tuple(pieces), matched)


def matched_sets(wanted: Sequence[Wanted]) -> list[tuple[bool, list[Wanted]]]:
    """Pieces whose grain is to run on, in the order in which they stand on the piece; whether they follow each other along the grain."""
    sets: dict[str, list[Wanted]] = {}
    for piece in wanted:
        if piece.part.match:
            sets.setdefault(piece.part.match, []).append(piece)
    return [_in_a_row(members) for members in sets.values()]


def _in_a_row(members: list[Wanted]) -> tuple[bool, list[Wanted]]:
    first = members[0].part
    along, across = first.length_axis, first.width_axis
    if any(goes_round(first, piece.part) for piece in members):
        return True, _round_the_corners(members)

    def middle(piece: Wanted, axis: Axis) -> Fraction:
        span = piece.part.seen.span(axis)
        return (span.low.exact_mm + span.high.exact_mm) / 2

    def spread(axis: Axis) -> Fraction:
        return max(middle(piece, axis) for piece in members) - min(middle(piece, axis) for piece in members)

    runs_along = spread(along) > spread(across)
    return runs_along, sorted(
        members, key=lambda piece: (middle(piece, along if runs_along else across), piece.part.id)
    )


def goes_round(one: Part, other: Part) -> bool:
    """Whether the grain runs round a corner from one into the other: along other axes, at one width, as the sides of a box."""
    return one.length_axis is not other.length_axis and one.width_axis is other.width_axis


def _round_the_corners(members: list[Wanted]) -> list[Wanted]:
    """In the order in which one passes them on a walk round the piece, from the part that the plan names first: behind it the ends meet."""
    a, b = members[0].part.width_axis.others()
    spots = [piece.part.seen.center for piece in members]
    middle = [sum(spot.along(axis).exact_mm for spot in spots) / len(spots) for axis in (a, b)]
    angles = [
        atan2(float(spot.along(b).exact_mm - middle[1]), float(spot.along(a).exact_mm - middle[0])) for spot in spots
    ]
    order = sorted(range(len(members)), key=lambda at: (round((angles[at] - angles[0]) % tau, 6) % tau, at))
    return [members[at] for at in order]


def _gathered(wanted: Sequence[Wanted], scale: Scale, kerf: int) -> Gathered:
    groups: dict[tuple[Length, Length, bool], list[Wanted]] = {}
    for piece in wanted:
        groups.setdefault((piece.length, piece.width, piece.turns), []).append(piece)
    ordered = sorted(
        groups.items(), key=lambda group: (-group[0][0].exact_mm * group[0][1].exact_mm, -group[0][0].exact_mm)
    )
    kinds = tuple(
        Kind(scale.whole(length) + kerf, scale.whole(width) + kerf, len(pieces), turns)
        for (length, width, turns), pieces in ordered
    )
    return Gathered(kinds, tuple(tuple(pieces) for _, pieces in ordered))


@dataclass(frozen=True, slots=True)
class Laid:
    """One blank as the booklet shows it."""

    placed: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    used: Fraction


def is_sheet_offcut(length: Length, width: Length) -> bool:
    """Whether a leftover of sheet is worth keeping."""
    short, long = min(length, width), max(length, width)
    return short >= OFFCUT_SIDE or (long >= OFFCUT_LONG and short >= OFFCUT_NARROW)


def is_board_offcut(length: Length, width: Length) -> bool:
    """Whether a leftover of board is worth keeping."""
    return length >= BOARD_OFFCUT_LENGTH and width >= BOARD_OFFCUT_WIDTH


@dataclass(frozen=True, slots=True)
class Sawing:
    """How a filled blank is sawn apart: all that its cuts follow from but what lies on it. ``carry`` is the largest area that one person
    carries, in the search's whole numbers."""

    scale: Scale
    margins: Margins
    board: bool
    crosscuts_first: bool
    matched: tuple[tuple[int, Matched], ...]
    carry: int | None

    def plan(self, filled: Filled) -> CutPlan:
        """The cuts of a filled blank."""
        keeps = is_board_offcut if self.board else is_sheet_offcut
        length = self.scale.length
        return plan_cuts(
            filled.sheet,
            filled.pieces,
            self.scale.whole(self.margins.kerf),
            raw=(bool(self.margins.end), bool(self.margins.edge)),
            first=0 if self.crosscuts_first else 1,
            keepable=lambda long, wide: keeps(length(long), length(wide)),
            matched=dict(self.matched),
            carry=self.carry,
        )


def _freed(sawn: Sawn, named: Mapping[Piece, Wanted]) -> list[Wanted]:
    """The pieces that a cut frees, by where they lie in the end: two of one size are parts of two numbers."""
    low = [sawn.blank.x, sawn.blank.y]
    high = [sawn.blank.x + sawn.blank.length, sawn.blank.y + sawn.blank.width]
    low[sawn.axis], high[sawn.axis] = sawn.at - sawn.setting, sawn.at
    return [
        wanted
        for piece, wanted in named.items()
        if low[0] <= piece.x < high[0] and low[1] <= piece.y < high[1] and sawn.frees
    ]


class Layer:
    """Turns filled blanks into placed pieces; each wanted piece is handed out once, in order."""

    def __init__(
        self,
        gathered: Gathered,
        scale: Scale,
        margins: Margins,
        *,
        board: bool,
        shop: ShopLimits | None = None,
        load: float = 0.0,
        crosscuts_first: bool = False,
    ) -> None:
        """``load`` is what the stock weighs, in kilograms a square metre; ``shop`` what the kit and one person can handle. Boards are always
        crosscut first; sheets where the straightedge is too short for a rip."""
        self.left = [list(pieces) for pieces in gathered.pieces]
        self.scale = scale
        self.margins = margins
        self.board = board
        self.shop = shop
        self.load = load
        carry = int(CARRY_KG / load * 1e6 * scale.times**2) if shop is not None and load else None
        self.sawing = Sawing(scale, margins, board, board or crosscuts_first, tuple(gathered.matched.items()), carry)

    def lay(self, filled: Filled, blank: tuple[Length, Length]) -> Laid:
        """The blank with named pieces, cuts in order from the first trim on, and offcuts worth keeping."""
        plan = self.sawing.plan(filled)
        named = {piece: self.left[piece.kind].pop(0) for piece in plan.pieces}
        placed = tuple(self._placed(piece, wanted) for piece, wanted in named.items())
        cuts = [*self._trims(blank)]
        for sawn in plan.cuts:
            cuts.append(self._cut(len(cuts) + 1, sawn, blank, _freed(sawn, named)))
        keeps = is_board_offcut if self.board else is_sheet_offcut
        offcuts = [self._offcut(leftover) for leftover in plan.leftovers]
        area = sum((one.length.exact_mm * one.width.exact_mm for one in placed), Fraction(0))
        return Laid(
            placed,
            tuple(cuts),
            tuple(one for one in offcuts if keeps(one.length, one.width)),
            area / (blank[0].exact_mm * blank[1].exact_mm),
        )

    def _placed(self, piece: Piece, wanted: Wanted) -> Placed:
        long, wide = (wanted.width, wanted.length) if piece.turned else (wanted.length, wanted.width)
        x, y = self._place(piece.x, piece.y)
        return Placed(wanted.part.id, wanted.label, wanted.number, wanted.strip, x, y, long, wide, piece.turned)

    def _place(self, x: int, y: int) -> tuple[Length, Length]:
        return self.margins.end + self.scale.length(x), self.margins.edge + self.scale.length(y)

    def _offcut(self, leftover: tuple[int, int, int, int]) -> Offcut:
        x, y, length, width = leftover
        at_x, at_y = self._place(x, y)
        return Offcut(at_x, at_y, self.scale.length(length), self.scale.length(width))

    def _trims(self, blank: tuple[Length, Length]) -> list[Cut]:
        """First a good edge, then a good end square to it."""
        length, width = blank
        end, edge = self.margins.end, self.margins.edge
        trims = []
        if edge:
            trims.append(Cut(1, "rip", edge, (ZERO, edge), (length, edge), "the rough edge"))
        if end:
            trims.append(Cut(len(trims) + 1, "crosscut", end, (end, edge), (end, width), "the rough end"))
        heavy = bool(self.load) and length.mm * width.mm / 1e6 * self.load > CARRY_KG
        if self.shop is None:
            return trims
        shop = self.shop
        return [
            replace(
                cut,
                guide=shop.guide(
                    cut.kind,
                    cut.setting,
                    board=self.board,
                    heavy=heavy,
                    width=None if self.board else width - edge,
                    run=length,
                ),
                heavy=heavy,
            )
            for cut in trims
        ]

    def _cut(self, order: int, sawn: Sawn, blank: tuple[Length, Length], pieces: list[Wanted]) -> Cut:
        x, y = self._place(sawn.blank.x, sawn.blank.y)
        kerf = self.scale.whole(self.margins.kerf)
        far = [x + self.scale.length(sawn.blank.length - kerf), y + self.scale.length(sawn.blank.width - kerf)]
        far = [blank[axis] if sawn.blank.raw[axis] else far[axis] for axis in (0, 1)]
        if sawn.axis == 1:
            line = self._place(0, sawn.at)[1]
            start, end = (x, line), (far[0], line)
        else:
            line = self._place(sawn.at, 0)[0]
            start, end = (line, y), (line, far[1])
        kind = "rip" if sawn.axis == 1 else "crosscut"
        carry = self.sawing.carry
        heavy = carry is not None and sawn.blank.length * sawn.blank.width > carry
        setting = self.scale.length(sawn.setting)
        guide = (
            ""
            if self.shop is None
            else self.shop.guide(kind, setting, board=self.board, heavy=heavy, width=far[1] - y, run=far[0] - x)
        )
        return Cut(order, kind, setting, start, end, self._frees(sawn, pieces), guide, heavy)

    def _frees(self, sawn: Sawn, pieces: list[Wanted]) -> str:
        """What comes off, in words: a finished part, or a piece that holds several."""
        numbers = sorted({piece.number for piece in pieces})
        strips = "strips of " if len(pieces) > 1 else "a strip of "
        strips = strips if all(piece.strip is not None for piece in pieces) else ""
        if sawn.done:
            return f"{strips}part {numbers[0]}"
        if len(numbers) > 1:
            return f"a piece for {strips}parts {listed([str(number) for number in numbers])}"
        count = f"{len(pieces)} of " if len(pieces) > 1 and not strips else ""
        return f"a piece for {count}{strips}part {numbers[0]}"
