"""What is said of two parts that a joint names and that do not touch: by how much they miss, and what to type so that they meet."""

from __future__ import annotations

from collections.abc import Collection

from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.resolve.joints.meeting import Miss, touching
from drawleaf.resolve.names.axes import EXTENT_KEYS
from drawleaf.resolve.names.counting import Counting
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.scopes import KindDraft, Scope
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.units import Length


class MissTeller:
    """Words the miss. ``shop`` are all parts of the plan, so that it can say which part does touch."""

    def __init__(self, targets: TargetFinder, shop: Collection[Part], evaluator: Evaluator) -> None:
        self._targets = targets
        self._shop = shop
        self._evaluator = evaluator

    def told(self, nearest: Miss, position: Position, scope: Scope, turned: bool) -> Diagnostic:
        """``turned`` where the miss was looked for from the part that receives: it is reported for the part that is set on all the same."""
        a, b, face = nearest.insert, nearest.receiver, nearest.face
        if turned:
            a, b, face = b, a, face.opposite if face else None
        if nearest.gap is None or face is None:
            message, cause = f"“{a.id}” and “{b.id}” do not meet", "They do not even lie opposite each other."
            return Diagnostic("parts-do-not-touch", message, position, cause, self._another(a, b))
        gap = say(abs(nearest.gap), scope.unit)
        reach = "is {} short of" if nearest.gap.exact_mm > 0 else "runs {} into"
        counting = Counting(self._evaluator, scope)
        mine, theirs = counting.say(a.seen.face(face), face.axis), counting.say(b.seen.face(face.opposite), face.axis)
        cause = f"Its {face.value} is at {mine}, the {face.opposite.value} of “{b.id}” at {theirs}.{counting.zero()}"
        message = f"“{a.id}” {reach.format(gap)} “{b.id}”"
        mend = self._closed(a, b, face, nearest.gap, scope) + self._or_what_it_meets(a, b)
        return Diagnostic("parts-do-not-touch", message, position, cause, mend)

    def _another(self, a: Part, b: Part) -> str:
        """Which parts do touch one of the two: most often another name was meant."""
        for one, other in ((a, b), (b, a)):
            met = [part.id for part in self._shop if part.id != one.id and touching(one, part) is not None]
            if met:
                names = " or ".join(f"“{name}”" for name in met[:3])
                return f"“{one.id}” touches {names}: name that in place of “{other.id}”, or move one of the two."
        return "Give one of them a face of the other on each axis, or name another part."

    def _or_what_it_meets(self, a: Part, b: Part) -> str:
        """What the part does touch, of another kind than the one named: that may have been meant."""
        met = next((one for one in self._shop if one.kind not in (a.kind, b.kind) and touching(a, one)), None)
        return f" Or name what it does touch: “{met.kind}”." if met is not None else ""

    def _closed(self, a: Part, b: Part, face: Face, gap: Length, scope: Scope) -> str:
        """What to write so that the gap closes: at the part whose place does not follow from the other's."""
        mine, theirs = self._targets.draft(a.kind), self._targets.draft(b.kind)
        if mine is None or theirs is None:
            return f"Let the face refer to the other part, as in “{face.value}: {b.id}.{face.opposite.value}”."
        if self._evaluator.follows(theirs, mine, face.axis):
            return self._written(theirs, b, a, face.opposite, gap, scope)
        return self._written(mine, a, b, face, gap, scope)

    def _written(self, kind: KindDraft, part: Part, other: Part, face: Face, gap: Length, scope: Scope) -> str:
        assembly, entry, axis = kind.assembly, kind.entry, face.axis
        if assembly.component is not None and kind.key in assembly.component.parts:
            by = say(abs(gap), scope.unit)
            return f"“{part.id}” comes with the component of “{assembly.id}”: change its sizes in “with” by {by}, or where it stands in “at”."
        if part.mirrored and kind.mirror is axis:
            way = (axis.high if (gap.exact_mm > 0) == (face.side > 0) else axis.low).value
            half = say(abs(gap) / 2, scope.unit)
            return (
                f"“{part.id}” stands where the “mirror” of “{kind.key}” puts it: move that plane {half} to the {way}."
            )
        if entry.repeat is not None and entry.repeat.along == axis.value and part.id != self._targets.first(kind):
            return f"“{part.id}” is a copy: change “spacing” or “at” in the “repeat” of “{kind.key}”."
        meant = f"“{face.value}: {other.id}.{face.opposite.value}”"
        extent = EXTENT_KEYS[axis]
        if getattr(entry, face.value) is not None:
            return f"Write {meant} at “{kind.key}”, in place of what its “{face.value}” is now."
        if getattr(entry, extent) is not None and getattr(entry, face.opposite.value) is not None:
            return f"Write {meant} at “{kind.key}”, in place of its “{extent}”."
        return f"Write {meant} at “{kind.key}”, in place of its “{face.opposite.value}”."
