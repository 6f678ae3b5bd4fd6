"""Every part of a plan as a solid: its body with all its features machined out. Bought items and screws as plain shapes."""

from __future__ import annotations

from dataclasses import dataclass, field

from manifold3d import Manifold, OpType

from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Part, Plan
from drawleaf.solids.bodies import fastener_solid, fitting_solid
from drawleaf.solids.cutters import block, bore, box_cut, box_of, edge_profile
from drawleaf.solids.solid import Curve, Solid


@dataclass(frozen=True, eq=False)
class Solids:
    """The solids of a plan by id, made when first asked for. ``made`` are those made so far;
    ``memo`` keeps what other rooms work out once for a plan."""

    plan: Plan
    memo: dict[object, object] = field(default_factory=dict, repr=False)
    made: dict[str, Solid | None] = field(default_factory=dict, repr=False)

    def solid(self, part_id: str) -> Solid:
        """The part with its joinery cut. Raises KeyError where the plan has no such part."""
        if part_id not in self.made:
            self.made[part_id] = part_solid(self.plan.part(part_id))
        made = self.made[part_id]
        assert made is not None
        return made

    def fitting(self, fitting_id: str) -> Solid | None:
        """The bought item as a plain shape; None where it has no body to draw. Raises KeyError where the plan has no such fitting."""
        key = f"fitting:{fitting_id}"
        if key not in self.made:
            found = next((fitting for fitting in self.plan.fittings if fitting.id == fitting_id), None)
            if found is None:
                raise KeyError(fitting_id)
            self.made[key] = fitting_solid(found)
        return self.made[key]

    def body(self, an_id: str) -> Solid | None:
        """The solid of a part or fitting, whichever the id names."""
        if any(part.id == an_id for part in self.plan.parts):
            return self.solid(an_id)
        return self.fitting(an_id)

    def fastener(self, fastener: Fastener) -> Solid:
        """A screw or brad as a thin round bar with its head."""
        key = ("fastener", fastener.item.id, fastener.at, fastener.direction)
        if key not in self.memo:
            self.memo[key] = fastener_solid(fastener)
        return self.memo[key]  # type: ignore[return-value]


def build_solids(plan: Plan) -> Solids:
    """The solids of a plan."""
    return Solids(plan)


def part_solid(part: Part) -> Solid:
    """The part's body with all its features cut away."""
    cutters: list[Manifold] = []
    curves: list[Curve] = []
    for feature in part.features:
        match feature:
            case BoxCut():
                cutters.append(box_cut(feature))
            case Bore():
                body, curve = bore(feature, part)
                cutters.append(body)
                curves.append(curve)
            case EdgeProfile():
                body, rounded = edge_profile(feature, part)
                cutters.append(body)
                if rounded is not None:
                    curves.append(rounded)
    low, high = box_of(part.body)
    blank = block(low, high)
    if not cutters:
        return Solid(blank)
    # One tool for all the cuts: where two of them share a face, cutting one after the other could leave a thread of wood between.
    return Solid(blank - Manifold.batch_boolean(cutters, OpType.Add), tuple(curves))
