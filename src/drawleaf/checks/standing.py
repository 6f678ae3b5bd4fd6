"""Whether what stands in a step stands by itself: a case without its base, a tall narrow tower.

A frame no deeper than its boards is put together lying down, and its step says so. Any other group of joined parts is set on the lowest of its surfaces, as the drawing of the step shows it; its centre of gravity stands over that
base or it does not.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, degrees, radians, tan

from shapely import MultiPoint
from shapely import Point as Spot

from drawleaf.checks.context import Bench, figures, mm, names, result, sentence
from drawleaf.model.checks import CheckResult, Quantity, Sentence, Verdict
from drawleaf.model.plan import Part
from drawleaf.model.steps import JOINING, Step
from drawleaf.setting_out.lying import lies_flat

NAME = "step-steadiness"
STANDS = (
    "dry-fit",
    *JOINING,
    "fasten",
    "square",
    "fit-slides",
    "hang-drawer",
    "set-shelves",
    "set-drawer",
)
LOW = (24, 600)
"""Inches or millimetres; what is no higher, a little over the knee, is steadied with one hand: common practice, no source."""
LEAN = 10.0
"""It should stand a tilt of 10 degrees, as household appliances must (IEC 60335-1, clause 20.1, from memory)."""
UNSTEADY = "unsteady work"
ON_THE_FLOOR = 1.0
SOURCE = "a tilt of 10°: IEC 60335-1, 20.1 (for household appliances, from memory); height: common practice, no source"


@dataclass(frozen=True, slots=True)
class Stand:
    """Parts that stand joined in a step. ``lean`` is how far they may lean before they fall, in degrees, negative where they fall by
    themselves; mass in kg, lengths in mm."""

    step: Step
    parts: tuple[Part, ...]
    mass: float
    high: float
    gravity: float
    deep: float
    lean: float


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each stage at which something is unsteady, about the step where it is worst; else one for all."""
    measured = list(_stands(bench))
    shaky: dict[tuple[int, int, bool], list[Stand]] = {}
    for stand in measured:
        if stand.lean < LEAN:
            shaky.setdefault((round(stand.high), round(stand.deep), stand.lean < 0), []).append(stand)
    for stands in shaky.values():
        yield _unsteady(bench, stands)
    if not shaky:
        yield _steady(bench, measured)


def lean_of(base: list[tuple[float, float]], over: tuple[float, float], high: float) -> float:
    """How far something may lean before it falls, in degrees: ``base`` are the points that it stands on, ``over`` where its centre of
    gravity lies in plan, ``high`` how far up. Negative where the centre is not over the base."""
    hull = MultiPoint(base).convex_hull
    spot = Spot(over)
    if hull.geom_type != "Polygon":
        return -degrees(atan2(hull.distance(spot), high))
    away = hull.exterior.distance(spot)  # type: ignore[attr-defined]
    return degrees(atan2(away if hull.contains(spot) else -away, high))


def _stands(bench: Bench) -> Iterator[Stand]:
    lowest = bench.thumb(*LOW).mm
    for step in bench.derived.steps:
        if step.scene is None or not any(operation.kind in STANDS for operation in step.operations):
            continue
        present = [bench.parts[one] for one in dict.fromkeys((*step.scene.standing, *step.scene.new))]
        touched = {part for operation in step.operations for part in operation.parts}
        for group in _joined(bench, present):
            if len(group) > 1 and not lies_flat(group) and any(part.id in touched for part in group):
                low, high = min(p.body.z.low.mm for p in group), max(p.body.z.high.mm for p in group)
                if high - low > lowest:
                    yield _stand(bench, step, group)


def _joined(bench: Bench, present: list[Part]) -> Iterator[tuple[Part, ...]]:
    """The groups of parts that joints and fittings hold together."""
    ids = {part.id for part in present}
    linked: dict[str, set[str]] = {one: set() for one in ids}
    for joint in bench.plan.joints:
        if joint.insert in ids and joint.receiver in ids:
            linked[joint.insert].add(joint.receiver)
            linked[joint.receiver].add(joint.insert)
    for fitting in bench.plan.fittings:
        held = [one for one in (*fitting.parts, *(part.id for part in bench.moving_parts(fitting))) if one in ids]
        for one, other in pairwise(held):
            linked[one].add(other)
            linked[other].add(one)
    done: set[str] = set()
    for part in present:
        if part.id in done:
            continue
        group, waiting = {part.id}, [part.id]
        while waiting:
            fresh = linked[waiting.pop()] - group
            group |= fresh
            waiting += sorted(fresh)
        done |= group
        yield tuple(one for one in present if one.id in group)


