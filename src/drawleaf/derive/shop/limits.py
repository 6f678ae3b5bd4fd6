"""What a person with the plan's kit can handle: what one carries, what the saws reach, which guide each cut runs on."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.derive.shop.methods import kit_of, owned_by, ways_for
from drawleaf.model.plan import Plan
from drawleaf.units import Length

CARRY_KG = 23.0
"""One person's load under good conditions: the load constant (51 lb) of the lifting equation, NIOSH Publication 94-110 (from memory)."""
WIDEST_RIP = Length.of_inches(24)
"""From blade to fence at its widest, on the table saw of a small shop. Common practice, no source; a saw's manual says its own."""
NARROWEST_RIP = Length.of_inches(1)
"""Narrower strips pass too near the blade for a push stick. Common practice, no source."""
BY_KNIFE = Length.of_mm(4)
"""Plywood up to so thick is cut with a knife: a saw tears it, and its small parts are not safe at a blade. Common practice, no source."""
SHORTEST_RIP = Length.of_inches(12)
"""Shorter pieces are not ripped by machine, but clamped and sawn to a line. Common practice, no source; saw manuals name their own."""
SHORTEST_HELD = Length.of_inches(6)
"""A rest of a board so long can be clamped at one end and sawn at the other; what is shorter is no better than the part itself. Common
practice, no source."""
SHORTEST_AT_STOP = Length.of_inches(2)
"""A shorter piece is not cut off by machine: caught between stop and blade it is thrown. Common practice, no source."""
THINNEST_PLANED = Length.of_inches(Fraction(1, 4))
"""A thinner board is lifted into the planer's knives and breaks up, unless it lies on a carrier. Common practice, no source; planer manuals
name their own."""
WIDEST_MITRE = Length.of_inches(Fraction(11, 2))
"""What a 10 in mitre saw that does not slide cuts square in one pass. Common practice, no source."""
NARROW_BOARD = Length.of_inches(3)
"""A board narrower than this gives the base of a circular saw nothing to ride on: it is sawn to a line. Common practice, no source."""
PLANER = "thickness planer"
BREAK_DOWN = "break-down"
"""The kind of work in ``shared/methods``."""
HIGHEST_RESAW = Length.of_inches(6)
"""How wide a board passes upright under the guide of a small shop's bandsaw. Common practice, no source; a saw's manual says its own."""
FENCE, STRAIGHTEDGE, STOP, SQUARE, LINE = "fence", "straightedge", "stop", "square", "line"
MOVED = "straightedge moved along"
"""A straightedge that is shorter than the cut: clamped anew against the line half way."""


@dataclass(frozen=True, slots=True)
class ShopLimits:
    """The saws of a kit, as far as they decide how a cut is guided."""

    table_saw: bool
    planer: bool = False
    bandsaw: bool = False
    straightedge: Length | None = None
    sheets_at_fence: bool = True
    """Whether the kit's way of breaking sheets down uses the table saw at all; else the whole sheet is cut along straightedges."""
    stop: bool = True
    """Whether boards are cut to length against a stop, at a mitre saw or in a mitre box."""
    stop_short: bool = True
    """The same for short parts."""

    def guide(
        self,
        kind: str,
        setting: Length,
        *,
        board: bool,
        heavy: bool,
        width: Length | None = None,
        run: Length | None = None,
    ) -> str:
        """What a cut runs on: the table saw's fence, a clamped straightedge, a stop, a square, or a line for short rips.

        A whole sheet stays where it lies and the saw goes over it; a piece is crosscut on the table saw by no one, since
        it turns between blade and fence.
        """
        found = self._guide(kind, setting, board=board, heavy=heavy, width=width, run=run)
        if found != STRAIGHTEDGE or self.straightedge is None:
            return found
        along = run if kind == "rip" else width
        return MOVED if along is not None and along > self.straightedge else found

    def _guide(
        self, kind: str, setting: Length, *, board: bool, heavy: bool, width: Length | None, run: Length | None
    ) -> str:
        if kind == "rip":
            if run is not None and run < SHORTEST_RIP:
                return LINE
            reaches = NARROWEST_RIP <= setting <= WIDEST_RIP
            fenced = self.table_saw and (board or self.sheets_at_fence) and reaches
            if not fenced and width is not None and width < NARROW_BOARD:
                return LINE
            return FENCE if fenced and not heavy else STRAIGHTEDGE
        if not board:
            return STRAIGHTEDGE
        return self.across(width, short=False)

    def across(self, width: Length | None, *, short: bool) -> str:
        """What a crosscut of a board runs on; ``short`` for parts so short that they have a way of their own."""
        stops = self.stop_short if short else self.stop
        return STOP if stops and (width is None or width <= WIDEST_MITRE) else SQUARE


def shop_limits(plan: Plan) -> ShopLimits:
    """The limits of the plan's kit."""
    kit = kit_of(plan)
    tools = kit.tools
    return ShopLimits(
        "table saw" in tools,
        PLANER in tools,
        "bandsaw" in tools,
        kit.straightedge,
        _sheets_at_fence(plan),
        _has_stop(plan, "crosscut", "mitre saw" in tools),
        _has_stop(plan, "crosscut-short", "mitre saw" in tools),
    )


def _has_stop(plan: Plan, work: str, otherwise: bool) -> bool:
    """Whether the kit's way of a kind of work uses a stop block."""
    if work not in plan.catalogue.methods:
        return otherwise
    best, _ = ways_for(work, plan.catalogue, owned_by(kit_of(plan), plan.catalogue))
    return "stop block" in best.tools


def _sheets_at_fence(plan: Plan) -> bool:
    """As the step that breaks sheets down is written: the layout names no saw that this step does not."""
    if BREAK_DOWN not in plan.catalogue.methods:
        return True
    best, _ = ways_for(BREAK_DOWN, plan.catalogue, owned_by(kit_of(plan), plan.catalogue))
    return "table saw" in best.tools
