"""What a joint family says about its own proportions: how thick, how deep, how much room. One check reads them all.

A family that has something to say adds a method ``proportions(made)``; one that has nothing to say leaves it out.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol, runtime_checkable

from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import Bore, BoxCut, Joint, Part
from drawleaf.units import Length

CUSTOM = "common practice, no source"
Figure = Length | Fraction
Told = Literal["number", "slope", "degrees"]


@dataclass(frozen=True, slots=True)
class Made:
    """A joint of the resolved plan with the two parts that it joins, their bodies grown and their cuts made."""

    joint: Joint
    insert: Part
    receiver: Part

    def cuts(self, part: Part) -> tuple[BoxCut, ...]:
        """What this joint cut from one of its parts."""
        return tuple(cut for cut in part.features if isinstance(cut, BoxCut) and cut.joint == self.joint.id)

    def bores(self, part: Part) -> tuple[Bore, ...]:
        """The holes that this joint bored in one of its parts: those whose row is named after the joint."""
        rows = (self.joint.id, f"{self.joint.id}-")
        return tuple(
            bore
            for bore in part.features
            if isinstance(bore, Bore) and bore.row and (bore.row == rows[0] or bore.row.startswith(rows[1]))
        )


@dataclass(frozen=True, slots=True)
class Proportion:
    """One figure of a joint with the limits that its family sets.

    Below ``low`` or above ``high`` it is advised against, below ``least`` or above ``most`` it stops the compile; None sets no limit.
    ``figure`` and its limits are lengths, or bare ratios printed as ``told`` says (a ``slope`` of 1/7 reads ``1:7``). ``of`` is the length
    that it is a share of, named by ``of_name``, for the figures in the booklet. ``words`` is a sentence about the figure, ``rule`` what
    it is held against, ``mend_low`` and ``mend_high`` what to change; all may use ``{figure}``, ``{of}``, ``{share}``, ``{low}``, ``{high}``,
    ``{insert}`` and ``{receiver}``. ``source`` says where the limits come from.
    """

    name: str
    figure: Figure
    words: str
    rule: str
    low: Figure | None = None
    high: Figure | None = None
    least: Figure | None = None
    most: Figure | None = None
    of: Length | None = None
    of_name: str = ""
    mend_low: str = ""
    mend_high: str = ""
    source: str = CUSTOM
    told: Told = "number"

    @property
    def too_low(self) -> bool:
        return _under(self.figure, self.low) or _under(self.figure, self.least)

    @property
    def too_high(self) -> bool:
        return _over(self.figure, self.high) or _over(self.figure, self.most)

    @property
    def beyond(self) -> bool:
        """Whether it is so far out that the joint must not be made."""
        return _under(self.figure, self.least) or _over(self.figure, self.most)

    @property
    def sound(self) -> bool:
        return not (self.too_low or self.too_high)


@runtime_checkable
class Proportioned(Protocol):
    """A family with rules of its own."""

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        """Every figure that the family has a rule for. Copies of a joint give the same figures in the same order."""
        ...


def _under(figure: Figure, limit: Figure | None) -> bool:
    return limit is not None and _number(figure) < _number(limit)


def _over(figure: Figure, limit: Figure | None) -> bool:
    return limit is not None and _number(figure) > _number(limit)


def _number(figure: Figure) -> Fraction:
    return figure.exact_mm if isinstance(figure, Length) else figure


def thinned(noun: CutKind, thick: Length, wood: Length) -> Proportion:
    """The rule for what stands thinned out of its wood: a tenon, or a ``tongue`` between boards, at a drawer's corner, at a breadboard end."""
    return Proportion(
        name=f"thickness of the {noun}",
        figure=thick,
        of=wood,
        of_name="thickness",
        words=f"The {noun} of the {{insert}} is {{figure}} thick, {{share}} of its wood.",
        rule=f"a {noun}: a third of the thickness, at most half",
        low=wood / 4,
        high=wood * Fraction(11, 20),
        most=wood * Fraction(3, 4),
        mend_low="Make “thickness” {low} or more.",
        mend_high="Make “thickness” no more than {high}.",
    )
