"""The way of a load from what carries it to the floor: part by part, by what each rests on and is joined to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawleaf.checks.context import TOUCH_MM, Bench, shared, span_mm
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part

UPRIGHT = 0.5
"""A joint whose faces look up or down by more than this carries by pressing, not by its fastenings."""


@dataclass(frozen=True, slots=True)
class LoadPath:
    """The ``joints`` that carry, and the ``ends``: parts that no joint and nothing beneath hands on from, and that stand on no floor."""

    joints: tuple[Joint, ...]
    ends: tuple[Part, ...]


def level(joint: Joint) -> bool:
    """Whether its faces look to the side, so that its fastenings carry."""
    return abs((joint.normal or joint.face.normal)[2]) <= UPRIGHT


def load_path(bench: Bench, parts: Sequence[Part]) -> LoadPath:
    """Each part hands its load to what it rests on and is joined to, until one stands on the floor."""
    floor = min(part.seen.z.low.mm for part in bench.plan.parts)
    loaded, edge = set[str](), [part.id for part in parts]
    joints: dict[str, Joint] = {}
    ends: list[Part] = []
    while edge:
        one = edge.pop()
        part = bench.parts[one]
        if one in loaded:
            continue
        loaded.add(one)
        if part.seen.z.low.mm - floor < TOUCH_MM and one not in bench.moving:
            continue
        ways = [(None, other.id) for other in beneath(bench, part)]
        if one not in bench.moving:
            ways += _joined(bench, one)
        if not ways:
            ends.append(part)
        for joint, other in ways:
            edge.append(other)
            if joint is not None:
                joints[joint.id] = joint
    return LoadPath(tuple(joints.values()), tuple(ends))


def _joined(bench: Bench, one: str) -> list[tuple[Joint | None, str]]:
    """What a part is set on or let into; where there is nothing of the kind, what is set on it and stands by itself, as a side on the end
    of a seat."""
    mine = bench.joints_of[one]
    ways: list[tuple[Joint | None, str]] = [
        (joint, joint.receiver if joint.insert == one else joint.insert)
        for joint in mine
        if joint.insert == one or not level(joint)
    ]
    return ways or [(joint, joint.insert) for joint in mine if _stands_without(bench, joint.insert, one)]


def _stands_without(bench: Bench, part: str, other: str) -> bool:
    floor = min(one.seen.z.low.mm for one in bench.plan.parts)
    if bench.parts[part].seen.z.low.mm - floor < TOUCH_MM:
        return True
    return any(other not in (joint.insert, joint.receiver) for joint in bench.joints_of[part])


def beneath(bench: Bench, part: Part) -> Iterator[Part]:
    """What a part lies on."""
    x, y, low = span_mm(part.seen, Axis.X), span_mm(part.seen, Axis.Y), part.seen.z.low.mm
    for other in bench.plan.parts:
        if other.id == part.id or abs(other.seen.z.high.mm - low) > TOUCH_MM:
            continue
        if shared(x, span_mm(other.seen, Axis.X)) > TOUCH_MM and shared(y, span_mm(other.seen, Axis.Y)) > TOUCH_MM:
            yield other
