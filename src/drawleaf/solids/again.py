"""Solids of a plan that was changed a little: bodies that are as they were are taken over, with all that was worked out of them alone."""

from __future__ import annotations

from typing import Any

from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids
from drawleaf.solids.homes import HOMES, fitting_shape, part_shape
from drawleaf.solids.shared_memo import OF_SOLIDS
from drawleaf.solids.solid import Solid


def build_again(last: Solids, plan: Plan) -> Solids:
    """The solids of ``plan``, which came out of the plan of ``last`` by a change. Equal bodies are the very same objects."""
    made: dict[str, Solid | None] = {}
    parts = {part.id: part for part in last.plan.parts}
    for part in plan.parts:
        before = parts.get(part.id)
        if before is not None and part.id in last.made and part_shape(before) == part_shape(part):
            made[part.id] = last.made[part.id]
    fittings = {fitting.id: fitting for fitting in last.plan.fittings}
    for fitting in plan.fittings:
        key, before = f"fitting:{fitting.id}", fittings.get(fitting.id)
        if before is not None and key in last.made and fitting_shape(before) == fitting_shape(fitting):
            made[key] = last.made[key]
    homes = last.homes.again()
    memo = _still_true(last.memo, plan, {id(solid) for solid, _ in homes.shapes.values()})
    memo[HOMES] = homes
    return Solids(plan, memo, made)


def _still_true(memo: dict[Any, Any], plan: Plan, live: set[int]) -> dict[Any, Any]:
    """The entries about live solids and about fasteners that the plan still has."""
    driven = {(one.item.id, one.at, one.direction) for joint in plan.joints for one in joint.fasteners}
    kept: dict[Any, Any] = {}
    for key, value in memo.items():
        if key[0] == "fastener" and key[1:] in driven:
            kept[key] = value
            live.add(id(value))
    covers: set[int] = set()
    for key, value in memo.items():
        kind = key[0]
        if kind not in OF_SOLIDS or kind in ("fastener", "seen faces"):
            continue
        if kind == "hits":
            kept[key] = {pair: hits for pair, hits in value.items() if id(pair[0]) in live and id(pair[1]) in live}
        elif all(id(one) in live for one in key if isinstance(one, Solid)):
            kept[key] = value
            if kind == "cover":
                covers.add(id(value))
    for key, value in memo.items():
        if key[0] == "seen faces" and id(key[2]) in live and all(id(cover) in covers for cover in key[3:]):
            kept[key] = value
    return kept
