"""The way of a load from what carries it to the floor: part by part, by what each rests on and is joined to."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from drawleaf.checks.context import Bench
from drawleaf.checks.supports import beneath, stands
from drawleaf.model.plan import Joint, Part

UPRIGHT = 0.5
"""A joint whose faces look up or down by more than this carries by pressing, not by its fastenings."""


@dataclass(frozen=True, slots=True)
class LoadPath:
    """The ``joints`` that carry, and the ``ends``: parts that hand their load on to nothing but what it came from, and that stand on no floor."""

    joints: tuple[Joint, ...]
    ends: tuple[Part, ...]


def level(joint: Joint) -> bool:
    """Whether its faces look to the side, so that its fastenings carry."""
    return abs((joint.normal or joint.face.normal)[2]) <= UPRIGHT


def load_path(bench: Bench, parts: Sequence[Part]) -> LoadPath:
    """Each part hands its load to what it rests on and is joined to, until one stands on the floor."""
    depth = {part.id: 0 for part in parts}
    edge = [part.id for part in parts]
    joints: dict[str, Joint] = {}
    ways: dict[str, list[str]] = {}
    floor = set[str]()
    for one in edge:
        part = bench.parts[one]
        if bench.on_floor(part) and one not in bench.moving:
            floor.add(one)
            continue
        found = [(None, other.id) for other in beneath(bench, part)]
        if one not in bench.moving:
            found += _joined(bench, one)
        ways[one] = [other for _, other in found]
        for joint, other in found:
            if other not in depth:
                depth[other] = depth[one] + 1
                edge.append(other)
            if joint is not None:
                joints[joint.id] = joint
    bolted = {part for fitting in bench.plan.fittings if fitting.item.family.bolts_on for part in fitting.parts}
    ends = [
        bench.parts[one]
        for one, others in ways.items()
        if all(depth[other] < depth[one] for other in others)
        and (not others or one in bolted or not any(_reaches(other, one, ways, floor) for other in others))
    ]
    return LoadPath(tuple(joints.values()), tuple(ends))


def _reaches(start: str, but: str, ways: Mapping[str, Sequence[str]], floor: Collection[str]) -> bool:
    """Whether the load of a part comes to the floor without a certain one."""
    seen, edge = {start, but}, [start]
    for one in edge:
        if one in floor:
            return True
        new = [other for other in ways.get(one, ()) if other not in seen]
        seen.update(new)
        edge += new
    return False


def _joined(bench: Bench, one: str) -> list[tuple[Joint | None, str]]:
    """What a part is set on or let into; where there is nothing of the kind, what is set on it and stands by itself, as a side on the end
    of a seat."""
    mine = bench.joints_of[one]
    ways: list[tuple[Joint | None, str]] = [
        (joint, joint.other(one)) for joint in mine if joint.insert == one or not level(joint)
    ]
    return ways or [(joint, joint.insert) for joint in mine if stands(bench, joint.insert, one)]
