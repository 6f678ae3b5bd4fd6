"""Mitres in wide solid wood: when both parts swell across their grain, the mitre's angle changes and it opens at one end."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from drawleaf.checks.context import Bench, called, figures, judged, mm, result, sentence
from drawleaf.joinery.moisture import MOVEMENT_SOURCE, seasonal_change
from drawleaf.model.checks import CheckResult, Fine
from drawleaf.model.plan import Joint, Part
from drawleaf.model.steps import JOINING

NAME = "mitre-movement"
# How far a mitre may open before it is seen, or its glue lets go: common practice, no source.
OPEN_ADVICE, OPEN_STOP = 1.6, 3.2


def opening(first: float, second: float) -> float:
    """How far a square corner's mitre opens at one end, in mm, when its two parts swell by so much across their width.

    Each cut turns by half its part's strain (the tangent of 45 degrees grows by the strain); over the length of the mitre, the root of
    two times the width, both together open it by (first + second) / root 2. Own derivation from plane geometry.
    """
    return (first + second) / sqrt(2)


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each line of the source whose mitres lie flat in solid wood; the widest of them is reported."""
    lines: dict[str, list[tuple[float, Joint, Part, Part]]] = {}
    for joint in bench.plan.joints:
        first, second = bench.parts[joint.insert], bench.parts[joint.receiver]
        if not joint.family.mitred or first.thickness is not second.thickness:
            continue
        opens = opening(*(seasonal_change(part, bench.plan.checks).mm for part in (first, second)))
        if opens:
            lines.setdefault(joint.line, []).append((opens, joint, first, second))
    for found in lines.values():
        yield _finding(bench, found)


def _finding(bench: Bench, found: list[tuple[float, Joint, Part, Part]]) -> CheckResult:
    opens, joint, first, second = max(found, key=lambda one: one[0])
    parts = dict.fromkeys(part for _, _, *both in found for part in both)
    width = first.body.extent(first.width_axis)
    return result(
        NAME,
        "Miters in solid wood",
        judged(opens, OPEN_ADVICE, OPEN_STOP),
        parts,
        sentence(
            "The miter of the {first} and the {second}, {width} wide, would open by {opens} at one end between the driest and the dampest weeks, if its glue did not hold it.",
            first=called(first),
            second=called(second),
            width=width,
            opens=Fine(mm(opens)),
        ),
        figures=figures(width_across_the_grain=width, opens=Fine(mm(opens))),
        limit=sentence("an opening of {limit}", limit=Fine(mm(OPEN_ADVICE))),
        source=f"{MOVEMENT_SOURCE}; plane geometry; limit: common practice, no source",
        remedy=sentence(
            "Make the parts narrower than {most}, or join them with a half-lap or a tenon.",
            most=_widest(opens, width.mm),
        ),
        position=joint.position,
        steps=bench.steps_with((part.id for part in parts), JOINING),
    )


def _widest(opens: float, width: float):
    """The width at which a mitre of the same wood opens by no more than is advised."""
    return mm(float(int(width * OPEN_ADVICE / opens)))
