"""Drawers: the gaps round their fronts in every season, the room above the box, slides as long as the drawer is deep."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import (
    RUNNING_IN,
    Bench,
    called,
    figures,
    mm,
    result,
    sentence,
    shared,
    slides,
    span_mm,
    worst,
)
from drawleaf.checks.gaps import FAR, SOURCE, USUAL_GAP, WIDE_GAP, Gaps, limit
from drawleaf.checks.runners import runner_results
from drawleaf.english import listed
from drawleaf.joinery.moisture import coefficient, moisture_range, movement
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import Fitting, Part
from drawleaf.model.run import Run, run_of
from drawleaf.solids.travel import blockers

NAME = "drawer-fit"
# Common practice, no source: at least 6 mm of room above a drawer box.
HEADROOM_STOP, HEADROOM = 1.5, 4.0
SLIDE_SHORT = 40.0
FORWARD = Run()


def check(bench: Bench) -> Iterator[CheckResult]:
    """For each drawer: its front's gaps, its box's headroom, its slides."""
    done: set[str] = set()
    for fitting in bench.plan.fittings:
        if fitting.moving is None or not slides(fitting) or fitting.moving in done:
            continue
        done.add(fitting.moving)
        drawer = bench.moving_parts(fitting)
        still = [part for part in bench.plan.parts if part.id not in bench.moving]
        run = run_of(fitting)
        yield from _way_out(bench, fitting, drawer, still)
        front = min(drawer, key=lambda part: (_inwards(part.body, run), part.id))
        box = min((_inwards(part.seen, run) for part in drawer if part.thickness is run.across), default=float("inf"))
        if (
            front.thickness is run.along and _inwards(front.seen, run) < box - 1
        ):  # a front of its own, set before the box
            gaps = gaps_round(front, still, run)
            if gaps:
                yield _front(bench, front, gaps)
        yield from _box(bench, fitting, drawer, still, run)
    yield from runner_results(bench, NAME)


def _inwards(box: Box, run: Run) -> float:
    """How far in the outer face of a box lies along the drawer's way, mm: less for what lies further out."""
    return -box.face(run.out).mm * run.out.side


def _way_out(bench: Bench, fitting: Fitting, drawer: tuple[Part, ...], still: list[Part]) -> Iterator[CheckResult]:
    """Whether what is fastened leaves the drawer its way; what lifts off or swings aside does not count."""
    run = run_of(fitting)
    loose = {assembly.id for assembly in bench.plan.assemblies if assembly.loose}
    fixed = [part.id for part in still if part.assembly not in loose]
    barred = blockers(bench.solids, [part.id for part in drawer], fixed, run.out.normal)
    before = [part for part in still if part.id in barred and _inwards(part.seen, run) < _inwards(drawer[0].seen, run)]
    barred_by = before or [part for part in still if part.id in barred]
    if not barred_by:
        return
    yield result(
        NAME,
        "A drawer's way out",
        Verdict.STOP,
        (*drawer[:1], *barred_by),
        sentence(
            f"The drawer with the {{part}} cannot come out at the {run.out.value}: the {{barred}} is fastened in its way.",
            part=called(drawer[0]),
            barred=called(barred_by[0]),
        ),
        limit=sentence("nothing that is fastened stands in its way"),
        remedy=sentence(
            "Move it out of the way, give it an assembly of its own with “loose: yes”, or say with “opens” on which other side the drawer comes out."
        ),
        position=fitting.position,
    )


def gaps_round(front: Part, still: list[Part], run: Run = FORWARD) -> dict[str, float]:
    """Room beside an inset front to the nearest fixed part on each side, in mm; a side with nothing near is left out."""
    found: dict[str, float] = {}
    for axis in (run.across, Axis.Z):
        other = Axis.Z if axis is run.across else run.across
        low, high = span_mm(front.seen, axis)
        for part in still:
            if shared(span_mm(front.seen, run.along), span_mm(part.seen, run.along)) <= 0:
                continue
            if shared(span_mm(front.seen, other), span_mm(part.seen, other)) <= 0:
                continue
            near, far = span_mm(part.seen, axis)
            for face, gap in ((axis.low, low - far), (axis.high, near - high)):
                if -0.5 <= gap <= FAR:
                    found[face.value] = min(found.get(face.value, FAR), gap)
    return found


