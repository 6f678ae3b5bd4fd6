"""Round tenon: the round end of a rod, a handle or a rung in a hole of its own size."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import floor, sqrt

from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.leaning import Leaning
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.round_tenon import ROUND_TENON
from drawleaf.joinery.tenons import floored
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.place import Point
from drawleaf.model.plan import Bore, Part
from drawleaf.model.shapes import PlaneCut
from drawleaf.units import Length

LEFT_UNDER = 3.0
"""Millimetres of wood to leave under a hole at a slant: common practice, no source."""
FINE_INCH, FINE_MM = Length.of_inches(Fraction(1, 16)), Length.of_mm(1)


@dataclass(frozen=True, slots=True)
class RoundTenon:
    """The round part grows into a hole as wide as it is thick: by ``depth``, or right through with ``through: yes``."""

    facts: JointFamily = ROUND_TENON

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        insert, receiver, leaning = meeting.insert, meeting.receiver, meeting.leaning
        end = leaning.own_face.axis if leaning is not None else meeting.axis
        if insert.section is None or not insert.section.round or end is not insert.length_axis:
            return (
                Diagnostic(
                    "round-tenon-not-round",
                    f"“{insert.id}” does not meet “{receiver.id}” with a round end",
                    meeting.position,
                    mend="Give it “section: {round: yes}”, or use “mortise_and_tenon” or “dado”.",
                ),
            )
        wood = receiver.seen.extent(leaning.face.axis if leaning is not None else meeting.axis)
        if leaning is not None and (problem := _of_leaning(meeting, leaning, terms, wood)) is not None:
            return (problem,)
        if terms.through:
            return ()
        if terms.depth.exact_mm <= 0:
            usual = wood * Fraction(2, 3)
            if leaning is not None:
                usual = min(usual, Length.of_mm(Fraction(_deepest(insert, leaning, wood))))
            deep = say(floored(usual, _step(terms)), terms.unit)
            return (
                Diagnostic(
                    "no-depth",
                    "A hole for a round end needs a depth",
                    meeting.position,
                    "The depth is how far the part is let in.",
                    f"Write “depth: {deep}”, or “through: yes”." if leaning is None else f"Write “depth: {deep}”.",
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
        diameter = meeting.insert.seen.extent(meeting.insert.thickness)
        leaning = meeting.leaning
        if leaning is not None:
            bore = _at_a_slant(meeting, leaning, diameter, terms, joint)
            return ((meeting.receiver.id, bore),)
        start = meeting.insert.seen.center.moved(meeting.axis, meeting.receiver.body.face(meeting.face.opposite))
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


def _of_leaning(meeting: Meeting, leaning: Leaning, terms: Terms, wood: Length) -> Diagnostic | None:
    """What speaks against a hole at a slant: it must end in the wood, and nothing be cut off the end that goes into it."""
    insert, receiver = meeting.insert, meeting.receiver
    if any(isinstance(cut, PlaneCut) and cut.face is leaning.own_face for cut in insert.features):
        return Diagnostic(
            "round-end-cut",
            f"The end of “{insert.id}” that goes into “{receiver.id}” is cut off level",
            meeting.position,
            "It goes into its hole square to its own length, as long as the hole is deep.",
            f"Take “{leaning.own_face.value}” out of its “level_ends”.",
        )
    most = _deepest(insert, leaning, wood)
    if terms.through or terms.depth.mm > most:
        fine = _step(terms)
        deep = fine * floor(max(most, 0.0) / fine.mm)
        return Diagnostic(
            "slant-through",
            f"A hole at a slant for “{insert.id}” must end in “{receiver.id}”",
            meeting.position,
            "At a slant its far rim would break out on the other side, and the end that comes through could not be sawn off square.",
            f"Write “depth: {say(deep, terms.unit)}” or less{', without “through”' if terms.through else ''}."
            if deep > fine
            else "Take a thinner rod or thicker wood.",
        )
    return None


def _deepest(insert: Part, leaning: Leaning, wood: Length) -> float:
    """How deep a hole at a slant may be along the rod, in mm: the lowest point of its floor is the lower rim. Nothing or less: not at all."""
    straight = abs(sum(a * b for a, b in zip(leaning.axis, leaning.normal, strict=True)))
    radius = insert.seen.extent(insert.thickness).mm / 2
    return (wood.mm - LEFT_UNDER - radius * sqrt(max(0.0, 1.0 - straight**2))) / straight


def _step(terms: Terms) -> Length:
    return FINE_MM if terms.unit == "mm" else FINE_INCH


def _at_a_slant(meeting: Meeting, leaning: Leaning, diameter: Length, terms: Terms, joint: str) -> Bore:
    """The hole along the middle line of the part that leans, in the receiver's own frame; its depth is measured along that line."""
    rod, tilt = meeting.insert, meeting.receiver.tilt
    start, way = leaning.hit, leaning.axis
    side = rod.thickness.high.normal if rod.tilt is None else rod.tilt.out_direction(rod.thickness.high.normal)
    if tilt is not None:
        start, way, side = tilt.back(start), tilt.back_direction(way), tilt.back_direction(side)
    place = Point(*(Length.of_mm(Fraction(value).limit_denominator(10**6)) for value in start))
    x, y, z = (round(step, 9) + 0.0 for step in way)
    return Bore("hole", leaning.face, place, (x, y, z), diameter, terms.depth, joint, meeting.position, side)
