"""The search for an order of assembly, asked of a plan's solids; and what holds the parts where there is none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.derive.assembly.asked import joined_first, unkept, waits_of, without_order
from drawleaf.derive.assembly.groups import joined_units
from drawleaf.derive.assembly.order import Arrival, Free, Reach, Stuck, Tables, Tilt, Unit, build_order
from drawleaf.derive.assembly.stuck import stuck_diagnostic
from drawleaf.derive.operations.splines import Slides
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Plan


@dataclass(frozen=True, slots=True)
class Paths:
    """What the order search asks of the solids: ways out for parts at rest, and whether fasteners can be driven; ``slides`` says whether
    a spline can leave its slot."""

    free: Free
    reach: Reach
    tilt: Tilt
    tables: Tables | None = None
    slides: Slides = lambda _piece, _standing, _way: True


def search(plan: Plan, paths: Paths, units: Sequence[Unit], tilt: Tilt | None = None) -> tuple[Arrival, ...] | Stuck:
    """The order of these units as the author asks for it; with ``tilt`` some may come in at a slant."""
    joined = joined_units(plan, units)
    return build_order(units, paths.free, paths.reach, joined, tilt, paths.tables, waits_of(plan))


def proven_order(plan: Plan, paths: Paths, units: Sequence[Unit]) -> tuple[Arrival, ...] | Stuck:
    """The order of these units, every sub-assembly among them proven too."""
    arrivals = search(plan, paths, units)
    if isinstance(arrivals, Stuck):
        return arrivals
    for arrival in arrivals:
        if arrival.unit.members:
            inner = proven_order(plan, paths, arrival.unit.members)
            if isinstance(inner, Stuck):
                return inner
    return arrivals


def why_stuck(plan: Plan, paths: Paths, units: Sequence[Unit], stuck: Stuck, tilt: Tilt | None = None) -> Diagnostic:
    """What holds the parts, or the line of the source whose order cannot be kept: the one without which all could be put together."""
    for order in (*plan.order.orders, *plan.order.firsts):
        rest = without_order(plan, order)
        if not isinstance(search(rest, paths, joined_first(rest, units), tilt), Stuck):
            return unkept(order, units, paths.free)
    return stuck_diagnostic(plan, stuck.units, paths.free)