def _stand(bench: Bench, step: Step, parts: tuple[Part, ...]) -> Stand:
    solids = [(bench.mass(part), bench.solids.solid(part.id)) for part in parts]
    floor = min(solid.bounds[0][2] for _, solid in solids)
    mass = sum(weight for weight, _ in solids)
    x, y, z = (sum(weight * solid.centroid[axis] for weight, solid in solids) / mass for axis in range(3))
    base: list[tuple[float, float]] = []
    for _, solid in solids:
        if solid.bounds[0][2] - floor < ON_THE_FLOOR:
            vertices = solid.mesh.vertices
            base += [(float(v[0]), float(v[1])) for v in vertices[vertices[:, 2] - floor < ON_THE_FLOOR]]
    wide, deep = (max(v[axis] for v in base) - min(v[axis] for v in base) for axis in (0, 1))
    high = max(part.body.z.high.mm for part in parts) - floor
    return Stand(step, parts, mass, high, z - floor, min(wide, deep), lean_of(base, (x, y), z - floor))


def _unsteady(bench: Bench, stands: list[Stand]) -> CheckResult:
    worst = min(stands, key=lambda stand: stand.lean)
    given = UNSTEADY in bench.plan.catalogue.cautions
    falls = "falls over by itself" if worst.lean < 0 else "falls over as soon as it leans by {lean}"
    words = f"Step {{step}}: what stands there, {{high}} high on a base {{deep}} deep, {falls}"
    words += "; the step says to hold it." if given else ", and the step does not say to hold it."
    values = {
        "step": worst.step.number,
        "high": mm(worst.high),
        "deep": mm(worst.deep),
        "lean": Quantity(abs(worst.lean), "degrees"),
    }
    return result(
        NAME,
        "Steady while you build",
        Verdict.PASS if given else Verdict.ADVICE,
        worst.parts,
        sentence(words, **values),
        what=names(worst.parts),
        figures=figures(
            step=worst.step.number,
            mass=Quantity(worst.mass, "mass"),
            height=mm(worst.high),
            depth_of_the_base=mm(worst.deep),
            centre_of_gravity_above_the_floor=mm(worst.gravity),
            leans_before_it_falls=Quantity(worst.lean, "degrees"),
        ),
        limit=_limit(bench),
        source=SOURCE,
        remedy=sentence(
            "Say in a note on “{step}” how it is held, or join the base first.",
            step=worst.step.id,
        ),
        position=worst.parts[0].position,
        steps=tuple(dict.fromkeys(stand.step.id for stand in stands)),
        caution=UNSTEADY if given else "",
        at_step=_told(stands, worst),
    )


def _told(stands: list[Stand], worst: Stand) -> Sentence:
    """For the buyer, at the first of the steps."""
    last = stands[-1].step.number
    until = "" if last == stands[0].step.number else " Until step {last} is done it stays unsteady."
    how = (
        "does not stand by itself"
        if worst.lean < 0
        else "stands, but falls over once its top is pushed {out} out of line"
    )
    return sentence(
        f"What you build here is {{high}} high and {how}: have a helper hold it, clamp a prop to it, or work on it lying down.{until}",
        high=mm(worst.high),
        out=mm(worst.high * tan(radians(abs(worst.lean)))),
        last=last,
    )


def _steady(bench: Bench, measured: list[Stand]) -> CheckResult:
    if not measured:
        return result(
            NAME,
            "Steady while you build",
            Verdict.PASS,
            bench.plan.parts,
            sentence("Nothing that stands in a step is over {low} high, so a hand steadies it.", low=bench.thumb(*LOW)),
            what="Every step",
            limit=_limit(bench),
            source=SOURCE,
        )
    worst = min(measured, key=lambda stand: stand.lean)
    return result(
        NAME,
        "Steady while you build",
        Verdict.PASS,
        worst.parts,
        sentence(
            "What stands in each step stands by itself: the least steady, in step {step}, may lean {lean} before it falls.",
            step=worst.step.number,
            lean=Quantity(worst.lean, "degrees"),
        ),
        what="Every step",
        figures=figures(step=worst.step.number, leans_before_it_falls=Quantity(worst.lean, "degrees")),
        limit=_limit(bench),
        source=SOURCE,
    )


def _limit(bench: Bench) -> Sentence:
    return sentence(
        "a lean of {lean}, for what is over {low} high", lean=Quantity(LEAN, "degrees"), low=bench.thumb(*LOW)
    )
