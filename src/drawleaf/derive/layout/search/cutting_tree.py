"""The tree of edge-to-edge cuts of one sheet: what a piece laid into an open rectangle leaves open, and how much of the sheet it wastes.

Nothing here depends on what the pieces are worth, so searches that value the same pieces differently share one tree, and what one has worked
out the next finds done.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from drawleaf.derive.layout.search.guillotine import LEVELS, RULES, Cutting, Filled, Kind, Level, Piece, Rule, Tidy

Laying = tuple[int, int, int, bool]
"""A kind of piece and a way to lay it: (kind, along, across, turned)."""
Open = tuple[int, int, int, int, int, int, int]
"""An open rectangle: area, length, width, x, y, stage; last one number for its size and stage."""

# The share of the sheet that is added to its waste, so that the first pieces are not judged by nothing.
HANDICAP = 0.02
# Counts are packed with so many bits for each kind.
COUNT_BITS = 24
COUNT_MASK = (1 << COUNT_BITS) - 1
# A tree that has grown larger than this is begun anew: it would only take up room.
MOST_SPROUTS = 5000
MOST_ORDERS = 100


class Ways:
    """Every way that a piece of an order may lie, a bit each, and which of them fit a rectangle."""

    def __init__(self, kinds: Sequence[Kind]) -> None:
        self.of_kind: list[tuple[int, ...]] = []
        self.laying: dict[int, Laying] = {}
        for at, kind in enumerate(kinds):
            bits = []
            for way in kind.ways:
                bits.append(1 << len(self.laying))
                self.laying[bits[-1]] = (at, *way)
            self.of_kind.append(tuple(bits))
        self.bits = [sum(bits) for bits in self.of_kind]
        self._along = _Reach([(laying[1], bit) for bit, laying in self.laying.items()])
        self._across = _Reach([(laying[2], bit) for bit, laying in self.laying.items()])
        # A setting is a distance along or across: one bit each, along first.
        lengths = sorted({side for kind in kinds for side in (kind.length, kind.width)})
        self.setting_along = {side: 1 << 2 * at for at, side in enumerate(lengths)}
        self.setting_across = {side: 2 << 2 * at for at, side in enumerate(lengths)}

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


Shoot = tuple[float, int, int, int, int, tuple[Open, ...], object, int, int, int]
"""A piece just laid: what the sheet wastes (and is to cut) with the handicap; a number for the pieces left and the rectangles open. Then the
waste alone; counts left, packed into one number, and the ways of the kinds of which any are left, a bit each; open rectangles (smallest first);
pieces laid (a chain); settings used so far, a bit each; cuts; the largest piece of waste."""
Sprout = tuple[int, int, Shoot, Shoot | None]
"""A way to lie tried in the next rectangle: tries that it counts for; its kind; what comes of it, for each way to split what is left beside it."""


class Node:
    """A sheet partly laid: ``fit`` are the ways that fit its next open rectangle, a bit each, none where it is done; then ``burden`` is
    what it wastes and what it is to cut, as an area. ``sprouts`` are the layings tried so far, ``grown`` the nodes that came of their shoots."""

    __slots__ = (
        "alive", "burden", "chain", "cuts", "filled", "fit", "grown", "largest", "left", "marks", "opens", "sprouts", "waste",
    )  # fmt: skip

    def __init__(self, shoot: Shoot) -> None:
        _, _, self.waste, self.left, self.alive, self.opens, self.chain, self.marks, self.cuts, self.largest = shoot
        self.fit = 0
        self.burden = 0.0
        self.sprouts: dict[int, Sprout] = {}
        self.grown: dict[int, Node] = {}
        self.filled: Filled | None = None


class CuttingTree:
    """All that can come of one sheet by one way of cutting, worked out as it is asked for. With ``tidy``, settings and cuts are a burden too."""

    def __init__(self, sheet: tuple[int, int], ways: Ways, cutting: Cutting, tidy: Tidy | None) -> None:
        self.sheet = sheet
        self.ways = ways
        self._tidy = tidy
        self._area = sheet[0] * sheet[1]
        self._handicap = self._area * HANDICAP
        self._rules = RULES[cutting]
        self._levels = LEVELS[cutting]
        self._stride = max(sheet) + 1
        self._masks: dict[int, int] = {}
        self._keys: dict[tuple[int, ...], int] = {}
        self._roots: dict[int, Node] = {}
        self._sprouts = 0
        self._choices: dict[tuple[int, ...], dict[int, tuple[int, ...]]] = {}

    def choices(self, by_value: tuple[int, ...]) -> dict[int, tuple[int, ...]]:
        """Of ways that fit (a bit each), those worth trying, where the kinds are valued in that order; filled in by the search."""
        if len(self._choices) > MOST_ORDERS:
            self._choices = {}
        return self._choices.setdefault(by_value, {})

    def root(self, counts: Sequence[int]) -> Node:
        """The empty sheet with these pieces on hand."""
        # Searches for few sheets seldom come by the same way twice; those for tidy ones go round and round.
        if self._tidy is None or self._sprouts > MOST_SPROUTS:
            self._roots, self._keys, self._sprouts = {}, {}, 0
        packed = alive = 0
        for kind, count in enumerate(counts):
            if count:
                packed += count << COUNT_BITS * kind
                alive |= self.ways.bits[kind]
        node = self._roots.get(packed)
        if node is None:
            length, width = self.sheet
            whole = (self._area, length, width, 0, 0, 0, (length * self._stride + width) << 2)
            self._mask(length, width, 0, whole[6])
            node = self._roots[packed] = self._node((0.0, 0, 0, packed, alive, (whole,), None, 0, 0, 0))
        return node

    def grown(self, node: Node, shoot: Shoot) -> Node:
        """The node that one of a node's shoots grows into."""
        known = node.grown.get(id(shoot))
        if known is None:
            known = node.grown[id(shoot)] = self._node(shoot)
        return known

    def _node(self, shoot: Shoot) -> Node:
        """Open rectangles that no piece left fits are waste; the first that one fits is next."""
        node = Node(shoot)
        at = 0
        for rectangle in node.opens:
            node.fit = node.alive & self._masks[rectangle[6]]
            if node.fit:
                break
            node.waste += rectangle[0]
            node.largest = max(node.largest, rectangle[0])
            at += 1
        if at:
            node.opens = node.opens[at:]
        if not node.fit:
            node.burden = node.waste + self._toil(node.marks, node.cuts, node.largest)
        return node

    def _mask(self, long: int, wide: int, stage: int, key: int) -> int:
        """The ways that fit a rectangle met for the first time, a bit each, whether or not any such pieces are left."""
        mask = self._masks[key] = self.ways.fitting(long, wide, self._levels[stage])
        return mask

    def _toil(self, marks: int, cuts: int, largest: int) -> float:
        """How much harder a filling is to cut, as an area."""
        tidy = self._tidy
        if tidy is None:
            return 0.0
        return self._area * (tidy.setting * marks.bit_count() + tidy.cut * cuts) - tidy.offcut * largest

    def lay(self, node: Node, bit: int) -> Sprout:
        """What comes of a piece laid that way into the next rectangle of a node; from then on it is among its ``sprouts``."""
        laying = self.ways.laying[bit]
        kind, along, across, _ = laying
        _, long, wide, x, y, stage, _ = node.opens[0]
        shift = COUNT_BITS * kind
        left = node.left - (1 << shift)
        alive = node.alive if left >> shift & COUNT_MASK else node.alive & ~self.ways.bits[kind]
        beside, over = long - along, wide - across
        marks, cuts = node.marks, node.cuts + (beside > 0) + (over > 0)
        if beside:
            marks |= self.ways.setting_along[along]
        if over:
            marks |= self.ways.setting_across[across]
        laid = (left, alive, (node.chain, x, y, laying), marks, cuts)
        rules = self._rules[stage]
        # Where nothing stays beside or over the piece, both ways to split give the same rectangles (but count as two tries).
        tries = len(rules) if beside or over else 1
        shoot = self._split(node, laying, beside, over, rules[0], *laid)
        other = self._split(node, laying, beside, over, rules[1], *laid) if beside and over and len(rules) > 1 else None
        self._sprouts += 1
        sprout = node.sprouts[bit] = (tries, kind, shoot, other)
        return sprout

    def _split(
        self,
        node: Node,
        laying: Laying,
        beside: int,
        over: int,
        rule: Rule,
        left: int,
        alive: int,
        chain: object,
        marks: int,
        cuts: int,
    ) -> Shoot:
        """A laid piece with what stays beside it and over it split one way: open where a piece left fits it, waste where none does."""
        waste, largest, opens = node.waste, node.largest, node.opens
        _, long, wide, x, y, _, _ = opens[0]
        opens = opens[1:]
        rip, beside_stage, over_stage, _ = rule
        masks = self._masks
        if beside:
            span = laying[2] if rip else wide
            area = beside * span
            key = (beside * self._stride + span) << 2 | beside_stage
            mask = masks.get(key)
            if alive & (self._mask(beside, span, beside_stage, key) if mask is None else mask):
                opens = _with(opens, (area, beside, span, x + laying[1], y, beside_stage, key))
            else:
                waste += area
                if area > largest:
                    largest = area
        if over:
            span = long if rip else laying[1]
            area = span * over
            key = (span * self._stride + over) << 2 | over_stage
            mask = masks.get(key)
            if alive & (self._mask(span, over, over_stage, key) if mask is None else mask):
                opens = _with(opens, (area, span, over, x, y + laying[2], over_stage, key))
            else:
                waste += area
                if area > largest:
                    largest = area
        cost = waste + self._handicap
        if self._tidy is not None:
            cost += self._toil(marks, cuts, largest)
        number = self._keys.setdefault((left, *[one[6] for one in opens]), len(self._keys))
        return cost, number, waste, left, alive, opens, chain, marks, cuts, largest

    def filled(self, node: Node, kinds: int, size: int) -> Filled:
        """The pieces of a node at their places."""
        if node.filled is None:
            node.filled = _filled(node.chain, self.sheet, kinds, size)
        return node.filled


def _with(opens: tuple[Open, ...], new: Open) -> tuple[Open, ...]:
    """The open rectangles with one more, smallest first."""
    at = 0
    while at < len(opens) and opens[at] < new:
        at += 1
    return (*opens[:at], new, *opens[at:])


def _filled(chain: object, sheet: tuple[int, int], kinds: int, size: int) -> Filled:
    pieces = []
    used = [0] * kinds
    area = 0
    while chain is not None:
        chain, x, y, (kind, along, across, turned) = chain  # type: ignore[misc]
        pieces.append(Piece(kind, x, y, along, across, turned))
        used[kind] += 1
        area += along * across
    return Filled(size, sheet, tuple(reversed(pieces)), tuple(used), area)
