"""Drawers without metal slides: boxes that stand loose in an opening and run on wood, against that opening in every season."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, mm, over_all, result, sentence, shared, span_mm, worst
from drawleaf.joinery.moisture import MOVEMENT_SOURCE, coefficient, moisture_range, movement
from drawleaf.model.checks import CheckResult, Fine, Verdict
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part

BESIDE_STOP, BESIDE = 0.2, 0.5
"""Room on each side, mm: 1/64 in is a good fit, under a hair it binds. Common practice, no source."""
ABOVE = 0.8
"""Room over the sides beside what they swell, mm: 1/32 in, common practice, no source."""
LOOSE_SIDE, LOOSE_ABOVE = 3.0, 8.0
"""More than that and it rattles and cants: common practice, no source."""
MOST_WIDE = 1.5
"""Times its depth: a wider box is pulled askew by one of its knobs and jams, unless it is guided at its middle. Common practice, no source."""
OPENING = 25.0
"""What is farther away is no opening for a drawer."""
SOURCE = f"{MOVEMENT_SOURCE}; room beside and above a drawer on wood: common practice, no source"


def runner_results(bench: Bench, name: str) -> Iterator[CheckResult]:
    """For each loose box in an opening: its sides in the width, and its height in the dampest weeks."""
    for box in bench.loose_boxes.values():
        inside = {part.id for part in box}
        still = [part for part in bench.plan.parts if part.id not in inside and part.id not in bench.moving]
        gaps = _gaps(box, still)
        if gaps is not None:
            yield _fit(bench, name, box, *gaps)
            yield _guided(name, box, still)


def _gaps(box: tuple[Part, ...], still: list[Part]) -> tuple[float, float, float] | None:
    """Room at the left, at the right and above, mm; None where something is not near on all three sides, for that is no opening."""
    sides = [part for part in box if part.thickness is Axis.X]
    low, high = min(part.seen.x.low.mm for part in sides), max(part.seen.x.high.mm for part in sides)
    deep = min(part.seen.y.low.mm for part in sides), max(part.seen.y.high.mm for part in sides)
    bottom, top = min(part.seen.z.low.mm for part in sides), max(part.seen.z.high.mm for part in sides)
    found: dict[str, float] = {}
    for part in still:
        if shared(span_mm(part.seen, Axis.Y), deep) <= 0:
            continue
        near, far = span_mm(part.seen, Axis.X)
        if shared(span_mm(part.seen, Axis.Z), (bottom, top)) > 0.5 * (top - bottom):
            for key, gap in (("left", low - far), ("right", near - high)):
                if -0.5 <= gap <= OPENING:
                    found[key] = min(found.get(key, OPENING), gap)
        over = part.seen.z.low.mm - top
        if shared((near, far), (low, high)) > 0 and -0.5 <= over <= OPENING:
            found["above"] = min(found.get("above", OPENING), over)
    if set(found) != {"left", "right", "above"}:
        return None
    return found["left"], found["right"], found["above"]


def _fit(bench: Bench, name: str, box: tuple[Part, ...], left: float, right: float, above: float) -> CheckResult:
    dry, damp = moisture_range(bench.plan.checks)
    upright = [part for part in box if part.thickness is not Axis.Z]
    swells = max(
        movement(part.seen.z.extent.mm, coefficient(part.stock.material), dry, damp)
        if part.grain is not None and part.grain is not Axis.Z
        else 0.0
        for part in upright
    )
    beside = (left + right) / 2
    verdict = worst(
        (
            Verdict.STOP if beside < BESIDE_STOP or above < swells / 2 else Verdict.PASS,
            Verdict.ADVICE if beside < BESIDE or above < swells + ABOVE else Verdict.PASS,
            Verdict.ADVICE if beside > LOOSE_SIDE or above > swells + LOOSE_ABOVE else Verdict.PASS,
        )
    )
    side = next(part for part in box if part.thickness is Axis.X)
    return result(
        name,
        "Drawers on wood",
        verdict,
        upright,
        sentence(
            "The drawer with the {side} has {beside} on each side and {above} above it; in the damp weeks its height swells by {swells}.",
            side=called(side),
            beside=Fine(mm(beside)),
            above=Fine(mm(above)),
            swells=Fine(mm(swells)),
        ),
        figures=figures(room_beside=Fine(mm(beside)), room_above=Fine(mm(above)), swells=Fine(mm(swells))),
        limit=sentence(
            "{least} to {most} on each side, and {room} above it",
            least=Fine(mm(BESIDE)),
            most=Fine(mm(LOOSE_SIDE)),
            room=Fine(mm(swells + ABOVE)),
        ),
        source=SOURCE,
        remedy=sentence(
            "Make the box {beside} narrower than its opening on each side, and its sides {above} lower.",
            beside=Fine(mm(0.8)),
            above=Fine(mm(swells + 1.6)),
        ),
        position=side.position,
    )


def _guided(name: str, box: tuple[Part, ...], still: list[Part]) -> CheckResult:
    """Whether a box is no wider than its sides can guide, or has a guide below its middle."""
    wide, deep = (high - low for low, high in (_over_all(box, Axis.X), _over_all(box, Axis.Y)))
    ratio = wide / deep
    guide = any(_is_guide(part, box) for part in still)
    side = next(part for part in box if part.thickness is Axis.X)
    return result(
        name,
        "Wide drawers on wood",
        Verdict.ADVICE if ratio > MOST_WIDE and not guide else Verdict.PASS,
        [part for part in box if part.thickness is not Axis.Z],
        sentence(
            "The drawer with the {side} is {wide} wide and {deep} deep{guide}.",
            side=called(side),
            wide=mm(wide),
            deep=mm(deep),
            guide=", with a guide below its middle" if guide else "",
        ),
        figures=figures(width=mm(wide), depth=mm(deep)),
        limit=sentence("no wider than {most} without a guide at its middle", most=mm(MOST_WIDE * deep)),
        remedy=sentence(
            "Make it {least} deep or more, or two drawers of it. Or let a strip below its middle guide it, from front to back.",
            least=mm(wide / MOST_WIDE),
        ),
        position=side.position,
    )


def _over_all(box: tuple[Part, ...], axis: Axis) -> tuple[float, float]:
    """The box without its bottom, mm."""
    return over_all((part for part in box if part.thickness is not Axis.Z), axis)


def _is_guide(part: Part, box: tuple[Part, ...]) -> bool:
    """Whether a part that stands still is a narrow strip along the box, below or just within its middle."""
    low, high = _over_all(box, Axis.X)
    near, far = span_mm(part.seen, Axis.X)
    deep, bottom = _over_all(box, Axis.Y), _over_all(box, Axis.Z)[0]
    middle = abs((near + far) / 2 - (low + high) / 2) < (high - low) / 6
    along = shared(span_mm(part.seen, Axis.Y), deep) > (deep[1] - deep[0]) / 2
    return middle and along and far - near < (high - low) / 4 and abs(part.seen.z.high.mm - bottom) < OPENING
