"""The other ways that a plan offers, each worked out like the plan itself: resolved, proven, derived, and held against the first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.derived import Derived, OtherWay
from drawleaf.model.diagnostic import Diagnostic, has_errors
from drawleaf.model.plan import Plan
from drawleaf.model.position import Position
from drawleaf.source.editions import apply_edition, with_way
from drawleaf.source.line_names import Line, all_lines, ways_of
from drawleaf.source.reader import Reading
from drawleaf.units import Units

IDLE = "idle-waiver"
"""A waiver may stand there for another way alone, and one that a way does not need serves the plan as it stands."""


@dataclass(frozen=True, slots=True)
class ResolvedWay:
    """A plan with one line done in another way. ``here`` is where the line stands in the source, ``there`` where its other way does."""

    id: str
    plan: Plan
    here: frozenset[Position]
    there: frozenset[Position]


def resolve_ways(
    reading: Reading,
    edition: str | None,
    units: Units | None,
    paper: str | None,
    kit: str | None,
    known: Iterable[Diagnostic],
) -> tuple[tuple[ResolvedWay, ...], tuple[Diagnostic, ...]]:
    """Each other way of a sound plan, in the edition that is made; and what is wrong with them that is not ``known`` of the plan itself."""
    from drawleaf.resolve.resolver import resolve

    reading = apply_edition(reading, edition)
    told = _told_already(known)
    made: list[ResolvedWay] = []
    found: list[Diagnostic] = []
    if reading.plan is None:
        return (), ()
    for line in all_lines(reading.plan):
        for way in ways_of(line):
            if way.name is None:
                continue
            plan, mistakes = resolve(with_way(reading, way.name), edition=edition, units=units, paper=paper)
            found += _told_of(way.name, mistakes, told)
            if plan is not None:
                plan = replace(plan, making=replace(plan.making, kit=kit)) if kit is not None else plan
                made.append(ResolvedWay(way.name, plan, _places(reading, line), _places(reading, way)))
    return tuple(made), tuple(found)


def work_out_ways(
    ways: Iterable[ResolvedWay], first: Derived, known: Iterable[Diagnostic]
) -> tuple[tuple[OtherWay, ...], tuple[Diagnostic, ...], frozenset[Position]]:
    """The ways as the booklet tells them, what is wrong with them that is not ``known`` of the plan itself, and the waivers that
    they use."""
    from drawleaf.checks import run_checks, with_results
    from drawleaf.derive.derive import derive
    from drawleaf.derive.other_ways import compared
    from drawleaf.resolve.names.part_titles import title
    from drawleaf.solids.build import build_solids
    from drawleaf.solids.proofs import prove

    told = _told_already(known)
    made: list[OtherWay] = []
    found: list[Diagnostic] = []
    waived: set[Position] = set()
    for way in ways:
        solids = build_solids(way.plan)
        mistakes = prove(way.plan, solids)
        if not has_errors(mistakes):
            other, mistakes = derive(way.plan, solids, tidy=False)
            if not has_errors(mistakes):
                results, judged = run_checks(other, solids)
                idle = {one.position for one in judged if one.code == IDLE}
                waived |= {one.position for one in way.plan.checks.waivers if one.position not in idle}
                mistakes = (*mistakes, *(one for one in judged if one.code != IDLE))
                compare = compared(way.id, title(way.id), first, with_results(other, results), way.here, way.there)
                made.append(replace(compare, checks=_otherwise(first.checks, results)))
        found += _told_of(way.id, mistakes, told)
    return tuple(made), tuple(found), frozenset(waived)


def _otherwise(first: Iterable[CheckResult], results: Iterable[CheckResult]) -> tuple[CheckResult, ...]:
    """What the checks found that they did not find of the plan as it stands. What passes in both is no news, whatever its figures."""
    known = {_finding(one) for one in first}
    return tuple(one for one in results if _finding(one) not in known)


def _finding(one: CheckResult) -> tuple[object, ...]:
    said = (one.check, one.what, one.verdict)
    return said if one.verdict is Verdict.PASS else (*said, one.words)


def _told_already(known: Iterable[Diagnostic]) -> frozenset[tuple[str, str]]:
    return frozenset((one.code, one.message) for one in known)


def _told_of(name: str, found: Iterable[Diagnostic], told: frozenset[tuple[str, str]]) -> Iterator[Diagnostic]:
    for one in found:
        if (one.code, one.message) not in told:
            yield replace(one, message=f"In the other way “{name}”: {one.message}")


def _places(reading: Reading, line: Line) -> frozenset[Position]:
    """Where everything that a line writes stands; its other ways left out."""
    spots = reading.positions.spots.get(line.source_file, {})
    deep = len(line.path)
    own = [
        spot
        for path, spot in spots.items()
        if path[:deep] == line.path and (len(path) == deep or path[deep] != "another_way")
    ]
    return frozenset(place for spot in own for place in (spot.key, spot.value) if place is not None)
