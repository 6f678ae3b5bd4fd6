"""Solids of a plan that was changed a little: bodies that are as they were are taken over, with all that was worked out of them alone."""

from __future__ import annotations

from drawleaf.model.plan import Plan
from drawleaf.solids.build import Shapes, Solids, driven
from drawleaf.solids.homes import fitting_shape, part_shape
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
    still_driven = {driven(one) for joint in plan.joints for one in joint.fasteners}
    fasteners = {key: solid for key, solid in last.shapes.fasteners.items() if key in still_driven}
    live = [solid for solid, _ in homes.shapes.values() if solid is not None]
    memos = last.memos.only([*live, *fasteners.values()])
    return Solids(plan, memos, made, Shapes(homes, fasteners=fasteners))
