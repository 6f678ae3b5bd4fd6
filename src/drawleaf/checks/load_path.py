"""The way of a load from what carries it to the floor: part by part, by what each rests on and is joined to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.checks.context import Bench
from drawleaf.checks.supports import beneath, stands
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
    loaded, edge = set[str](), [part.id for part in parts]
    joints: dict[str, Joint] = {}
    ends: list[Part] = []
    while edge:
        one = edge.pop()
        part = bench.parts[one]
        if one in loaded:
            continue
        loaded.add(one)
        if bench.on_floor(part) and one not in bench.moving:
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
        (joint, joint.other(one)) for joint in mine if joint.insert == one or not level(joint)
    ]
    return ways or [(joint, joint.insert) for joint in mine if stands(bench, joint.insert, one)]