def _front(bench: Bench, front: Part, sides: dict[str, float]) -> CheckResult:
    dry, damp = moisture_range(bench.plan.checks)
    across = front.width_axis
    swells = movement(front.body.extent(across).mm, coefficient(front.stock.material), dry, damp)
    along = [gap for face, gap in sides.items() if face in (across.low.value, across.high.value)]
    narrowest = min(sides.values())
    gaps = Gaps(narrowest, max(sides.values()), swells, min(along, default=narrowest))
    return result(
        NAME,
        "Drawer fronts",
        gaps.verdict,
        (front,),
        gaps.words("The {front}", "swells across the grain", front=called(front)),
        figures=gaps.figures(),
        limit=limit("swells"),
        source=SOURCE,
        remedy=sentence(
            " ".join(_remedies(sides, swells, (across.low.value, across.high.value))),
            gap=mm(gaps.needed),
            wide=mm(WIDE_GAP),
        ),
        steps=bench.steps_with((front.id,), ("join-front", *RUNNING_IN)),
    )


def _remedies(gaps: dict[str, float], swells: float, across: tuple[str, str]) -> Iterator[str]:
    """What to do about sides that are too tight or too wide."""
    gaps = {face.value: gaps[face.value] for face in Face if face.value in gaps}
    tight = [face for face, gap in gaps.items() if gap < USUAL_GAP or (face in across and swells > gap)]
    wide = [face for face, gap in gaps.items() if gap > WIDE_GAP]
    if tight:
        yield f"Give it a gap of {{gap}} at its {listed(tight)}."
    if wide:
        yield f"Make it larger at its {listed(wide)}: a gap over {{wide}} looks like a mistake."


def _box(
    bench: Bench, fitting: Fitting, drawer: tuple[Part, ...], still: list[Part], run: Run
) -> Iterator[CheckResult]:
    sides = [part for part in drawer if part.thickness is run.across]
    if not sides:
        return
    top = max(part.seen.z.high.mm for part in sides)
    wide = (
        min(side.seen.span(run.across).low.mm for side in sides),
        max(side.seen.span(run.across).high.mm for side in sides),
    )
    back = max(side.seen.face(run.out.opposite).mm * run.out.opposite.side for side in sides)
    # What is over the box, and what stands over its way out.
    over = [
        part.seen.z.low.mm - top
        for part in still
        if part.seen.z.low.mm - top > -0.5
        and _inwards(part.seen, run) < back
        and shared(span_mm(part.seen, run.across), wide) > 0
    ]
    headroom = min(over, default=float("inf"))
    length = fitting.body.extent(run.along).mm if fitting.body is not None else 0.0
    deep = max(side.seen.extent(run.along).mm for side in sides)
    verdict = worst(
        (
            Verdict.STOP if headroom < HEADROOM_STOP or length > deep + 7 else Verdict.PASS,
            Verdict.ADVICE if headroom < HEADROOM or length < deep - SLIDE_SHORT else Verdict.PASS,
        )
    )
    words = "The drawer's sides are {deep} deep and its slides {length} long"
    words += "; above the box there are {headroom}." if headroom < float("inf") else "."
    if length < deep - SLIDE_SHORT:
        remedy = "Take slides of {deep} or the next size under it: short ones leave the back of the drawer in the dark."
    elif length > deep + 7:
        remedy = "Take slides no longer than {deep}."
    else:
        remedy = "Make the box lower: leave {room} above it, or the drawer cannot be lifted onto its slides."
    yield result(
        NAME,
        "Drawers on slides",
        verdict,
        sides,
        sentence(words, deep=mm(deep), length=mm(length), headroom=mm(min(headroom, 9999.0))),
        figures=figures(depth_of_the_drawer=mm(deep), length_of_the_slides=mm(length))
        + (figures(room_above=mm(headroom)) if headroom < float("inf") else ()),
        limit=sentence("slides as long as the drawer, {room} above the box", room=mm(HEADROOM)),
        remedy=sentence(remedy, deep=mm(deep), room=mm(6.35)),
        position=fitting.position,
        steps=bench.steps_with((side.id for side in sides), RUNNING_IN),
    )
