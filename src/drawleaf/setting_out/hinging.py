"""How what hardware carries moves: what hangs on hinges and about which axis, what runs on slides, what lies on its fasteners."""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.hardware_family import Carries
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part, Plan, Vector
from drawleaf.model.run import run_of


def is_hinge(fitting: Fitting) -> bool:
    return fitting.item.family.carries is Carries.LEAF


def runs_on_slides(fitting: Fitting) -> bool:
    return fitting.item.family.carries is Carries.DRAWER


def moves(fitting: Fitting) -> bool:
    """Whether what it carries moves in use: a drawer, a door, a lid; not a top on its fasteners."""
    return fitting.moving is not None and fitting.item.family.moves


def cleats_on_wall(plan: Plan) -> frozenset[str]:
    """The halves of hanging cleats that are screwed to the wall: they never come to the piece, the piece comes to them."""
    return frozenset(fitting.parts[0] for fitting in plan.fittings if fitting.item.family.on_cleat)


def carriers(plan: Plan, moving: str) -> tuple[Fitting, ...]:
    """The fittings that carry an assembly or part."""
    return tuple(fitting for fitting in plan.fittings if fitting.moving == moving)


def carried_sides(plan: Plan, fitting: Fitting) -> list[Part]:
    """The outermost upright parts of what a slide carries: its other half is screwed to them."""
    across = run_of(fitting).across
    carried = [part for part in plan.parts if part.assembly == fitting.moving and part.thickness is across]
    low = min((part.body.span(across).low for part in carried), default=None)
    high = max((part.body.span(across).high for part in carried), default=None)
    return [part for part in carried if part.body.span(across).low == low or part.body.span(across).high == high]


def swinging(plan: Plan) -> dict[str, tuple[Fitting, ...]]:
    """Doors and lids by the assembly that swings, each with its hinges in source order."""
    found: dict[str, list[Fitting]] = {}
    for fitting in plan.fittings:
        if fitting.moving is not None and is_hinge(fitting):
            found.setdefault(fitting.moving, []).append(fitting)
    return {moving: tuple(hinges) for moving, hinges in found.items()}


def pin_axis(plan: Plan, hinge: Fitting) -> Axis:
    """The axis that a hinge turns about: square to its plate and to the door for one with a cup, along itself for one of two leaves."""
    if hinge.item.family.cupped and len(hinge.parts) > 1:
        across = (hinge.face.axis, plan.part(hinge.parts[1]).thickness)
        return next(axis for axis in Axis if axis not in across)
    body = hinge.body
    if body is None:
        return Axis.Z
    return max(Axis, key=lambda axis: body.extent(axis).exact_mm)


def is_lid(plan: Plan, hinges: Iterable[Fitting]) -> bool:
    """Whether hinges carry a lid or flap, which turns about a level line, and not a door."""
    return any(pin_axis(plan, hinge) is not Axis.Z for hinge in hinges)


def way_home(plan: Plan, moving: str) -> Vector | None:
    """The direction in which what hardware carries comes to its place: a door from before its hinges, a lid and a top from above, a panel
    towards its magnets, a drawer in along its slides. None where nothing carries it."""
    for fitting in plan.fittings:
        if fitting.moving == moving:
            if fitting.item.family.carries_top:
                return (0.0, 0.0, -1.0)
            if is_hinge(fitting):
                return _to_hinge(plan, fitting)
            return _reverse(run_of(fitting).out.normal) if runs_on_slides(fitting) else None
        if fitting.item.family.holds_panel and plan.part(fitting.parts[-1]).assembly == moving:
            return _reverse(fitting.face.normal)
    return None


def _to_hinge(plan: Plan, hinge: Fitting) -> Vector:
    fixed, door = plan.part(hinge.parts[0]), plan.part(hinge.parts[-1])
    if hinge.item.family.cupped:
        axis = door.thickness
        before = door.seen.span(axis).middle < fixed.seen.span(axis).middle
        return axis.high.normal if before else axis.low.normal
    run = pin_axis(plan, hinge)
    if run is not Axis.Z:
        return _reverse(hinge.face.normal)
    out = next(axis for axis in Axis if axis not in (run, hinge.face.axis))
    ahead = hinge.body is not None and hinge.body.span(out).middle > hinge.at.along(out)
    return out.low.normal if ahead else out.high.normal


def _reverse(vector: Vector) -> Vector:
    return (0.0 - vector[0], 0.0 - vector[1], 0.0 - vector[2])
