"""Printed sizes are rounded: whether what the shop cuts by them still fits together."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import partial
from typing import Literal

from drawleaf.checks.context import Bench, called, figures, result, sentence
from drawleaf.model.checks import CheckResult, Fine, Verdict
from drawleaf.model.plan import Joint, Part
from drawleaf.units import Length, Units

NAME = "rounding"
OPEN = Length.of_mm(Fraction(8, 5))
"""A joint that is open by more than this, a good sixteenth of an inch, does not close: common practice, no source."""
SPARE = Length.of_mm(3)
"""What a part that is fitted to its opening is first cut longer by: common practice, no source."""
CUT = ("break-down", "crosscut", "cut-off", "rip")
PRINTED: dict[Units, tuple[Literal["in", "mm"], ...]] = {
    Units.INCH: ("in",),
    Units.MM: ("mm",),
    Units.BOTH: ("in", "mm"),
}


def check(bench: Bench) -> Iterator[CheckResult]:
    """Parts that fit between two others: their printed length against the printed overall, less the printed thicknesses."""
    checked, worst = 0, None
    form = bench.plan.lengths
    units = PRINTED[form.units]
    for part, ends in _between(bench):
        for unit in units:
            step = Length.of_inches(form.inch_step) if unit == "in" else Length(form.mm_step)
            off, whole = _misfit(bench, part, ends, partial(form.rounded, unit=unit))
            checked += 1
            if off > step:
                yield _result(bench, Verdict.STOP if off > OPEN else Verdict.ADVICE, part, off, step, whole)
            elif worst is None or off > worst[0]:
                worst = (off, part, step)
    if worst is not None:
        off, part, step = worst
        yield result(
            NAME,
            "Rounded sizes",
            Verdict.PASS,
            [part],
            sentence(
                "Printed sizes add up: over {count} that {fit} between two others, "
                + ("the worst is off by {off}." if off else "none is off."),
                count=f"{checked} parts" if checked > 1 else "one part",
                fit="fit" if checked > 1 else "fits",
                off=Fine(off),
            ),
            what="Printed sizes",
            figures=figures(worst=Fine(off), printed_to=Fine(step)),
            limit=sentence("one printed step, {step}", step=Fine(step)),
            source="arithmetic on the printed figures",
        )


def _between(bench: Bench) -> Iterator[tuple[Part, tuple[Joint, Joint]]]:
    """Each kind of part whose two ends meet others."""
    for part, _ in bench.kinds():
        ends = {
            joint.face: joint
            for joint in bench.joints_of[part.id]
            # An end at an angle is fitted to its place; parts that cross run to the outside, with nothing between two others.
            if joint.insert == part.id and joint.normal is None and not joint.family.crossing
        }
        for axis in (part.length_axis, part.width_axis):
            if axis.low in ends and axis.high in ends:
                yield part, (ends[axis.low], ends[axis.high])


def _misfit(bench: Bench, part: Part, ends: tuple[Joint, Joint], rounded) -> tuple[Length, Length]:
    """How far the part's printed length is from the printed room for it."""
    axis = ends[0].face.axis
    low, high = (bench.parts[joint.receiver].seen for joint in ends)
    whole = rounded(high.span(axis).high - low.span(axis).low)
    room = whole - rounded(low.extent(axis)) - rounded(high.extent(axis))
    let_in = rounded(ends[0].depth) + rounded(ends[1].depth)
    return abs(rounded(part.body.extent(axis)) - let_in - room), whole


def _result(bench: Bench, verdict: Verdict, part: Part, off: Length, step: Length, whole: Length) -> CheckResult:
    return result(
        NAME,
        "Rounded sizes",
        verdict,
        [part],
        sentence(
            "The {part} and its neighbors, cut to their printed sizes, come to {off} more or less than the printed {whole}.",
            part=called(part),
            off=Fine(off),
            whole=whole,
        ),
        figures=figures(off_by=Fine(off), printed_to=Fine(step)),
        limit=sentence("one printed step, {step}", step=Fine(step)),
        source="arithmetic on the printed figures",
        remedy=sentence(
            "The cut list and its step mark the {part} “fit to opening”. To have it cut to size, choose sizes that are whole steps, or print finer with “round_to”.",
            part=called(part),
        ),
        steps=bench.steps_with((part.id,), CUT),
        at_step=sentence(
            "Cut the {part} {spare} longer than printed, and trim it to its opening when the parts beside it stand: sizes that are rounded for print can miss by {off} here.",
            part=called(part),
            spare=SPARE,
            off=Fine(off),
        ),
        fit=tuple(one.id for one in bench.plan.parts if one.kind == part.kind),
    )
