"""Filling one sheet by edge-to-edge cuts: a beam search over guillotine trees, in whole numbers.

A kerf is folded in by adding it once to the sheet and to every piece, both ways; then pieces may touch. ``x`` runs along
the sheet's length, so a line of constant ``y`` is a rip.

Method: beam search over cutting trees with the guide (waste + 2 % of the sheet) / value; a rectangle that no piece
fits is waste at once. Guides of this kind for cutting problems: Libralesso & Fontan, European Journal of Operational Research 291 (2021),
883-893 (from memory).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from random import Random


class Cutting(IntEnum):
    """Which cuts may follow which. ``RIP_FIRST``: first a full-length rip, then anything; ``RIPS_CROSSCUTS``: rips, then
    crosscuts, then one trim; the other two the same with crosscuts first; ``FREE``: anything."""

    FREE = 0
    RIPS_CROSSCUTS = 1
    CROSSCUTS_RIPS = 2
    RIP_FIRST = 3
    CROSSCUT_FIRST = 4


@dataclass(frozen=True, slots=True)
class Kind:
    """A size of piece that is wanted ``count`` times, kerf folded in. ``turns`` when its grain may run either way."""

    length: int
    width: int
    count: int
    turns: bool

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """The ways it may lie: (along, across, turned)."""
        straight = ((self.length, self.width, False),)
        return (*straight, (self.width, self.length, True)) if self.turns and self.length != self.width else straight


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a kind at its place on a sheet, kerf folded in."""

    kind: int
    x: int
    y: int
    length: int
    width: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet with pieces on it. ``size`` counts into the sizes on offer; ``used`` how many of each kind lie on it."""

    size: int
    sheet: tuple[int, int]
    pieces: tuple[Piece, ...]
    used: tuple[int, ...]
    area: int

    @property
    def fill(self) -> float:
        return self.area / (self.sheet[0] * self.sheet[1])


@dataclass(frozen=True, slots=True)
class Tidy:
    """What makes a filling easy to cut, as shares of the sheet's area: what each setting and each cut costs, and how much of the largest piece
    of waste is forgiven because it stays whole."""

    setting: float
    cut: float
    offcut: float


@dataclass
class Effort:
    """What may still be spent, in tree nodes looked at: a budget that is the same on every machine."""

    left: int
    random: Random = field(default_factory=lambda: Random(1))

    @property
    def spent(self) -> bool:
        return self.left <= 0


# Stages of a rectangle: 0 the sheet and what is left of it; 1 a strip; 2 what lies over a piece in a strip; 3 free.
# For each: the splits allowed, as (rip, stage of what stays beside the piece, stage of what stays over it, the piece must fill it across).
Rule = tuple[bool, int, int, bool]
FREE_RULES: tuple[Rule, ...] = ((True, 3, 3, False), (False, 3, 3, False))
RULES: dict[Cutting, dict[int, tuple[Rule, ...]]] = {
    Cutting.FREE: {0: FREE_RULES, 3: FREE_RULES},
    Cutting.RIP_FIRST: {0: ((True, 3, 3, False),), 3: FREE_RULES},
    Cutting.CROSSCUT_FIRST: {0: ((False, 3, 3, False),), 3: FREE_RULES},
    Cutting.RIPS_CROSSCUTS: {
        0: ((True, 1, 0, False),),
        1: ((False, 1, 2, False),),
        2: ((True, 2, 2, True),),
    },
    Cutting.CROSSCUTS_RIPS: {
        0: ((False, 0, 1, False),),
        1: ((True, 2, 1, False),),
        2: ((False, 2, 2, True),),
    },
}

Counts = tuple[int, ...]
Level = bool | None
"""None: any piece that fits; else it must fill the rectangle along (True) or across (False)."""
Laying = tuple[int, int, int, bool]
"""A kind of piece and a way to lay it: (kind, along, across, turned)."""
Open = tuple[int, int, int, int, int, int, int]
"""An open rectangle: area, length, width, x, y, stage; last one number for its size and stage."""
Marks = frozenset[tuple[int, int]]
"""Settings used so far, as (axis, distance)."""
State = tuple[float, int, float, int, int, tuple[Open, ...], object, Marks, int, int]
"""Guide, waste, value; counts left, packed into one number, and the ways of the kinds of which any are left, a bit each; open rectangles
(smallest first), pieces laid (a chain); settings, cuts, largest waste."""

LEVELS: dict[Cutting, dict[int, Level]] = {
    cutting: {stage: ruled[0][0] if ruled[0][3] else None for stage, ruled in rules.items()}
    for cutting, rules in RULES.items()
}

CHOICES = 10
# What it takes to begin a filling and to end it, in nodes: sheets that hold two pieces each are filled by the thousand.
NODES_A_START = 6
# Counts are packed with so many bits for each kind.
COUNT_BITS = 24
COUNT_MASK = (1 << COUNT_BITS) - 1


class Ways:
    """Every way that a piece of an order may lie, a bit each, and which of them fit a rectangle: shared by all fillings of one order."""

    def __init__(self, kinds: Sequence[Kind]) -> None:
        self.of_kind: list[tuple[tuple[int, Laying], ...]] = []
        bit = 1
        for at, kind in enumerate(kinds):
            ways = []
            for way in kind.ways:
                ways.append((bit, (at, *way)))
                bit <<= 1
            self.of_kind.append(tuple(ways))
        self.bits = [sum(bit for bit, _ in ways) for ways in self.of_kind]
        every = [(bit, laying) for ways in self.of_kind for bit, laying in ways]
        self._along = _Reach([(laying[1], bit) for bit, laying in every])
        self._across = _Reach([(laying[2], bit) for bit, laying in every])
        self._known: dict[tuple[Cutting, int], dict[int, int]] = {}

    def known(self, cutting: Cutting, stride: int) -> dict[int, int]:
        """What fits each rectangle met so far, by the number for its size and stage."""
        return self._known.setdefault((cutting, stride), {})

    def fitting(self, long: int, wide: int, level: Level) -> int:
        """The ways that fit a rectangle; with a level, those that fill it that way."""
        if level is None:
            return self._along.up_to(long) & self._across.up_to(wide)
        if level:
            return self._along.exactly(long) & self._across.up_to(wide)
        return self._along.up_to(long) & self._across.exactly(wide)


class _Reach:
    """Ways by what they measure on one axis."""

    def __init__(self, measured: Sequence[tuple[int, int]]) -> None:
        self._exact: dict[int, int] = {}
        for size, bit in measured:
            self._exact[size] = self._exact.get(size, 0) | bit
        self._sizes = sorted(self._exact)
        self._reached = [0]
        for size in self._sizes:
            self._reached.append(self._reached[-1] | self._exact[size])

    def up_to(self, size: int) -> int:
        return self._reached[bisect_right(self._sizes, size)]

    def exactly(self, size: int) -> int:
        return self._exact.get(size, 0)


class _Fits:
    """The most valued kinds that fit a rectangle, remembered by its size and stage for one filling."""

    def __init__(self, ways: Ways, order: Sequence[int], cutting: Cutting, stride: int) -> None:
        self._ways = ways
        self._valued = [way for kind in order for way in ways.of_kind[kind]]
        self._levels: dict[int, Level] = LEVELS[cutting]
        self._choices: dict[tuple[int, int], tuple[Laying, ...]] = {}
        self.known = ways.known(cutting, stride)

    def mask(self, rectangle: Open) -> int:
        """The ways that fit, a bit each, whether or not any such pieces are left; from then on it is ``known``."""
        _, long, wide, _, _, stage, key = rectangle
        mask = self.known[key] = self._ways.fitting(long, wide, self._levels[stage])
        return mask

    def choices(self, rectangle: Open, alive: int) -> tuple[Laying, ...]:
        """The most valued kinds that fit and of which any are left, each way that they do."""
        mask = self.known.get(rectangle[6])
        fit = alive & (self.mask(rectangle) if mask is None else mask)
        found = self._choices.get((rectangle[6], fit))
        if found is None:
            found = self._choices[rectangle[6], fit] = self._most_valued(fit)
        return found

    def _most_valued(self, fit: int) -> tuple[Laying, ...]:
        found: list[Laying] = []
        kinds = 0
        last = -1
        for bit, laying in self._valued:
            if fit & bit:
                if laying[0] != last:
                    if kinds == CHOICES:
                        break
                    kinds += 1
                    last = laying[0]
                found.append(laying)
                fit ^= bit
                if not fit:
                    break
        return tuple(found)


def fill_sheet(
    sheet: tuple[int, int],
    kinds: Sequence[Kind],
    counts: Sequence[int],
    values: Sequence[float],
    cutting: Cutting,
    effort: Effort,
    *,
    beam: int = 16,
    size: int = 0,
    tidy: Tidy | None = None,
    ways: Ways | None = None,
) -> Filled:
    """The most valuable filling that the beam finds. ``counts`` are the pieces on hand; each laid piece of a kind earns its value.

    With ``tidy``, of fillings worth the same the one that is easier to cut. ``ways`` are those of the kinds, where they are at hand.
    """
    length, width = sheet
    handicap = length * width * 0.02
    burden = _burden(tidy, length * width)
    order = sorted((at for at, count in enumerate(counts) if count), key=lambda at: (-values[at], at))
    rules = RULES[cutting]
    stride = max(length, width) + 1
    ways = ways or Ways(kinds)
    bits = ways.bits
    fits = _Fits(ways, order, cutting, stride)
    known_masks = fits.known
    packed = alive = 0
    for kind in order:
        packed += counts[kind] << COUNT_BITS * kind
        alive |= bits[kind]
    whole_sheet = (length * width, length, width, 0, 0, 0, (length * stride + width) << 2)
    states: list[State] = [(0.0, 0, 0.0, packed, alive, (whole_sheet,), None, frozenset(), 0, 0)]
    best: State | None = None
    looked_at = 0
    while states:
        children: dict[tuple[int, ...], State] = {}
        for _, waste, value, left, alive, opens, chain, marks, cuts, largest in states:
            choices: tuple[Laying, ...] = ()
            at = 0
            while at < len(opens):
                choices = fits.choices(opens[at], alive)
                if choices:
                    break
                waste += opens[at][0]
                largest = max(largest, opens[at][0])
                at += 1
            if not choices:
                toll = waste + burden(marks, cuts, largest)
                if best is None or (value, -toll) > (best[2], -best[0]):
                    best = (toll, waste, value, left, alive, (), chain, marks, cuts, largest)
                continue
            _, long, wide, x, y, stage, _ = opens[at]
            rest = opens[at + 1 :]
            for laying in choices:
                kind, along, across, _ = laying
                shift = COUNT_BITS * kind
                now = left - (1 << shift)
                living = alive if now >> shift & COUNT_MASK else alive & ~bits[kind]
                laid = (chain, x, y, laying)
                worth = value + values[kind]
                beside_long, over_wide = long - along, wide - across
                made = cuts + (beside_long > 0) + (over_wide > 0)
                sawn = marks if tidy is None else marks | _settings(beside_long and along, over_wide and across)
                # Where nothing stays beside or over the piece, both ways to split give the same rectangles (but count as two moves).
                splits = rules[stage]
                looked_at += len(splits) if beside_long or over_wide else 1
                if not (beside_long and over_wide):
                    splits = splits[:1]
                for rip, beside_stage, over_stage, _ in splits:
                    lost, whole, opened = waste, largest, rest
                    beside_wide = across if rip else wide
                    if beside_long and beside_wide:
                        area = beside_long * beside_wide
                        size_key = (beside_long * stride + beside_wide) << 2 | beside_stage
                        new = (area, beside_long, beside_wide, x + along, y, beside_stage, size_key)
                        mask = known_masks.get(size_key)
                        if living & (fits.mask(new) if mask is None else mask):
                            opened = _with(opened, new)
                        else:
                            lost += area
                            whole = max(whole, area)
                    over_long = long if rip else along
                    if over_wide and over_long:
                        area = over_long * over_wide
                        size_key = (over_long * stride + over_wide) << 2 | over_stage
                        new = (area, over_long, over_wide, x, y + across, over_stage, size_key)
                        mask = known_masks.get(size_key)
                        if living & (fits.mask(new) if mask is None else mask):
                            opened = _with(opened, new)
                        else:
                            lost += area
                            whole = max(whole, area)
                    guide = lost + handicap
                    if tidy is not None:
                        guide += burden(sawn, made, whole)
                    guide /= worth
                    key = (now, *[one[6] for one in opened])
                    known = children.get(key)
                    if known is None or guide < known[0]:
                        children[key] = (guide, lost, worth, now, living, opened, laid, sawn, made, whole)
        states = sorted(children.values(), key=_guide)[:beam]
    effort.left -= looked_at + NODES_A_START
    assert best is not None
    return _filled(best, sheet, counts, size)


def _burden(tidy: Tidy | None, area: int) -> Callable[[Marks, int, int], float]:
    """How much harder a filling is to cut, as an area."""
    if tidy is None:
        return lambda marks, cuts, largest: 0.0
    return lambda marks, cuts, largest: area * (tidy.setting * len(marks) + tidy.cut * cuts) - tidy.offcut * largest


def _settings(along: int, across: int) -> Marks:
    return frozenset(mark for mark in ((0, along), (1, across)) if mark[1])


def _guide(state: State) -> float:
    return state[0]


def _with(opens: tuple[Open, ...], new: Open) -> tuple[Open, ...]:
    """The open rectangles with one more, smallest first."""
    at = 0
    while at < len(opens) and opens[at] < new:
        at += 1
    return (*opens[:at], new, *opens[at:])


def _filled(state: State, sheet: tuple[int, int], counts: Sequence[int], size: int) -> Filled:
    pieces = []
    used = [0] * len(counts)
    area = 0
    chain = state[6]
    while chain is not None:
        chain, x, y, (kind, along, across, turned) = chain  # type: ignore[misc]
        pieces.append(Piece(kind, x, y, along, across, turned))
        used[kind] += 1
        area += along * across
    return Filled(size, sheet, tuple(reversed(pieces)), tuple(used), area)
