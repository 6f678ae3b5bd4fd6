"""The one dependency graph: dimensions, counts, stock and faces as nodes, evaluated in topological order.

A node that fails, or that needs one that failed, simply has no value; its own mistake is reported once and independent
nodes go on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from drawleaf.graphs import order_and_cycles, reached
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.values import Value

Values = Mapping[str, Value]
Derivation = Callable[[Values], Value | Diagnostic]


@dataclass(frozen=True, slots=True)
class Node:
    """``label`` is the name as an author would write it; ``needs`` the keys whose values ``work`` takes."""

    label: str
    position: Position
    needs: tuple[str, ...]
    work: Derivation


class Graph:
    """Nodes by key."""

    def __init__(self) -> None:
        self._nodes: dict[str, Node] = {}
        self._values: dict[str, Value] = {}
        self._failed: set[str] = set()

    def __contains__(self, key: str) -> bool:
        return key in self._nodes

    def add(self, key: str, node: Node) -> None:
        self._nodes[key] = node

    @property
    def values(self) -> Values:
        return self._values

    def behind(self, keys: Iterable[str]) -> set[str]:
        """Everything that some nodes are worked out from, near or far."""
        needs = {key: node.needs for key, node in self._nodes.items()}
        nearest = {need for key in keys for need in needs.get(key, ())}
        return {one for need in nearest for one in reached(need, needs, needs)}

    def evaluate(self) -> tuple[Diagnostic, ...]:
        """Give every node that can have one a value; may be called again after nodes were added."""
        done = self._values.keys() | self._failed
        live = {key: node.needs for key, node in self._nodes.items() if key not in done}
        order, cycles = order_and_cycles(live)
        found = [self._cycle_diagnostic(cycle) for cycle in cycles]
        self._failed.update(key for cycle in cycles for key in cycle)
        for key in order:
            node = self._nodes[key]
            if any(need not in self._values for need in node.needs):
                self._failed.add(key)
                continue
            result = node.work(self._values)
            if isinstance(result, Diagnostic):
                found.append(result)
                self._failed.add(key)
            else:
                self._values[key] = result
        return tuple(found)

    def _cycle_diagnostic(self, cycle: tuple[str, ...]) -> Diagnostic:
        written = _without_plumbing([self._nodes[key] for key in cycle])
        if len(written) == 1:
            return Diagnostic(
                "cycle",
                f"“{written[0].label}” is given by itself",
                written[0].position,
                "It cannot be worked out before itself.",
                "Give it by a dimension, or by a face of another part.",
            )
        names = " -> ".join(node.label for node in [*written, written[0]])
        related = tuple((node.position, f"“{node.label}” is given here") for node in written[1:])
        return Diagnostic(
            "cycle",
            f"These depend on each other in a ring: {names}",
            written[0].position,
            "A length in the ring cannot be worked out before itself.",
            "Give one of them by a dimension or by a face outside the ring.",
            related=related,
        )


def _without_plumbing(nodes: list[Node]) -> list[Node]:
    """Nodes an author would recognise: repeated labels one after another are reported once; the first in the file leads."""
    kept: list[Node] = []
    for node in nodes:
        if not kept or kept[-1].label != node.label:
            kept.append(node)
    if len(kept) > 1 and kept[0].label == kept[-1].label:
        kept.pop()
    low = min(node.position for node in kept)
    # Of two faces written in one place, the one that the other is worked out from leads.
    tied = [index for index, node in enumerate(kept) if node.position == low]
    first = next((index for index in tied if kept[(index + 1) % len(kept)].position != low), tied[0])
    return kept[first:] + kept[:first]
