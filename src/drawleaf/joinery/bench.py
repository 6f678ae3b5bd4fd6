"""What a family says of its own cuts on loose parts: how the bench makes them, what a drawing notes, how a booklet marks them out.

Pure values and functions of parts and cuts, so that no later room is imported here: derive makes operations of a ``BenchWork``, the audit
measures cuts by it, draw and book print its notes. ``BENCH`` in ``joinery`` lists the work of all families in the order of the bench.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Protocol, runtime_checkable

from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import BoxCut, Feature, Joint, Part, Plan
from drawleaf.model.settings import Settings
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import Length

Cut = BoxCut | OutlineCut
Note = tuple[str | Length | Face, ...]
"""Words with lengths, which are printed in the plan's units, and with sides of the part, which are called as the piece stands."""


@dataclass(frozen=True, slots=True)
class CutNote:
    """What the drawing of a part notes of some cuts: ``at`` is the wood that its key points to; ``measured`` are distances to dimension,
    each from a face along that face's axis."""

    at: Box
    measured: tuple[tuple[Face, tuple[Length, ...]], ...]
    note: Note


@dataclass(frozen=True, slots=True)
class BenchWork:
    """How the bench makes one kind of cut.

    ``operation`` names the template of its words and its work in ``shared/methods``; ``titles`` are the step's for one
    cut and for several, with a place for the parts: ``Cut the tails on the {}``. ``setting`` is what the tools are set to for one piece of
    work: one cut, or all that one joint cuts in a part (``whole_joint``).
    ``agrees`` holds the settings of an operation against a cut, by other means than ``setting``. ``way`` is the work in
    ``shared/methods`` where the settings change it (``further_ways`` lists what it can be). ``together``: all settings of an assembly
    share a step. ``notes`` are those of a part's drawing, where it is not drawn as other cuts of its shape; ``marks`` how a cut is
    marked out, after the words ``on the Sides:``.
    """

    kind: str
    operation: str
    titles: tuple[str, str]
    settings: type[Settings]
    setting: Callable[[Plan, Part, tuple[Cut, ...]], Settings]
    agrees: Callable[[Any, Part, Feature], bool]
    whole_joint: bool = False
    together: bool = False
    way: Callable[[Any], str] | None = None
    further_ways: tuple[str, ...] = ()
    notes: Callable[[Plan, Part], Iterable[CutNote]] | None = None
    marks: Callable[[Part, tuple[Cut, ...]], Note] | None = None

    def way_of(self, setting: Settings) -> str:
        """The work in ``shared/methods`` for these settings."""
        return self.operation if self.way is None else self.way(setting)

    def pieces(self, part: Part) -> list[tuple[Cut, ...]]:
        """The pieces of work in a part, in the order of its features."""
        found: dict[object, list[Cut]] = {}
        for place, cut in enumerate(part.features):
            if isinstance(cut, BoxCut | OutlineCut) and cut.kind == self.kind:
                found.setdefault(cut.joint if self.whole_joint else place, []).append(cut)
        return [tuple(cuts) for cuts in found.values()]


@runtime_checkable
class AtBench(Protocol):
    """What a family adds that has kinds of cuts of its own."""

    @property
    def bench(self) -> tuple[BenchWork, ...]: ...


@runtime_checkable
class Detailed(Protocol):
    """What a family adds that has more to say under the enlarged drawing of a joint."""

    def details(self, plan: Plan, joint: Joint) -> tuple[Note, ...]:
        """Lines under the drawing."""
        ...


@runtime_checkable
class PartlyGlued(Protocol):
    """What a family adds whose glue goes over a part of the joint alone, so that the rest can move."""

    def glued_span(self, plan: Plan, joint: Joint) -> tuple[Face, Span] | None:
        """The end that is glued, and from where to where along its axis; None where glue goes all over."""
        ...


def deep(cut: BoxCut) -> Length:
    """How deep a square cut goes into the face that it is made from."""
    return cut.box.extent(cut.into.axis)


def first_outline(part: Part, joint: Joint, kind: str) -> OutlineCut | None:
    """The first cut of that kind with an outline that a joint makes in a part; None where there is none."""
    cuts = (cut for cut in part.features if isinstance(cut, OutlineCut) and cut.joint == joint.id)
    return next((cut for cut in cuts if cut.kind == kind), None)


def reach_within(part: Part, cut: OutlineCut, axis: Axis) -> Length:
    """How far an outline reaches along an axis within the part's body."""
    span = cut.span if axis is cut.outline.axis else cut.outline.span(axis)
    body = part.body.span(axis)
    return min(span.high, body.high) - max(span.low, body.low)
