"""The graph questions of every room: what is connected, and in which order dependent things come.

Orders and cycles are found by graphlib. Connectivity is a search of ten lines, here and in one other place
(``hang_together`` of the assembly's groups, which stops as soon as it knows): networkx answers it too, but takes 0.3 s to import, a tenth of a
whole ``drawleaf check``.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterable, Mapping
from graphlib import CycleError, TopologicalSorter
from heapq import heappop, heappush
from typing import TypeVar

Key = TypeVar("Key", bound=Hashable)


def connected(keys: Iterable[Key], links: Iterable[tuple[Key, Key]]) -> list[tuple[Key, ...]]:
    """The connected components of an undirected graph; components and their keys in the order given. Links to other keys are ignored."""
    keys = list(dict.fromkeys(keys))
    neighbours: dict[Key, set[Key]] = {key: set() for key in keys}
    for one, other in links:
        if one in neighbours and other in neighbours:
            neighbours[one].add(other)
            neighbours[other].add(one)
    component: dict[Key, int] = {}
    for number, key in enumerate(keys):
        if key not in component:
            component |= dict.fromkeys(reached(key, neighbours, neighbours.keys()), number)
    gathered: dict[int, list[Key]] = {}
    for key in keys:
        gathered.setdefault(component[key], []).append(key)
    return [tuple(one) for one in gathered.values()]


def is_connected(keys: Iterable[Key], links: Iterable[tuple[Key, Key]]) -> bool:
    """Whether the links join all keys into one component. No keys at all count as connected."""
    return len(connected(keys, links)) <= 1


def reached(start: Key, neighbours: Mapping[Key, Collection[Key]], within: Collection[Key]) -> set[Key]:
    """All keys ``within`` that can be reached from ``start``, itself included."""
    found, ahead = {start}, [start]
    while ahead:
        fresh = [key for key in neighbours.get(ahead.pop(), ()) if key in within and key not in found]
        found.update(fresh)
        ahead += fresh
    return found


def cut_points(keys: Iterable[Key], neighbours: Mapping[Key, Collection[Key]]) -> set[Key]:
    """The keys without which the rest no longer hangs together, in an undirected graph; ``neighbours`` that are no keys are ignored.

    With the keys already in several pieces, each is one but a key that stands alone beside one other piece.
    """
    keys = list(dict.fromkeys(keys))
    if not keys:
        return set()
    within = set(keys)
    first = keys[0]
    number, lowest = {first: 0}, {first: 0}
    found: set[Key] = set()
    path = [(first, first, iter(neighbours.get(first, ())))]
    branches = 0
    while path:
        key, before, ahead = path[-1]
        for one in ahead:
            if one not in within or one == before:
                continue
            if one in number:
                lowest[key] = min(lowest[key], number[one])
                continue
            number[one] = lowest[one] = len(number)
            path.append((one, key, iter(neighbours.get(one, ()))))
            break
        else:
            path.pop()
            if key == first:
                continue
            lowest[before] = min(lowest[before], lowest[key])
            if before == first:
                branches += 1
            elif lowest[key] >= number[before]:
                found.add(before)
    if branches > 1:
        found.add(first)
    if len(number) == len(keys):
        return found
    pieces = connected(keys, ((key, one) for key in keys for one in neighbours.get(key, ())))
    lone = {piece[0] for piece in pieces if len(piece) == 1} if len(pieces) == 2 else set[Key]()
    return within - lone


def topological(
    keys: Iterable[Key], after: Mapping[Key, Iterable[Key]], rank: Callable[[Key], tuple]
) -> tuple[Key, ...]:
    """The keys so that each follows all that it is ``after``; among those that are ready, the lowest rank first, then as given.

    Raises ValueError where they wait for each other in a cycle.
    """
    keys = list(keys)
    place = {key: index for index, key in enumerate(keys)}
    sorter = TopologicalSorter({key: [one for one in after.get(key, ()) if one != key] for key in keys})
    sorter.prepare()  # CycleError is a ValueError
    order: list[Key] = []
    ready: list[tuple[tuple, int]] = []
    while sorter.is_active():
        for key in sorter.get_ready():
            heappush(ready, (rank(key), place[key]))
        key = keys[heappop(ready)[1]]
        order.append(key)
        sorter.done(key)
    return tuple(order)


def order_and_cycles(needs: Mapping[Key, Iterable[Key]]) -> tuple[tuple[Key, ...], tuple[tuple[Key, ...], ...]]:
    """The keys so that needs come first, and cycles that share no key, each from need to need.

    Keys of a cycle are left out of the order; what needs them comes in it as if it did not.
    """
    left = {key: [need for need in wanted if need in needs] for key, wanted in needs.items()}
    cycles: list[tuple[Key, ...]] = []
    while True:
        try:
            return tuple(TopologicalSorter(left).static_order()), tuple(cycles)
        except CycleError as error:
            _, ring = error.args
            cycle = tuple(reversed(ring[1:]))  # graphlib gives it from the needed to the needing
            cycles.append(cycle)
            left = {
                key: [need for need in wanted if need not in cycle] for key, wanted in left.items() if key not in cycle
            }
