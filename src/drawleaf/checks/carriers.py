"""What carries an edge of a board bends too: a rail under it from end to end sags by itself over its own span."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawleaf.checks import beams
from drawleaf.checks.beams import Strip
from drawleaf.checks.context import WEIGHT_OF_KG, Bench
from drawleaf.checks.supports import ENOUGH_ALONG, Spans
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part


@dataclass(frozen=True, slots=True)
class Carrier:
    """A part that carries one edge of a board by itself: clear over ``span`` mm between its ends, with its ``sag`` in mm on the first day, and
    ``later`` after years."""

    part: Part
    span: float
    sag: float
    later: float

    def higher(self, ratio: float) -> float:
        """How high it would have to be, in mm, to sag by no more than its span over ``ratio`` after years."""
        return self.part.seen.z.extent.mm * (self.later * ratio / self.span) ** (1 / 3)


def carriers_of(bench: Bench, board: Part, spans: Spans, force: float) -> Iterator[Carrier]:
    """The parts that carry the board alone along a line, are held at their own ends, and bend under what they bear.

    ``force`` is what lies on the board and what it weighs, in newtons for each millimetre of its span: a load that stays. No help is reckoned
    from the board, which is often glued to them.
    """
    along = Axis.Y if spans.axis is Axis.X else Axis.X
    for name, bears in spans.alone:
        part = bench.parts[name]
        if part.length_axis is not along or bench.on_floor(part) or _held_along(bench, part, board, along):
            continue
        modulus = beams.along(part.stock.material, with_grain=part.grain is None or part.grain is along)
        if modulus is None:
            continue
        other = spans.axis
        span, wide, high = (part.seen.extent(axis).mm for axis in (along, other, Axis.Z))
        stiffness = beams.bending_stiffness(Strip(wide, high, 0.0, modulus))
        own = part.stock.material.density / 1e9 * WEIGHT_OF_KG * wide * high * span
        first = beams.sag(beams.UNIFORM_SIMPLE, force * bears + own, span, stiffness)
        yield Carrier(part, span, first, first * beams.creep_factor(part.stock.material))


def _held_along(bench: Bench, part: Part, board: Part, along: Axis) -> bool:
    """Whether something besides the board holds it over most of its length: a ledger on a side, an apron on a wall."""
    length = part.seen.extent(along).mm
    return any(
        joint.contact.extent(along).mm >= ENOUGH_ALONG * length
        for joint in bench.joints_of[part.id]
        if board.id not in (joint.insert, joint.receiver)
    )
