"""Hinges enough for a door: by how high and how heavy it is."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import HANGING, Bench, figures, names, result, sentence
from drawleaf.joinery.hinge_counts import usual_hinges
from drawleaf.model.checks import CheckResult, Quantity, Verdict
from drawleaf.model.plan import Fitting, Part
from drawleaf.setting_out.hinging import is_lid, pin_axis, swinging

NAME = "hinge-count"


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each door or lid that hangs on single hinges; one that holds all along needs no other."""
    for moving, hinges in swinging(bench.plan).items():
        if any(hinge.item.family.all_along for hinge in hinges):
            continue
        parts = bench.plan.parts_in(moving)
        if parts:
            yield _finding(bench, hinges, parts)


def _finding(bench: Bench, hinges: tuple[Fitting, ...], parts: tuple[Part, ...]) -> CheckResult:
    run = pin_axis(bench.plan, hinges[0])
    low = min(part.seen.span(run).low for part in parts)
    high = max(part.seen.span(run).high for part in parts)
    mass = sum(bench.mass(part) for part in parts)
    count, usual = sum(hinge.count for hinge in hinges), usual_hinges((high - low).mm, mass)
    lid = is_lid(bench.plan, hinges)
    verdict = Verdict.PASS
    if count < usual:
        verdict = Verdict.STOP if count < 2 or count < usual - 1 else Verdict.ADVICE
    what = "lid" if lid else "door"
    along = "along its hinges" if lid else "high"
    words = (
        f"The {what} is {{high}} {along} and weighs {{mass}}; it hangs on {{count}} hinges, and {{usual}} are usual."
    )
    return result(
        NAME,
        "Hinges of doors and lids",
        verdict,
        parts,
        sentence(words, high=high - low, mass=Quantity(mass, "mass"), count=count, usual=usual),
        what=names(parts),
        figures=figures(height=high - low, mass=Quantity(mass, "mass"), hinges=count, usual=usual),
        limit=sentence("two hinges up to 1 m and 7 kg, and one more for every half meter or 6 kg above"),
        remedy=sentence("Write “count: {usual}” in the line of the hinges.", usual=usual),
        position=hinges[0].position,
        steps=bench.steps_with((part.id for part in parts), HANGING),
    )
