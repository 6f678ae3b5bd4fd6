"""What joints make one body: parts that are glued or screwed fast to one another, and so keep the places where they hold a board apart.

A rail moves with a board across its own thickness, but two rails that the ends of a frame tie together do not part with it.
"""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, span_mm
from drawleaf.joinery.moisture import coefficient
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Joint, Part

TIES = 0.5
"""What ties two places together reaches over so much of the distance between them; joints with parts that move little do the rest."""


def gives(fastener: Fastener) -> bool:
    """Brads bend; a screw in a slot slides."""
    return fastener.item.kind == FastenerKind.BRAD or fastener.slotted


def holds_fast(joint: Joint) -> bool:
    """Whether a joint leaves its parts no room to move."""
    return joint.glued or any(not gives(one) for one in joint.fasteners)


def moves_along(part: Part, axis: Axis) -> bool:
    """Whether a part swells and shrinks along an axis: solid wood across its grain."""
    return bool(coefficient(part.stock.material)) and part.grain is not None and part.grain is not axis


def bodies_without(bench: Bench, left_out: frozenset[str]) -> Iterator[frozenset[str]]:
    """The parts that hang together by joints that hold fast, with some parts taken away."""
    waiting = [part.id for part in bench.plan.parts if part.id not in left_out]
    seen = set(left_out)
    for first in waiting:
        if first in seen:
            continue
        seen.add(first)
        body, edge = {first}, [first]
        while edge:
            one = edge.pop()
            for joint in bench.joints_of[one]:
                other = joint.receiver if joint.insert == one else joint.insert
                if other not in seen and holds_fast(joint):
                    seen.add(other)
                    body.add(other)
                    edge.append(other)
        yield frozenset(body)


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
    sides = {part.id: _glued_beside(bench, part) for part in bench.plan.parts}
    seen = set[str]()
    for part in bench.plan.parts:
        if part.id in seen or not sides[part.id]:
            continue
        body, edge = {part.id}, [part.id]
        while edge:
            for other in sides[edge.pop()]:
                if other not in body:
                    body.add(other)
                    edge.append(other)
        seen |= body
        yield tuple(one for one in bench.plan.parts if one.id in body)


def _glued_beside(bench: Bench, part: Part) -> set[str]:
    if not coefficient(part.stock.material) or part.grain is None or part.tilt is not None:
        return set()
    found = set[str]()
    for joint in bench.joints_of[part.id]:
        other = bench.parts[joint.receiver if joint.insert == part.id else joint.insert]
        alike = other.grain is part.grain and bool(coefficient(other.stock.material)) and other.tilt is None
        if joint.glued and alike and joint.face.axis is not part.grain:
            found.add(other.id)
    return found
