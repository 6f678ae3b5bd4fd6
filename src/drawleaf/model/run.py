"""How a drawer runs: which side it comes out at, and between which sides it is carried."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Fitting


@dataclass(frozen=True, slots=True)
class Run:
    """A drawer comes ``out`` at that side of the piece, between slides that stand apart along ``across``; ``up`` is square to both."""

    out: Face = Face.FRONT
    across: Axis = Axis.X

    @property
    def along(self) -> Axis:
        return self.out.axis

    @property
    def up(self) -> Axis:
        return next(axis for axis in Axis if axis not in (self.along, self.across))


def run_of(fitting: Fitting) -> Run:
    """How what a slide carries runs: out at the front where the slide says nothing else."""
    return Run(fitting.opens or Face.FRONT, fitting.face.axis)
