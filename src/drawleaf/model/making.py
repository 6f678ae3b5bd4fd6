"""What the layouts allow for, and the lengths that a plan names."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.model.position import Position
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Making:
    """Settings for layouts and lists that the author may change: kerf, edge trim, board end trim; ``jointing`` is what each edge
    of a glue-up's strips is sawn wider, to be planed off before glueing."""

    kerf: Length
    sheet_trim: Length
    end_trim: Length
    kit: str
    jointing: Length = ZERO


@dataclass(frozen=True, slots=True)
class NamedLength:
    """A dimension of the plan as resolved, for ``plan.json`` and for drawings that want its name."""

    name: str
    value: Length | Fraction
    position: Position
