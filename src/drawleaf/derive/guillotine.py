"""Filling one sheet by edge-to-edge cuts: a beam search over guillotine trees, in whole numbers.

A kerf is folded in by adding it once to the sheet and to every piece, both ways; then pieces may touch. ``x`` runs along
the sheet's length, so a line of constant ``y`` is a rip.

Method: beam search over cutting trees with the guide (waste + 2 % of the sheet) / value; a rectangle that no piece
fits is waste at once. Guides of this kind for cutting problems: Libralesso & Fontan, European Journal of Operational Research 291 (2021),
883-893 (from memory).
"""

from __future__ import annotations

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
Way = tuple[int, int, bool]
Level = bool | None
"""None: any piece that fits; else it must fill the rectangle along (True) or across (False)."""
Open = tuple[int, int, int, int, int, int]
"""An open rectangle: area, length, width, x, y, stage."""
Marks = frozenset[tuple[int, int]]
"""Settings used so far, as (axis, distance)."""
State = tuple[float, int, float, Counts, tuple[Open, ...], object, Marks, int, int]
"""Guide, waste, value, counts left, open rectangles (smallest first), pieces laid (a chain); settings, cuts, largest waste."""

CHOICES = 10


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
) -> Filled:
    """The most valuable filling that the beam finds. ``counts`` are the pieces on hand; each laid piece of a kind earns its value.

    With ``tidy``, of fillings worth the same the one that is easier to cut.
    """
    length, width = sheet
    handicap = length * width * 0.02
    burden = _burden(tidy, length * width)
    order = sorted((at for at, count in enumerate(counts) if count), key=lambda at: (-values[at], at))
    ways = [kind.ways for kind in kinds]
    rules = RULES[cutting]
    levels: dict[int, Level] = {stage: ruled[0][0] if ruled[0][3] else None for stage, ruled in rules.items()}
    states: list[State] = [
        (0.0, 0, 0.0, tuple(counts), ((length * width, length, width, 0, 0, 0),), None, frozenset(), 0, 0)
    ]
    best: State | None = None
    while states:
        children: dict[tuple[object, ...], State] = {}
        for state in states:
            _, waste, value, left, opens, chain, marks, cuts, largest = state
            fits: list[tuple[int, int, int, bool]] = []
            at = 0
            while at < len(opens):
                fits = _what_fits(opens[at], order, left, ways, levels[opens[at][5]])
                if fits:
                    break
                waste += opens[at][0]
                largest = max(largest, opens[at][0])
                at += 1
            if not fits:
                toll = waste + burden(marks, cuts, largest)
                if best is None or (value, -toll) > (best[2], -best[0]):
                    best = (toll, waste, value, left, (), chain, marks, cuts, largest)
                continue
            _, long, wide, x, y, stage = opens[at]
            rest = opens[at + 1 :]
            for kind, along, across, turned in fits:
                now = (*left[:kind], left[kind] - 1, *left[kind + 1 :])
                laid = (chain, (kind, x, y, along, across, turned))
                worth = value + values[kind]
                seen = None
                for rip, beside_stage, over_stage, _ in rules[stage]:
                    beside = (long - along, across if rip else wide)
                    over = (long if rip else along, wide - across)
                    if seen == (beside, over):
                        continue
                    seen = (beside, over)
                    new: list[Open] = []
                    lost, whole = waste, largest
                    sawn, made = marks, cuts
                    if beside[0]:
                        _open_or_lose(new, beside, x + along, y, beside_stage)
                        made += 1
                    if over[1]:
                        _open_or_lose(new, over, x, y + across, over_stage)
                        made += 1
                    if tidy is not None:
                        sawn = marks | _settings(along if beside[0] else 0, across if over[1] else 0)
                    opened = rest
                    for rectangle in new:
                        if _fits_any(rectangle, order, now, ways, levels[rectangle[5]]):
                            opened = _with(opened, rectangle)
                        else:
                            lost += rectangle[0]
                            whole = max(whole, rectangle[0])
                    effort.left -= 1
                    guide = (lost + handicap + burden(sawn, made, whole)) / worth
                    key = (now, tuple((one[1], one[2], one[5]) for one in opened))
                    known = children.get(key)
                    if known is None or guide < known[0]:
                        children[key] = (guide, lost, worth, now, opened, laid, sawn, made, whole)
        states = sorted(children.values(), key=_guide)[:beam]
    assert best is not None
    return _filled(best, sheet, kinds, counts, size)


def _burden(tidy: Tidy | None, area: int) -> Callable[[Marks, int, int], float]:
    """How much harder a filling is to cut, as an area."""
    if tidy is None:
        return lambda marks, cuts, largest: 0.0
    return lambda marks, cuts, largest: area * (tidy.setting * len(marks) + tidy.cut * cuts) - tidy.offcut * largest


def _settings(along: int, across: int) -> Marks:
    return frozenset(mark for mark in ((0, along), (1, across)) if mark[1])


def _guide(state: State) -> float:
    return state[0]


def _open_or_lose(new: list[Open], size: tuple[int, int], x: int, y: int, stage: int) -> None:
    if size[0] and size[1]:
        new.append((size[0] * size[1], size[0], size[1], x, y, stage))


def _what_fits(
    rectangle: Open,
    order: list[int],
    left: Counts,
    ways: Sequence[tuple[Way, ...]],
    level: Level,
) -> list[tuple[int, int, int, bool]]:
    """The most valued kinds that fit, each way that they do."""
    _, long, wide, *_ = rectangle
    found = []
    kinds = 0
    for kind in order:
        if left[kind]:
            before = len(found)
            for along, across, turned in ways[kind]:
                if along <= long and across <= wide and _is_level(along, across, long, wide, level):
                    found.append((kind, along, across, turned))
            if len(found) > before:
                kinds += 1
                if kinds == CHOICES:
                    break
    return found


def _fits_any(rectangle: Open, order: list[int], left: Counts, ways: Sequence[tuple[Way, ...]], level: Level) -> bool:
    _, long, wide, *_ = rectangle
    for kind in order:
        if left[kind]:
            for along, across, _ in ways[kind]:
                if along <= long and across <= wide and _is_level(along, across, long, wide, level):
                    return True
    return False


def _is_level(along: int, across: int, long: int, wide: int, level: Level) -> bool:
    """Whether the piece fills the rectangle the way that a last trim asks for."""
    return level is None or (along == long if level else across == wide)


def _with(opens: tuple[Open, ...], new: Open) -> tuple[Open, ...]:
    """The open rectangles with one more, smallest first."""
    at = 0
    while at < len(opens) and opens[at] < new:
        at += 1
    return (*opens[:at], new, *opens[at:])


def _filled(state: State, sheet: tuple[int, int], kinds: Sequence[Kind], counts: Sequence[int], size: int) -> Filled:
    pieces = []
    chain = state[5]
    while chain is not None:
        chain, laid = chain  # type: ignore[misc]
        pieces.append(Piece(*laid))
    used = tuple(before - after for before, after in zip(counts, state[3], strict=True))
    area = sum(kind.area * count for kind, count in zip(kinds, used, strict=True))
    return Filled(size, sheet, tuple(reversed(pieces)), used, area)
