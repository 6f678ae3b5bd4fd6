"""Filling one sheet by edge-to-edge cuts: a beam search over cutting trees.

Method: beam search with the guide (waste + 2 % of the sheet) / value; a rectangle that no piece fits is waste at once. Guides of this kind for
cutting problems: Libralesso & Fontan, European Journal of Operational Research 291 (2021), 883-893 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

from drawleaf.derive.layout.search.cutting_tree import CuttingTree, Node, Shoot, Ways
from drawleaf.derive.layout.search.guillotine import Counts, Cutting, Effort, Filled, Tidy
from drawleaf.derive.layout.search.packing import Fill, Order

BEAM = 16
CHOICES = 10
# What it takes to begin a filling and to end it, in nodes: sheets that hold two pieces each are filled by the thousand.
NODES_A_START = 6

Child = tuple[float, float, Node, Shoot]
"""Guide and value; the node it grows from, and the shoot that it comes of."""


def sheet_filler(order: Order, effort: Effort, tidy: Tidy | None = None) -> Fill:
    """The filling of sheets by guillotine cuts. With ``tidy``, of fillings worth the same the one that is easier to cut."""
    ways = Ways(order.kinds)
    trees: dict[tuple[int, Cutting], CuttingTree] = {}

    def fill(size: int, counts: Counts, values: Sequence[float], cutting: Cutting) -> Filled:
        tree = trees.get((size, cutting))
        if tree is None:
            tree = trees[size, cutting] = CuttingTree(order.sizes[size], ways, cutting, tidy)
        return fill_sheet(tree, size, counts, values, effort)

    return fill


def fill_sheet(tree: CuttingTree, size: int, counts: Counts, values: Sequence[float], effort: Effort) -> Filled:
    """The most valuable filling that the beam finds. ``counts`` are the pieces on hand; each laid piece of a kind earns its value."""
    by_value = tuple(sorted((at for at, count in enumerate(counts) if count), key=lambda at: (-values[at], at)))
    chosen = tree.choices(by_value)
    best = tree.root(counts)
    best_rank: tuple[float, float] | None = None
    states: list[tuple[float, Node]] = [(0.0, best)]
    grown = tree.grown
    tried = 0
    while states:
        children: dict[int, Child] = {}
        for value, node in states:
            fit = node.fit
            if not fit:
                rank = (value, -node.burden)
                if best_rank is None or rank > best_rank:
                    best, best_rank = node, rank
                continue
            choices = chosen.get(fit)
            if choices is None:
                choices = chosen[fit] = _most_valued(tree.ways, by_value, fit)
            sprouts = node.sprouts
            for bit in choices:
                tries, kind, shoot, other = sprouts.get(bit) or tree.lay(node, bit)
                tried += tries
                worth = value + values[kind]
                guide = shoot[0] / worth
                known = children.get(shoot[1])
                if known is None or guide < known[0]:
                    children[shoot[1]] = (guide, worth, node, shoot)
                if other is not None:
                    guide = other[0] / worth
                    known = children.get(other[1])
                    if known is None or guide < known[0]:
                        children[other[1]] = (guide, worth, node, other)
        kept = sorted(children.values(), key=itemgetter(0))[:BEAM]
        states = [(worth, grown(node, shoot)) for _, worth, node, shoot in kept]
    effort.left -= tried + NODES_A_START
    return tree.filled(best, len(counts), size)


def _most_valued(ways: Ways, by_value: Sequence[int], fit: int) -> tuple[int, ...]:
    """The most valued kinds of which any fit, each way that they do."""
    found: list[int] = []
    kinds = 0
    for kind in by_value:
        if fit & ways.bits[kind]:
            found += [bit for bit in ways.of_kind[kind] if fit & bit]
            kinds += 1
            if kinds == CHOICES:
                break
    return tuple(found)
