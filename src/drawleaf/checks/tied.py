"""What joints make one body: parts that are glued or screwed fast to one another, and so keep the places where they hold a board apart.

A rail moves with a board across its own thickness, but two rails that the ends of a frame tie together do not part with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drawleaf.checks.context import Bench, span_mm
from drawleaf.graphs import connected, reached
from drawleaf.joinery.moisture import coefficient
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part

TIES = 0.5
"""What ties two places together reaches over so much of the distance between them; joints with parts that move little do the rest."""


def moves_along(part: Part, axis: Axis) -> bool:
    """Whether a part swells and shrinks along an axis: solid wood across its grain."""
    return bool(coefficient(part.stock.material)) and part.grain is not None and part.grain is not axis


def bodies_without(bench: Bench, left_out: frozenset[str], parts: Iterable[str]) -> list[frozenset[str]]:
    """The bodies that these parts belong to, each once: what hangs together by joints that hold fast, with some parts taken away."""
    found: list[frozenset[str]] = []
    for part in parts:
        if part not in left_out and not any(part in body for body in found):
            found.append(frozenset(reached(part, bench.held_fast, bench.held_fast.keys() - left_out)))
    return found


def tied_together(bench: Bench, body: frozenset[str], axis: Axis, low: float, high: float) -> bool:
    """Whether something in a body that does not move along an axis reaches from the one place to the other, or nearly."""
    wanted = TIES * (high - low)
    for one in body:
        part = bench.parts[one]
        first, last = span_mm(part.seen, axis)
        if not moves_along(part, axis) and min(last, high) - max(first, low) >= wanted > 0.0:
            return True
    return False


def laminated(bench: Bench) -> Iterator[tuple[Part, ...]]:
    """Boards glued side by side along their grain: each body of two or more of them."""
    beside = [(joint.insert, joint.receiver) for joint in bench.plan.joints if _glues_beside(bench, joint)]
    for body in connected(bench.parts, beside):
        if len(body) > 1:
            yield tuple(bench.parts[one] for one in body)


def _glues_beside(bench: Bench, joint: Joint) -> bool:
    """Whether a joint glues two boards of solid wood to each other along the grain of both; of what leans nothing is said."""
    one, other = bench.parts[joint.insert], bench.parts[joint.receiver]
    boards = all(
        part.grain is not None and part.tilt is None and coefficient(part.stock.material) for part in (one, other)
    )
    return joint.glued and boards and one.grain is other.grain and joint.face.axis is not one.grain
