"""Workshop checks: will it hold, move, tip, and can it be made? A new check is one file here and one line in this list."""

from __future__ import annotations

from dataclasses import replace
from difflib import get_close_matches

from drawleaf.checks import (
    doors,
    drawers,
    finish_schedule,
    hinges,
    loose_fit,
    making,
    mitres,
    open_grooves,
    people,
    pin_rows,
    proportions,
    reach,
    rounding,
    screw_heads,
    screws,
    shelf_sag,
    skill,
    stability,
    standing,
    wall_hanging,
    wood_movement,
    wood_room,
)
from drawleaf.checks.context import Bench, Check
from drawleaf.checks.plain import plain
from drawleaf.english import capitalized
from drawleaf.model.catalogue import Caution
from drawleaf.model.checks import CheckResult, Verdict, Waiver
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids

FIT = "fit to opening"

CHECKS: tuple[tuple[str, Check], ...] = (
    (shelf_sag.NAME, shelf_sag.check),
    (wood_movement.NAME, wood_movement.check),
    (wood_room.NAME, wood_room.check),
    (mitres.NAME, mitres.check),
    (stability.NAME, stability.check),
    (people.NAME, people.check),
    (standing.NAME, standing.check),
    (wall_hanging.NAME, wall_hanging.check),
    (pin_rows.NAME, pin_rows.check),
    (screws.NAME, screws.check),
    (screw_heads.NAME, screw_heads.check),
    (proportions.NAME, proportions.check),
    (open_grooves.NAME, open_grooves.check),
    (drawers.NAME, drawers.check),
    (doors.NAME, doors.check),
    (hinges.NAME, hinges.check),
    (loose_fit.NAME, loose_fit.check),
    (finish_schedule.NAME, finish_schedule.check),
    (making.SMALL, making.check_small),
    (reach.REACH, reach.check_reach),
    (making.LIFT, making.check_lift),
    (making.LONG, making.check_long),
    (reach.CORNERS, reach.check_corners),
    (skill.NAME, skill.check),
    (rounding.NAME, rounding.check),
)


def run_checks(derived: Derived, solids: Solids) -> tuple[tuple[CheckResult, ...], tuple[Diagnostic, ...]]:
    """All findings in the order of the list, and a diagnostic for each that is neither a pass nor waived."""
    bench = Bench(derived, solids)
    waivers = derived.plan.checks.waivers
    used: set[Waiver] = set()
    results: list[CheckResult] = []
    for _, check in CHECKS:
        for one in check(bench):
            one = _in_the_plan(one, bench)
            waiver = next((waiver for waiver in waivers if _waives(waiver, one)), None)
            if waiver is not None:
                used.add(waiver)
                one = replace(one, waived=waiver.reason)
            results.append(one)
    told = [_diagnostic(one, derived.plan) for one in results if one.open]
    return tuple(results), (*told, *_idle_waivers(waivers, used))


def with_results(derived: Derived, results: tuple[CheckResult, ...]) -> Derived:
    """The derived plan with its findings, in its steps the cautions that they ask for, on its cut list what is fitted to its opening."""
    catalogue = derived.plan.catalogue.cautions
    wanted: dict[str, list[Caution]] = {}
    for one in results:
        if one.caution in catalogue:
            for step in one.steps:
                wanted.setdefault(step, []).append(catalogue[one.caution])
    steps = tuple(
        replace(step, cautions=tuple(dict.fromkeys((*step.cautions, *wanted.get(step.id, ())))))
        for step in derived.steps
    )
    fitted = {part for one in results for part in one.fit}
    items = tuple(
        replace(item, note=f"{item.note}; {FIT}" if item.note else capitalized(FIT))
        if fitted & {part.id for part in item.parts} and FIT not in item.note.lower()
        else item
        for item in derived.cut_list.items
    )
    cut_list = replace(derived.cut_list, items=items) if fitted else derived.cut_list
    return replace(derived, steps=steps, cut_list=cut_list, checks=results)


def _in_the_plan(one: CheckResult, bench: Bench) -> CheckResult:
    """The finding with a place in the plan's own file, where its first part comes from a component."""
    part = bench.parts.get(one.parts[0]) if one.parts else None
    if part is None or one.position != part.position:
        return one
    return replace(one, position=bench.plan.authors_line(part))


def _waives(waiver: Waiver, one: CheckResult) -> bool:
    if one.verdict is Verdict.PASS or waiver.check != one.check:
        return False
    return not waiver.parts or bool(set(waiver.parts) & set(one.parts))


def _diagnostic(one: CheckResult, plan: Plan) -> Diagnostic:
    form = plan.lengths
    limit = plain(one.limit, form)
    source, *_ = one.source.split("; ")  # the booklet gives the rest
    cause = f"Held against: {limit} ({source})." if limit else f"Source: {source}."
    severity = Severity.ERROR if one.verdict is Verdict.STOP else Severity.ADVICE
    return Diagnostic(one.check, plain(one.words, form), one.position, cause, plain(one.remedy, form), severity)


def _idle_waivers(waivers: tuple[Waiver, ...], used: set[Waiver]) -> list[Diagnostic]:
    known = [name for name, _ in CHECKS]
    found = []
    for waiver in waivers:
        if waiver.check not in known:
            near = get_close_matches(waiver.check, known, n=1)
            found.append(
                Diagnostic(
                    "unknown-check",
                    f"There is no check “{waiver.check}”",
                    waiver.position,
                    mend=f"Did you mean “{near[0]}”?" if near else f"The checks are {', '.join(known)}.",
                )
            )
        elif waiver not in used:
            found.append(
                Diagnostic(
                    "idle-waiver",
                    f"Nothing is found by “{waiver.check}” that this waiver would accept",
                    waiver.position,
                    "The design may have changed since the waiver was written.",
                    "Take it out.",
                    Severity.ADVICE,
                )
            )
    return found


__all__ = ["CHECKS", "run_checks", "with_results"]
