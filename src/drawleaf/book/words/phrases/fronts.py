"""A front that is screwed to a drawer already hung: between what stands beside it, or before the case."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.units import ZERO, Length

NEAR = Length.of_mm(12)
"""A gap wider than this beside a drawer front is no gap that anyone sets with spacers."""
BEHIND = Length.of_mm(6)
"""What lies no farther behind a front than this is covered by it."""


class Fronts(Speech):
    """Phrases for fronts."""

    def gaps(self) -> Markup:
        """The gaps around a front, to whatever stands beside it in its own plane; empty where nothing does."""
        part, gaps = self.plan.part(self.op.parts[0]), dict[Length, list[str]]()
        for axis in part.thickness.others():
            for face in (axis.low, axis.high):
                gap = _gap(part, face, self._standing())
                if gap is not None and gap <= NEAR:
                    gaps.setdefault(gap, []).append(face.value)
        return self._at_faces(gaps)

    def covers(self) -> Markup:
        """How far a front lies before what stands round its opening; empty where it stands between."""
        part = self.plan.part(self.op.parts[0])
        box = next((self.plan.part(joint.other(part.id)) for joint in self.op.joints), None)
        if box is None:
            return Markup("")
        axis = part.thickness
        inward = axis.high if box.body.span(axis).middle > part.body.span(axis).middle else axis.low
        behind = [one for one in self._standing() if one.assembly != box.assembly and _behind(part, inward, one)]
        covered: dict[Length, list[str]] = {}
        for across in axis.others():
            for face in (across.low, across.high):
                over = [_over(part, face, one) for one in behind]
                widest = max((one for one in over if one is not None), default=ZERO)
                if widest > ZERO:
                    covered.setdefault(widest, []).append(face.value)
        return self._at_faces(covered)

    def _standing(self) -> list[Part]:
        return [self.plan.part(other) for other in (self.step.scene.standing if self.step.scene else ())]

    def _at_faces(self, figures: Mapping[Length, Sequence[str]]) -> Markup:
        return self.fmt.join(
            Markup("{} all round").format(self.fmt.length(figure))
            if len(faces) == 4
            else Markup("{} at {}").format(self.fmt.length(figure), self.fmt.join([f"the {face}" for face in faces]))
            for figure, faces in figures.items()
        )


def _gap(part: Part, face: Face, standing: Sequence[Part]) -> Length | None:
    axis = face.axis
    rooms = []
    for other in standing:
        beside = all(_shared(part, other, one) for one in Axis if one is not axis)
        room = (other.body.face(face.opposite) - part.body.face(face)) * face.side
        if beside and room.exact_mm >= 0:
            rooms.append(room)
    return min(rooms, default=None)


def _behind(part: Part, inward: Face, other: Part) -> bool:
    """Whether another part lies close behind a front."""
    room = (other.body.face(inward.opposite) - part.body.face(inward)) * inward.side
    return ZERO <= room <= BEHIND and all(_shared(part, other, axis) for axis in inward.axis.others())


def _over(part: Part, face: Face, other: Part) -> Length | None:
    """How far a front lies over another part at one of its edges; None where that part is not at this edge."""
    span, there = part.body.span(face.axis), other.body.span(face.axis)
    if face.side < 0:
        return there.high - span.low if there.low <= span.low and there.high < span.middle else None
    return span.high - there.low if there.high >= span.high and there.low > span.middle else None


def _shared(part: Part, other: Part, axis: Axis) -> bool:
    both = part.body.span(axis).overlap(other.body.span(axis))
    return both is not None and both.extent > ZERO
