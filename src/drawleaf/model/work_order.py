"""What an author says of the order of work: which parts are joined before which, what is joined before all else, what is cut later."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.position import Position


@dataclass(frozen=True, slots=True)
class Ordered:
    """All parts ``early`` stand before any of ``late`` comes to them. ``told`` are both as the source names them."""

    early: frozenset[str]
    late: frozenset[str]
    told: tuple[str, str]
    position: Position


@dataclass(frozen=True, slots=True)
class JoinedFirst:
    """Parts that are joined to one another by themselves, before they meet the rest: strips on a side that still lies flat."""

    parts: frozenset[str]
    told: str
    position: Position


@dataclass(frozen=True, slots=True)
class CutStanding:
    """A line of machining that waits until its part stands: all that is cut at ``line``, before any of ``until`` comes."""

    line: Position
    until: frozenset[str]


@dataclass(frozen=True, slots=True)
class FittedEarly:
    """A line of hardware that goes on the loose part, before anything of it is assembled."""

    line: str
    position: Position


@dataclass(frozen=True, slots=True)
class FittedAfter:
    """A line of hardware that goes on when these parts are there. ``told`` is what the source names."""

    line: str
    parts: frozenset[str]
    told: str
    position: Position


@dataclass(frozen=True, slots=True)
class MarkedFromMate:
    """What a line cuts in these parts is marked from the parts opposite, when these are bored or their half of the hardware sits."""

    line: Position
    parts: frozenset[str]


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """All that the source says of the order of work; empty where it leaves the order to us."""

    orders: tuple[Ordered, ...] = ()
    firsts: tuple[JoinedFirst, ...] = ()
    standing: tuple[CutStanding, ...] = ()
    early: tuple[FittedEarly, ...] = ()
    fitted_after: tuple[FittedAfter, ...] = ()
    marked: tuple[MarkedFromMate, ...] = ()

    @property
    def lines_standing(self) -> frozenset[Position]:
        """The lines of machining that wait until the piece stands."""
        return frozenset(one.line for one in self.standing)

    def is_marked(self, part: str, line: Position) -> bool:
        """Whether what that line cuts in a part is marked from its mate."""
        return any(one.line == line and part in one.parts for one in self.marked)
