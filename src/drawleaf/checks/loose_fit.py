"""What stands loose between two others, a shelf or a panel that lifts out: whether it has room there once it is coated, in every season."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, mm, over_all, result, sentence, shared, span_mm
from drawleaf.checks.doors import swelling
from drawleaf.graphs import connected
from drawleaf.joinery.moisture import MOVEMENT_SOURCE
from drawleaf.model.checks import CheckResult, Fine, Sentence, Verdict
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.units import Length

NAME = "loose-fit"
TITLE = "What lifts out"
PLAY = 0.8
"""Room in all, mm: 1/64 in at each end lets it in by hand, coats of finish on both. Common practice, no source."""
NEAR = 6.0
"""With more room than this it does not fit between the two, and is not asked."""
SOURCE = f"{MOVEMENT_SOURCE}; room for what lifts out: common practice, no source"
WAYS = {Axis.X: "from side to side", Axis.Y: "from front to back"}


def check(bench: Bench) -> Iterator[CheckResult]:
    """One result for each loose body and each way in which it stands between two others. Drawers, doors and what joints hold are asked
    elsewhere; what is bolted on stands tight."""
    bolted = {part for fitting in bench.plan.fittings if fitting.item.family.bolts_on for part in fitting.parts}
    for assembly in bench.plan.assemblies:
        if not assembly.loose or assembly.id in bench.loose_boxes:
            continue
        own = [part for part in bench.plan.parts_in(assembly.id) if part.id not in bench.moving]
        links = [(joint.insert, joint.receiver) for joint in bench.plan.joints]
        told: set[tuple[str, ...]] = set()
        for ids in connected([part.id for part in own], links):
            body = [bench.parts[one] for one in ids]
            kinds = tuple(part.kind for part in body)
            if kinds not in told and not bolted & set(ids):
                told.add(kinds)
                yield from _fits(bench, body)


def _fits(bench: Bench, body: list[Part]) -> Iterator[CheckResult]:
    ids = {part.id for part in body}
    tied = {end for part in body for joint in bench.joints_of[part.id] for end in (joint.insert, joint.receiver)}
    for axis in (Axis.X, Axis.Y):
        outer = {one: over_all(body, one) for one in Axis}
        low, high = outer[axis]
        beside = bench.near.within({**outer, axis: (low - NEAR, high + NEAR)})
        others = [part for part in beside if part.id not in ids | tied and part.id not in bench.moving]
        low, high = _nearest(outer, others, axis, -1), _nearest(outer, others, axis, 1)
        if low is not None and high is not None:
            yield _fit(bench, body, axis, low, high)


def _nearest(
    outer: dict[Axis, tuple[float, float]], others: list[Part], axis: Axis, side: int
) -> tuple[float, Part] | None:
    """The room to what stands nearest on one side, mm; None where nothing is near."""
    found: list[tuple[float, Part]] = []
    for part in others:
        if all(shared(outer[one], span_mm(part.seen, one)) > 0 for one in axis.others()):
            near, far = span_mm(part.seen, axis)
            gap = outer[axis][0] - far if side < 0 else near - outer[axis][1]
            if -0.01 <= gap <= NEAR:
                found.append((max(gap, 0.0), part))
    return min(found, key=lambda one: one[0], default=None)


def _fit(bench: Bench, body: list[Part], axis: Axis, low: tuple[float, Part], high: tuple[float, Part]) -> CheckResult:
    room, swells = low[0] + high[0], swelling(bench, body, axis)
    wanted = max(PLAY, swells)
    tight = room < wanted - 1e-6
    words = "The {part} lifts out. It has {room} " + WAYS[axis] + " between the {low} and the {high}"
    words += "; in the damp weeks it swells by {swells}." if swells else "."
    first = body[0]
    return result(
        NAME,
        TITLE,
        Verdict.ADVICE if tight else Verdict.PASS,
        body,
        sentence(
            words,
            part=called(first),
            room=Fine(mm(room)),
            low=called(low[1]),
            high=called(high[1]),
            swells=Fine(mm(swells)),
        ),
        figures=figures(room=Fine(mm(room)), swells=Fine(mm(swells))),
        limit=sentence("{play} in all, and more than it swells", play=Fine(mm(PLAY))),
        source=SOURCE,
        remedy=_remedy(body, axis, low[1], high[1], mm(max(1.0, wanted / 2))),
    )


def _remedy(body: list[Part], axis: Axis, low: Part, high: Part, gap: Length) -> Sentence:
    """What to write: at both ends of the one part that reaches from end to end, or at the outer part of each end; a mirrored twin follows."""
    ends = [
        min(body, key=lambda part: span_mm(part.seen, axis)[0]),
        max(body, key=lambda part: span_mm(part.seen, axis)[1]),
    ]
    near, far = axis.low.value, axis.high.value
    told: dict[str, str] = {}
    for part, line in zip(
        ends, (f"“{near}: {low.id}.{far} + {{gap}}”", f"“{far}: {high.id}.{near} - {{gap}}”"), strict=True
    ):
        if part.mirrored and any(other.kind == part.kind and not other.mirrored for other in ends):
            continue
        told[part.id] = f"{told[part.id]} and {line}" if part.id in told else line
    lines = ", and ".join(f"{line} in {part}" for part, line in told.items())
    return sentence(f"Leave {{gap}} at each end: {lines}.", gap=gap)
