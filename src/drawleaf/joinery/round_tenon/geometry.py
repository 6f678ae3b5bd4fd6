"""Round tenon: the round end of a rod, a handle or a rung in a hole of its own size."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.round_tenon import ROUND_TENON
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.plan import Bore, Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class RoundTenon:
    """The round part grows into a hole as wide as it is thick: by ``depth``, or right through with ``through: yes``."""

    facts: JointFamily = ROUND_TENON

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        insert, receiver = meeting.insert, meeting.receiver
        if insert.section is None or not insert.section.round or meeting.axis is not insert.length_axis:
            return (
                Diagnostic(
                    "round-tenon-not-round",
                    f"“{insert.id}” does not meet “{receiver.id}” with a round end",
                    meeting.position,
                    mend="Give it “section: {round: yes}”, or use “mortise_and_tenon” or “dado”.",
                ),
            )
        wood = receiver.seen.extent(meeting.axis)
        if terms.through:
            return ()
        if terms.depth.exact_mm <= 0:
            return (
                Diagnostic(
                    "no-depth",
                    "A hole for a round end needs a depth",
                    meeting.position,
                    "The depth is how far the part is let in.",
                    f"Write “depth: {say(wood * Fraction(2, 3), terms.unit)}”, or “through: yes”.",
                ),
            )
        if terms.depth >= wood:
            return (
                Diagnostic(
                    "too-deep",
                    f"A hole {say(terms.depth, terms.unit)} deep goes right through “{receiver.id}”, which is {say(wood, terms.unit)} thick",
                    meeting.position,
                    mend="Write “through: yes” if it should.",
                ),
            )
        return ()

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return meeting.receiver.seen.extent(meeting.axis) if terms.through else terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, Bore], ...]:
        start = meeting.insert.seen.center.moved(meeting.axis, meeting.receiver.body.face(meeting.face.opposite))
        diameter = meeting.insert.seen.extent(meeting.insert.thickness)
        depth = None if terms.through else terms.depth
        return (
            (
                meeting.receiver.id,
                Bore(
                    "hole", meeting.face.opposite, start, meeting.face.normal, diameter, depth, joint, meeting.position
                ),
            ),
        )

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        wood = made.receiver.body.extent(made.joint.face.axis)
        wide = made.receiver.body.extent(made.receiver.width_axis)
        found = []
        for bore in made.bores(made.receiver):
            found.append(
                Proportion(
                    name="hole for a round end",
                    figure=bore.diameter,
                    of=wide,
                    of_name="width",
                    words="The hole for the {insert} takes {figure} of the {of} that the {receiver} is wide: {share}.",
                    rule="at most half of the width",
                    high=wide / 2,
                    most=wide * Fraction(3, 4),
                    mend_high="Take a thinner rod.",
                )
            )
            if bore.depth is not None:
                found.append(
                    Proportion(
                        name="depth of the hole",
                        figure=bore.depth,
                        of=wood,
                        of_name="thickness",
                        words="The {insert} goes {figure} into the {of} of the {receiver}: {share}.",
                        rule="half to three quarters of the thickness",
                        low=wood * Fraction(2, 5),
                        high=wood * Fraction(17, 20),
                        mend_low="Bore {low} deep or more.",
                        mend_high="Leave more wood under the hole.",
                    )
                )
        return tuple(found)
