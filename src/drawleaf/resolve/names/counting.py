"""Places in the numbers of whoever wrote the line: from the zero of the assembly that the line is in."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.wording import say
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.scopes import Scope
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Counting:
    """Says coordinates of the plan in the frame of a scope."""

    evaluator: Evaluator
    scope: Scope

    def say(self, place: Length, axis: Axis) -> str:
        """A coordinate as the line would write it."""
        return say(place - self.evaluator.origin(self.scope, axis), self.scope.unit)

    def reach(self, part: Part, axis: Axis) -> str:
        """``from 1 in to 5 in``: where a part begins and ends along an axis."""
        span = part.seen.span(axis)
        return f"from {self.say(span.low, axis)} to {self.say(span.high, axis)}"

    def reaches(self, part: Part, face: Face) -> str:
        """``y from 1 in to 5 in, z from 0 in to 8 in``: where a face lies."""
        return ", ".join(f"{axis.value} {self.reach(part, axis)}" for axis in face.axis.others())

    def zero(self) -> str:
        """A reminder where the zero is, with a space before it; empty where it is the piece's own."""
        frame = self.scope.frame
        if frame is None or not any(self.evaluator.origin(self.scope, axis) for axis in Axis):
            return ""
        return f" Figures here count from the zero of “{frame.id}”, which stands where its “at” says."
