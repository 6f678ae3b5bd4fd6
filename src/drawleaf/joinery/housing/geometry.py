"""Housing: a channel at an angle across the face of a part, which takes the end of another that leans: a stair tread, a sloping shelf."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.channel import TRENCH, channel_proportions
from drawleaf.joinery.dado.geometry import Dado
from drawleaf.joinery.family import Drive, Family, Meeting, Terms, along_joint, broad_side
from drawleaf.joinery.housing import HOUSING
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Span
from drawleaf.model.plan import Feature, Part
from drawleaf.model.shapes import Corner, Outline, OutlineCut
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Housing:
    """The insert grows by the depth, square to the receiver's face; the housing is as wide as it is thick, and lies as it leans."""

    facts: JointFamily = HOUSING

    @property
    def straight(self) -> Family:
        """A housing for a part that stands straight is called a dado here; in Britain both have one name."""
        return Dado()

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        leaning = meeting.leaning
        if leaning is None or not leaning.square:
            return (
                Diagnostic(
                    "housing-square",
                    f"“{meeting.insert.id}” does not stand square to the face of “{meeting.receiver.id}”, turned within it",
                    meeting.position,
                    "A housing takes a part that leans along the face which receives it, such as a sloping shelf between two sides.",
                    "Use “dado” for a part that stands straight, and “butt” for an end that is cut at an angle.",
                ),
            )
        thickness = meeting.receiver.body.extent(leaning.face.axis)
        if terms.depth.exact_mm <= 0 or terms.depth >= thickness:
            return (
                Diagnostic(
                    "housing-depth",
                    f"A housing {say(terms.depth, terms.unit)} deep makes no sense in “{meeting.receiver.id}”, "
                    f"which is {say(thickness, terms.unit)} thick",
                    meeting.position,
                    mend=f"A third of the thickness is plenty: {say(thickness / 3, terms.unit)}.",
                ),
            )
        return ()

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, Feature], ...]:
        leaning = meeting.leaning
        assert leaning is not None
        face, body = leaning.face, meeting.receiver.body
        surface = body.face(face)
        bottom = surface - terms.depth * face.side
        a, b = face.axis.others()
        corners = tuple(Corner(_kept(end[a.index]), _kept(end[b.index])) for end in leaning.end)
        span = Span.between(surface, bottom)
        cut = OutlineCut(
            CutKind.HOUSING, face, Outline(face.axis, corners), span, (face,), False, joint, meeting.position
        )
        return ((meeting.receiver.id, cut),)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        return channel_proportions(made, self.facts.noun, TRENCH)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))


def _kept(mm: float) -> Length:
    """To a thousandth of a millimetre: angles have no exact lengths."""
    return Length.of_mm(Fraction(mm).limit_denominator(1000))
