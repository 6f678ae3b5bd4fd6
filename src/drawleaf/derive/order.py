"""An order of assembly that can be built: found by taking the piece apart.

A unit (a part, or a sub-assembly already glued) can be put on last if it can leave, along a straight line, all that stands. What can
leave a full house can leave an emptier one too, so taking away any free unit never spoils the chances of the others: if an order of
single moves exists, this finds one, in at most n rounds. Among free units the conventional order (``rank``) decides, which is the
author's own order of parts with late-comers such as back panels at its end.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from typing import TypeVar

from drawleaf.model.plan import Vector

Free = Callable[[tuple[str, ...], tuple[str, ...]], tuple[Vector, ...]]
Reach = Callable[[tuple[str, ...], tuple[str, ...]], bool]
Tilt = Callable[[tuple[str, ...], tuple[str, ...]], Vector | None]
Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Unit:
    """What moves as one: part ids, and its place in the conventional order (low ranks first). ``towards`` are the directions in which
    its joints close, best first: a tongue goes into its dado. A loose shelf ``may_tilt`` to get in."""

    id: str
    parts: tuple[str, ...]
    rank: tuple[int, ...]
    towards: tuple[Vector, ...] = ()
    may_tilt: bool = False


@dataclass(frozen=True, slots=True)
class Arrival:
    """A unit coming into its place; ``direction`` None for the one that all others come to. ``tilted`` when it fits through only at a
    slant and is levelled in its place: a shelf behind a face frame."""

    unit: Unit
    direction: Vector | None
    tilted: bool = False


@dataclass(frozen=True, slots=True)
class Stuck:
    """Units that hold each other: no one of them can leave the others along a straight line."""

    units: tuple[Unit, ...]


def build_order(
    units: Sequence[Unit],
    free: Free,
    reach: Reach,
    joined: Mapping[str, frozenset[str]],
    tilt: Tilt | None = None,
) -> tuple[Arrival, ...] | Stuck:
    """The units in the order they are put together.

    ``free(moving, standing)`` gives the directions in which parts can leave; ``reach(moving, standing)`` tells whether the
    fasteners between them can be driven; ``joined`` maps each unit id to those it is joined to; ``tilt`` gives the way out of a
    unit that may leave at a slant.
    """
    remaining = sorted(units, key=lambda unit: unit.rank)
    taken: list[Arrival] = []
    while len(remaining) > 1:
        leaving = _next_to_leave(remaining, free, reach, joined, tilt)
        if leaving is None:
            return Stuck(tuple(remaining))
        taken.append(leaving)
        remaining.remove(leaving.unit)
    first = tuple(Arrival(unit, None) for unit in remaining)
    return first + tuple(reversed(taken))


def _next_to_leave(
    remaining: list[Unit], free: Free, reach: Reach, joined: Mapping[str, frozenset[str]], tilt: Tilt | None
) -> Arrival | None:
    """The free unit that conventionally comes last; first among those that leave the rest in one piece."""
    loose_ends: Arrival | None = None
    for unit in reversed(remaining):
        rest = [other for other in remaining if other is not unit]
        standing = tuple(part for other in rest for part in other.parts)
        whole = _in_one_piece(rest, joined)
        if loose_ends is not None and not whole:
            continue
        arrival = _arrival(unit, standing, free, tilt)
        if arrival is None or not reach(unit.parts, standing):
            continue
        if whole:
            return arrival
        loose_ends = arrival
    return loose_ends


def _arrival(unit: Unit, standing: tuple[str, ...], free: Free, tilt: Tilt | None) -> Arrival | None:
    ways = free(unit.parts, standing)
    if ways:
        return Arrival(unit, _way_in(unit, ways))
    slanting = tilt(unit.parts, standing) if tilt and unit.may_tilt else None
    return Arrival(unit, _reverse(slanting), tilted=True) if slanting else None


def _way_in(unit: Unit, ways_out: tuple[Vector, ...]) -> Vector:
    """The direction of arrival: the one in which its joints close, else the reverse of the first way out."""
    ways = tuple(_reverse(way) for way in ways_out)
    return next((way for way in unit.towards if way in ways), ways[0])


def _reverse(vector: Vector) -> Vector:
    return (0.0 - vector[0], 0.0 - vector[1], 0.0 - vector[2])


def _in_one_piece(units: list[Unit], joined: Mapping[str, frozenset[str]]) -> bool:
    """Whether joints hold all of them together."""
    ids = {unit.id for unit in units}
    seen, todo = {units[0].id}, [units[0].id]
    while todo:
        for other in joined.get(todo.pop(), frozenset()):
            if other in ids and other not in seen:
                seen.add(other)
                todo.append(other)
    return len(seen) == len(ids)


def topological(
    nodes: Iterable[Key], after: Mapping[Key, Iterable[Key]], rank: Callable[[Key], tuple]
) -> tuple[Key, ...]:
    """The nodes so that each follows all that it is ``after``; among those that are ready, the lowest rank first.

    Raises ValueError where they go round in a circle: the operations are our own, so that is a bug and no mistake of the author's.
    """
    nodes = list(nodes)
    waiting = {node: {before for before in after.get(node, ()) if before != node} for node in nodes}
    followers: dict[Key, list[Key]] = {node: [] for node in nodes}
    for node in nodes:
        for before in waiting[node]:
            followers[before].append(node)
    ready = [(rank(node), index, node) for index, node in enumerate(nodes) if not waiting[node]]
    heapify(ready)
    place = {node: index for index, node in enumerate(nodes)}
    order: list[Key] = []
    while ready:
        _, _, node = heappop(ready)
        order.append(node)
        for follower in followers[node]:
            waiting[follower].discard(node)
            if not waiting[follower]:
                heappush(ready, (rank(follower), place[follower], follower))
    if len(order) != len(nodes):
        raise ValueError(f"operations wait for each other: {[node for node in nodes if waiting[node]]}")
    return tuple(order)
