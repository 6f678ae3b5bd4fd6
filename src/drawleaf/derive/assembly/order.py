"""An order of assembly that can be built: found by taking the piece apart.

A unit (a part, or a sub-assembly already glued) can be put on last if it can leave, along a straight line, all that stands. What can
leave a full house can leave an emptier one too, so taking away any free unit never spoils the chances of the others: if an order of
single moves exists, this finds one, in at most n rounds. Among free units the conventional order (``rank``) decides, which is the
author's own order of parts with late-comers such as back panels at its end.

Where no single unit can leave, several may leave together: those that no other one holds back in that direction. They are then
a sub-assembly, built first by itself. That too never spoils a chance, so if the piece can be parted at all by straight lines, this parts it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawleaf.graphs import cut_points
from drawleaf.model.plan import Vector
from drawleaf.solids.travel import WAYS

Free = Callable[[tuple[str, ...], tuple[str, ...]], tuple[Vector, ...]]
Reach = Callable[[tuple[str, ...], tuple[str, ...]], bool]
Tilt = Callable[[tuple[str, ...], tuple[str, ...]], Vector | None]
Table = NDArray[np.bool_]
"""``table[i, j, d]``: unit i, leaving along way d, would pass through unit j."""
Flat = NDArray[np.bool_]
Waits = Callable[["Unit", "Unit"], bool]
Tables = Callable[[Sequence[Sequence[str]]], Table]


DOWN: Vector = (0.0, 0.0, -1.0)


@dataclass(frozen=True, slots=True)
class Unit:
    """What moves as one: part ids, and its place in the conventional order (low ranks first). ``towards`` are the directions in which
    its joints close, best first: a tongue goes into its dado. A loose shelf ``may_tilt`` to get in. A sub-assembly has the
    ``members`` that it is built of."""

    id: str
    parts: tuple[str, ...]
    rank: tuple[int, ...]
    towards: tuple[Vector, ...] = ()
    may_tilt: bool = False
    members: tuple[Unit, ...] = ()
    drags: tuple[Vector, ...] = ()
    """The ways along its glued channels: on such a way it would push its glue out before it."""
    on_floor: bool = False
    """It goes in when the piece stands, so near the floor that it cannot come from below."""


@dataclass(frozen=True, slots=True)
class Arrival:
    """A unit coming into its place; ``direction`` None for the one that all others come to. ``tilted`` when it fits through only at a
    slant and is levelled in its place: a shelf behind a face frame."""

    unit: Unit
    direction: Vector | None
    tilted: bool = False


@dataclass(frozen=True, slots=True)
class Stuck:
    """Units that hold each other: neither one of them nor any group can leave the others along a straight line."""

    units: tuple[Unit, ...]


def build_order(
    units: Sequence[Unit],
    free: Free,
    reach: Reach,
    joined: Mapping[str, frozenset[str]],
    tilt: Tilt | None = None,
    tables: Tables | None = None,
    waits: Waits | None = None,
) -> tuple[Arrival, ...] | Stuck:
    """The units in the order they are put together.

    ``free(moving, standing)`` gives the directions in which parts can leave; ``reach(moving, standing)`` says whether the
    fasteners between them can be driven; ``joined`` maps each unit id to those it is joined to; ``tilt`` gives the way out of a
    unit that may leave at a slant. ``tables`` gives the same answers as ``free`` for all pairs at once, which is sooner. ``waits(early,
    late)`` says whether the author wants the one to stand before the other comes.
    """
    ordered = sorted(units, key=lambda unit: unit.rank)
    groups = [unit.parts for unit in ordered]
    table = tables(groups) if tables is not None else _asked(groups, free)
    kept = (
        None if waits is None else np.array([[waits(one, other) for other in ordered] for one in ordered], dtype=bool)
    )
    return _Search(ordered, table, reach, joined, tilt, kept).order()


def _asked(groups: Sequence[Sequence[str]], free: Free) -> Table:
    """The table by asking about every pair."""
    table = np.zeros((len(groups), len(groups), len(WAYS)), dtype=bool)
    for i, one in enumerate(groups):
        for j, other in enumerate(groups):
            if i != j:
                ways = free(tuple(one), tuple(other))
                table[i, j] = [way not in ways for way in WAYS]
    return table


class _Search:
    """The piece being taken apart: who is left, and how many hold each one back in each direction."""

    def __init__(
        self,
        units: Sequence[Unit],
        table: Table,
        reach: Reach,
        joined: Mapping[str, frozenset[str]],
        tilt: Tilt | None,
        kept: Flat | None = None,
    ) -> None:
        """``kept[i, j]``: unit i must not leave while unit j is still there."""
        self.units, self.table, self.kept = list(units), table, kept
        self.reach, self.joined, self.tilt = reach, joined, tilt
        self.left = list(range(len(units)))
        self.holders = table.sum(axis=1, dtype=np.int32)

    def order(self) -> tuple[Arrival, ...] | Stuck:
        taken: list[Arrival] = []
        while len(self.left) > 1:
            leaving = self._one() or self._several() or self._one(base_too=True)
            if leaving is None:
                return Stuck(tuple(self.units[i] for i in self.left))
            arrival, gone = leaving
            taken.append(arrival)
            for i in gone:
                self.left.remove(i)
                self.holders -= self.table[:, i]
        first = tuple(Arrival(self.units[i], None) for i in self.left)
        return first + tuple(reversed(taken))

    def _one(self, base_too: bool = False) -> tuple[Arrival, tuple[int, ...]] | None:
        """The free unit that conventionally comes last; first among those that leave the rest in one piece, and of these among those that need
        not be slid along a glued channel.

        With ``base_too`` also one that stays otherwise (`_base_stays`).
        """
        loose_ends, dragged = None, None
        holding = self._holding()
        free = (self.holders == 0).any(axis=1)
        for i in reversed(self.left if base_too or not self._base_stays() else self.left[1:]):
            unit = self.units[i]
            if self._is_kept((i,)):
                continue
            if not free[i] and not (self.tilt and unit.may_tilt):
                continue
            whole = unit.id not in holding
            if (loose_ends is not None or dragged is not None) and not whole:
                continue
            ways = tuple(way for way, held in zip(WAYS, self.holders[i], strict=True) if not held)
            if unit.on_floor:
                ways = tuple(way for way in ways if way != DOWN)
            standing = self._parts(other for other in self.left if other != i)
            arrival = self._arrival(unit, ways, standing)
            if arrival is None or not self.reach(unit.parts, standing):
                continue
            if not whole:
                loose_ends = arrival, (i,)
            elif arrival.direction not in unit.drags:
                return arrival, (i,)
            else:
                dragged = dragged or (arrival, (i,))
        return dragged or loose_ends

    def _is_kept(self, group: Sequence[int]) -> bool:
        """Whether one of the group has to be there before another that is still left."""
        if self.kept is None:
            return False
        others = [j for j in self.left if j not in group]
        return bool(self.kept[np.ix_(list(group), others)].any())

    def _base_stays(self) -> bool:
        """Whether joints tie others to each other and none of them to the first unit: a case is not put over a drawer, though drawer and
        front stay in one piece when the case is taken away."""
        base, *others = (self.units[i].id for i in self.left)
        tied = set[str]().union(*(self.joined.get(one, frozenset()) for one in others))
        return base not in tied and not tied.isdisjoint(others)

    def _holding(self) -> set[str]:
        """Those of the units that are left without which joints no longer connect the others."""
        return cut_points((self.units[i].id for i in self.left), self.joined)

    def _arrival(self, unit: Unit, ways: tuple[Vector, ...], standing: tuple[str, ...]) -> Arrival | None:
        if ways:
            return Arrival(unit, _way_in(unit, ways))
        slanting = self.tilt(unit.parts, standing) if self.tilt else None
        return Arrival(unit, _reverse(slanting), tilted=True) if slanting else None

    def _several(self) -> tuple[Arrival, tuple[int, ...]] | None:
        """The smallest group that can leave together and can itself be built, the rest being left standing."""
        for group, way in self._groups():
            members = [self.units[i] for i in group]
            standing = self._parts(i for i in self.left if i not in group)
            parts = tuple(part for unit in members for part in unit.parts)
            if self._is_kept(group) or not self.reach(parts, standing):
                continue
            kept = None if self.kept is None else self.kept[np.ix_(group, group)]
            inner = _Search(members, self.table[np.ix_(group, group)], self.reach, self.joined, self.tilt, kept).order()
            if isinstance(inner, Stuck):
                continue
            name = "+".join(unit.id for unit in members)
            unit = Unit(name, parts, members[0].rank, members=tuple(arrival.unit for arrival in inner))
            return Arrival(unit, _reverse(way)), tuple(group)
        return None

    def _groups(self) -> list[tuple[list[int], Vector]]:
        """Groups, smallest first, of which none is held back along a way by one outside the group: the ends of the blocking graph."""
        found = []
        for place, way in enumerate(WAYS):
            import networkx as nx  # slow to load, and seldom needed

            graph = nx.DiGraph()
            graph.add_nodes_from(self.left)
            held = self.table[np.ix_(self.left, self.left)][:, :, place]
            graph.add_edges_from((self.left[i], self.left[j]) for i, j in zip(*np.nonzero(held), strict=True))
            for group in nx.attracting_components(graph):
                if 1 < len(group) < len(self.left):
                    found.append((sorted(group), way))
        return sorted(found, key=lambda one: (len(one[0]), one[0], WAYS.index(one[1])))

    def _parts(self, places: Iterable[int]) -> tuple[str, ...]:
        return tuple(part for i in places for part in self.units[i].parts)


def _way_in(unit: Unit, ways_out: tuple[Vector, ...]) -> Vector:
    """The direction of arrival: the one in which its joints close, else the reverse of the first way out."""
    ways = tuple(_reverse(way) for way in ways_out)
    return next((way for way in unit.towards if way in ways), ways[0])


def _reverse(vector: Vector) -> Vector:
    return (0.0 - vector[0], 0.0 - vector[1], 0.0 - vector[2])
