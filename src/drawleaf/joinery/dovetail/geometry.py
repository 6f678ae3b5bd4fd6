"""Dovetails: tails on the end of the first part, pins on the other. Through, or half-blind where the tails stop inside the second part."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.bench import BenchWork, Note, reach_within
from drawleaf.joinery.corner import Corner, corner_at, corner_meets, corner_problems
from drawleaf.joinery.dovetail import DOVETAIL
from drawleaf.joinery.dovetail.bench import SOCKETS, TAILS, slope_line, slope_of, socket_of
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.prisms import BEYOND, prism
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Box, Face
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import ZERO, Length

HARD, SOFT = Fraction(1, 8), Fraction(1, 6)
"""Slopes for hardwood and for softwood: common practice, no source."""
_PIN = {"in": Length.of_inches(Fraction(1, 4)), "mm": Length.of_mm(6)}
_EVERY = Length.of_mm(40)


@dataclass(frozen=True, slots=True)
class Tail:
    """One tail along the corner: where it is narrow (at the shoulder) and where it is wide (at the end)."""

    narrow: tuple[Length, Length]
    wide: tuple[Length, Length]


@dataclass(frozen=True, slots=True)
class Dovetail:
    """The first part is drawn to the outside of the second (through) or part of the way into it (half-blind). ``count`` tails, one about
    every 40 mm unless given; ``slope`` 1/8 in hardwood, 1/6 in softwood."""

    facts: JointFamily = DOVETAIL
    bench: tuple[BenchWork, ...] = (TAILS, SOCKETS)

    def meets(self, insert: Part, receiver: Part, overlap: Box, terms: Terms) -> tuple[Face, Box] | None:
        return corner_meets(insert, receiver, overlap)

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        found = corner_problems(meeting, self.facts.title, through=False)
        if found:
            return found
        corner = corner_at(meeting)
        made = tails(corner, meeting, terms)
        if any(one.narrow[1] - one.narrow[0] <= _PIN[terms.unit] / 2 for one in made):
            width = say(corner.overlap.extent(corner.run), terms.unit)
            return (
                Diagnostic(
                    "no-fingers",
                    f"{len(made)} tails have no room in a corner {width} wide",
                    meeting.position,
                    mend="Ask for fewer with “count”, or make the slope less.",
                ),
            )
        return ()

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, OutlineCut], ...]:
        corner = corner_at(meeting)
        made = tails(corner, meeting, terms)
        return (
            *((meeting.insert.id, cut) for cut in _waste(corner, meeting, made, joint)),
            *((meeting.receiver.id, cut) for cut in _sockets(corner, meeting, made, joint)),
        )

    def details(self, plan: Plan, joint: Joint) -> tuple[Note, ...]:
        return slope_line(plan, joint)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        socket, axis = socket_of(made.receiver, made.joint), made.joint.face.axis
        if socket is None:
            return ()
        slope = slope_of(socket, axis)
        found = [
            Proportion(
                name="slope of the dovetails",
                figure=slope,
                words="The tails of the {insert} slope {figure}.",
                rule="dovetails slope between 1:9 and 1:5",
                low=Fraction(1, 9),
                high=Fraction(1, 5),
                mend_low="Make “slope” steeper: tails this straight hold no better than fingers.",
                mend_high="Make “slope” less: the corners of tails this steep break off.",
                told="slope",
            )
        ]
        wood, inside = made.receiver.body.extent(axis), reach_within(made.receiver, socket, axis)
        if inside < wood:
            found.append(
                Proportion(
                    name="depth of the half-blind tails",
                    figure=inside,
                    of=wood,
                    of_name="thickness",
                    words="The tails of the {insert} reach {figure} into {of} of the {receiver}: {share}.",
                    rule="half-blind tails reach two thirds to four fifths into the front",
                    low=wood / 2,
                    high=wood * Fraction(17, 20),
                    mend_low="Draw the {insert} farther into the {receiver}: {low} or more.",
                    mend_high="Leave more wood before the tails: draw the {insert} no more than {high} into the {receiver}.",
                )
            )
        return tuple(found)


def tails(corner: Corner, meeting: Meeting, terms: Terms) -> tuple[Tail, ...]:
    """The tails from the low end of the corner, with a half pin at each end as strong as a whole one."""
    whole = corner.overlap.span(corner.run)
    count = terms.count or max(1, round(whole.extent.ratio(_EVERY)))
    hard = meeting.insert.stock.material.hard
    slope = terms.slope or (HARD if hard else SOFT)
    pin = min(_PIN[terms.unit], whole.extent / (3 * count))
    wide = (whole.extent - pin * (count + 1)) / count
    lean = corner.overlap.extent(corner.face.axis) * slope
    found = []
    for number in range(count):
        start = whole.low + pin * (number + 1) + wide * number
        end = start + wide
        found.append(Tail((start + lean, end - lean), (start, end)))
    return tuple(found)


def _waste(corner: Corner, meeting: Meeting, made: tuple[Tail, ...], joint: str) -> list[OutlineCut]:
    """What is sawn away between the tails of the insert, and beside the outer two."""
    whole = corner.overlap.span(corner.run)
    low = (whole.low - BEYOND, whole.low - BEYOND)
    high = (whole.high + BEYOND, whole.high + BEYOND)
    narrow = [low[0], *(end for one in made for end in one.narrow), high[0]]
    wide = [low[1], *(end for one in made for end in one.wide), high[1]]
    cuts = []
    for place in range(0, len(narrow), 2):
        cuts.append(
            _prism(
                corner,
                meeting,
                CutKind.TAIL,
                (narrow[place], narrow[place + 1]),
                (wide[place], wide[place + 1]),
                joint,
                into=corner.face,
                inner_open=False,
            )
        )
    return cuts


def _sockets(corner: Corner, meeting: Meeting, made: tuple[Tail, ...], joint: str) -> list[OutlineCut]:
    return [
        _prism(corner, meeting, CutKind.SOCKET, one.narrow, one.wide, joint, corner.receiver_end, True) for one in made
    ]


def _prism(
    corner: Corner,
    meeting: Meeting,
    kind: str,
    narrow: tuple[Length, Length],
    wide: tuple[Length, Length],
    joint: str,
    into: Face,
    inner_open: bool,
) -> OutlineCut:
    """A prism through the insert's thickness: ``narrow`` at the shoulder, ``wide`` at the end of the tails."""
    end = corner.face
    shoulder, tip = corner.overlap.face(end.opposite), corner.overlap.face(end)
    part = meeting.receiver if inner_open else meeting.insert
    points: list[tuple[Length, Length]] = []
    if inner_open:
        back = shoulder - BEYOND * end.side
        points += [(back, narrow[1]), (back, narrow[0])]
    points += [(shoulder, narrow[0])] if inner_open else [(shoulder, narrow[1]), (shoulder, narrow[0])]
    points += [(tip, wide[0])]
    if part.seen.face(end) == tip:
        beyond = tip + BEYOND * end.side
        points += [(beyond, wide[0]), (beyond, wide[1])]
    points += [(tip, wide[1])]
    if inner_open:
        points += [(shoulder, narrow[1])]
    run = meeting.insert.thickness
    return prism(meeting, part, kind, into, run, corner.overlap.span(run), points, joint)
