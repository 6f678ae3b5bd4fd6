"""Whether the piece can fall on someone: moments about the front of its feet, with drawers open and loaded, pulled, or sat on.

The figures are those of published tests; computing them is no test, and says nothing about conformity to any standard.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, sin

from drawleaf.checks.context import WEIGHT_OF_KG, Bench, figures, mm, result, sentence, slides
from drawleaf.checks.shelf_sag import DRAWER_DENSITY
from drawleaf.model.checks import CheckResult, Figure, Quantity, Verdict
from drawleaf.model.hardware_family import Foot
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part
from drawleaf.units import ZERO, Length
from drawleaf.units.measures import FORCE, MASS, value_of

NAME = "tip-over"

# What a strap is screwed to: common practice, no source.
HOLDS_A_STRAP = Length.of_inches(1) / 2
# ASTM F2057-23 section 9.2: figures from memory, 60 lb and 8.5 lb a cubic foot also read.
PULL = value_of("10 lbf", FORCE)
PULL_HIGHEST = 1422.0
CHILD = value_of("60 lb", MASS)
CARPET = 10.9
# Sitting on the front edge: 600 N at 60 mm from it (EN 1022, from memory).
SITTING, SITTING_BACK = 600 / WEIGHT_OF_KG, 60.0
SCOPE_HEIGHT, SCOPE_MASS = 686.0, 13.6
LOW = 300.0
"""A piece lower than this hurts nobody by tipping: common practice, no source."""
MARGIN = 1.25
SOURCE = "the figures of ASTM F2057-23, 9.2 (from memory, the child of 60 lb read) and of EN 1022 for sitting (from memory), in a moment balance of our own"


@dataclass(frozen=True, slots=True)
class Weight:
    """A mass in kg at a distance behind the front of the feet (negative in front), at a height above the floor, in mm."""

    mass: float
    behind: float
    height: float


@dataclass(frozen=True, slots=True)
class Trial:
    """One way to make it fall, with how far it is from falling: holding moment over tipping moment."""

    words: str
    margin: float


def balance(weights: list[Weight], pull: float = 0.0, pull_height: float = 0.0, lean: float = 0.0) -> float:
    """Holding moment over tipping moment about the front of the feet; infinite where nothing tips. ``lean`` in radians tilts all
    forward about that line; ``pull`` in newtons acts forward at its height."""
    hold = tip = 0.0
    for weight in weights:
        arm = weight.behind * cos(lean) - weight.height * sin(lean)
        moment = weight.mass * WEIGHT_OF_KG * arm
        hold, tip = (hold + moment, tip) if moment > 0 else (hold, tip - moment)
    tip += pull * pull_height
    return hold / tip if tip > 0 else float("inf")


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for the whole piece."""
    hanging = [fitting for fitting in bench.plan.fittings if fitting.item.family.hangs]
    if hanging:
        return
    trials, _front, deep = trials_of(bench)
    if not trials:
        return
    worst = min(trials, key=lambda trial: trial.margin)
    anchored = any(fitting.item.family.wall is not None for fitting in bench.plan.fittings)
    tips = worst.margin < 1
    height, mass = bench.derived.overall[2], bench.derived.mass_kg
    harmful = height >= SCOPE_HEIGHT or (mass >= SCOPE_MASS and height > LOW)
    if anchored or not harmful or worst.margin >= MARGIN:
        verdict = Verdict.PASS
    else:
        verdict = Verdict.STOP if tips else Verdict.ADVICE
    told = worst.words
    words = "The piece weighs {mass} empty and stands on a base {deep} deep. "
    if tips:
        words += "Standing free it would tip over when {trial}"
        told = " or when ".join(trial.words for trial in trials if trial.margin < 1)
        if anchored:
            words += "; its anchor to the wall holds it, so fix that before the piece is used."
        else:
            words += "." if harmful else ", but it is too low and light to do much harm."
    else:
        words += "It comes nearest to tipping when {trial}: what holds it is then {margin} what tips it."
        words += " It is anchored to the wall all the same." if anchored else ""
    tall = height >= SCOPE_HEIGHT and mass >= SCOPE_MASS
    values = {
        "mass": Quantity(mass, "mass"),
        "deep": mm(deep),
        "trial": told,
        "margin": Quantity(min(worst.margin, 99.0), "factor"),
    }
    yield result(
        NAME,
        "Tipping over",
        verdict,
        bench.plan.parts,
        sentence(words, **values),
        what="The whole piece",
        figures=figures(
            mass=Quantity(mass, "mass"),
            height=mm(height),
            depth_of_the_base=mm(deep),
            centre_of_gravity_above_the_floor=mm(_height_of_gravity(bench)),
        )
        + tuple(Figure(f"when {trial.words}", Quantity(min(trial.margin, 99.0), "factor")) for trial in trials),
        limit=sentence(
            "what holds it at least {margin} what tips it, or an anchor to the wall",
            margin=Quantity(MARGIN, "factor"),
        ),
        source=SOURCE + (", F2057 being for pieces as high and heavy as this" if tall else ""),
        remedy=sentence(
            f"Add “{_strap(bench)}” to “hardware:”: the strap, its step and its warning follow. A deeper base or shorter drawers help as well."
        ),
        position=bench.plan.parts[0].position,
        steps=bench.steps_with((part.id for part in bench.plan.parts), ("anchor-to-wall",)),
    )


def _strap(bench: Bench) -> str:
    """The line that anchors the piece, on the highest part at its back that is stout enough, or through a thin panel at the back into the
    part that it lies on; braces doubled, as sentences want them."""
    still = [part for part in bench.plan.parts if part.id not in bench.moving]
    rear = max((part.seen.y.high for part in bench.plan.parts), default=ZERO)
    at_rear = [part for part in still if part.seen.y.high == rear]
    there = [part for part in at_rear if _stout(part)]
    if there:
        best = max(there, key=lambda part: (part.seen.z.middle, part.seen.x.extent)).id
        return _strap_line(best, best, "")
    through = [
        (panel, part)
        for panel in at_rear
        for part in still
        if _stout(part) and part.body.y.high == panel.body.y.low and _overlaps(part, panel)
    ]
    if not through:
        return "- {{item: anti-tip strap, on: ...}}"
    panel, part = max(through, key=lambda pair: (pair[1].seen.z.middle, pair[1].seen.x.extent))
    return _strap_line(panel.id, part.id, f", backing: {part.id}")


def _stout(part: Part) -> bool:
    return part.seen.y.extent >= HOLDS_A_STRAP and part.seen.x.extent >= HOLDS_A_STRAP


def _overlaps(part: Part, panel: Part) -> bool:
    return all(part.seen.span(axis).overlap(panel.seen.span(axis)) is not None for axis in (Axis.X, Axis.Z))


def _strap_line(on: str, by: str, more: str) -> str:
    place = f"at: {{{{x: ({by}.left + {by}.right) / 2, z: ({by}.bottom + {by}.top) / 2}}}}"
    return f"- {{{{item: anti-tip strap, on: {on}{more}, face: back, {place}}}}}"


def trials_of(bench: Bench) -> tuple[list[Trial], float, float]:
    """Every trial with its margin; the y of the front of the feet, and how deep the base is."""
    front, back = _feet(bench)
    floor = min(part.body.z.low.mm for part in bench.plan.parts)
    top = max(part.body.z.high.mm for part in bench.plan.parts) - floor
    still = [part for part in bench.plan.parts if part.id not in bench.moving]
    weights = [_weight(bench, part, front, floor) for part in still]
    closed = [_weight(bench, bench.parts[one], front, floor) for one in bench.moving]
    opened, loads, edges = _open_drawers(bench, front, floor)
    doors = list(_open_doors(bench, front, floor))
    pull_height = min(top, PULL_HIGHEST)
    lean = atan2(CARPET, max(back - front, 1.0))
    trials = [
        Trial(
            "someone pulls at its top edge with 10 lb (4.5 kg)",
            balance([*weights, *opened, *doors], PULL, pull_height),
        ),
    ]
    if opened:
        trials.append(Trial("all its drawers are full and open", balance([*weights, *opened, *doors, *loads])))
        far = min(edges, key=lambda edge: edge.behind)
        trials.append(
            Trial(
                "it stands on carpet and a child of 60 lb (27 kg) hangs on an open drawer",
                balance([*weights, *opened, *doors, Weight(CHILD, far.behind, far.height)], lean=lean),
            )
        )
    for load in bench.plan.checks.loads:
        if load.kind == "sitting":
            parts = [bench.parts[one] for one in load.parts if one in bench.parts]
            edge = min((part.body.y.low.mm for part in parts), default=None)
            if edge is not None:
                sitter = Weight(SITTING, edge + SITTING_BACK - front, top)
                trials.append(
                    Trial("someone sits on its very front edge", balance([*weights, *closed, sitter], 20.0, top))
                )
    return trials, front, back - front


def _feet(bench: Bench) -> tuple[float, float]:
    """Front and back of what stands on the floor: castors and levelling feet, else the machined solids."""
    feet = [end for fitting in bench.plan.fittings for end in _standing_on(fitting)]
    if feet:
        return min(feet), max(feet)
    floor = min(bench.solids.solid(part.id).bounds[0][2] for part in bench.plan.parts)
    ys: list[float] = []
    for part in bench.plan.parts:
        solid = bench.solids.solid(part.id)
        if solid.bounds[0][2] - floor < 1.0:
            vertices = solid.mesh.vertices
            ys += [float(y) for y in vertices[vertices[:, 2] - floor < 1.0][:, 1]]
    return min(ys), max(ys)


def _standing_on(fitting: Fitting) -> tuple[float, ...]:
    """Front and back of a foot. A wheel touches the floor somewhere near the middle of its plate, whichever way it has swivelled."""
    if fitting.item.family.foot is Foot.POINT:
        return (fitting.at.y.mm,)
    foot = fitting.item.measure("foot") if fitting.item.family.foot is Foot.PAD else None
    return (fitting.at.y.mm - foot.mm / 2, fitting.at.y.mm + foot.mm / 2) if foot else ()


def _weight(bench: Bench, part: Part, front: float, floor: float) -> Weight:
    _, y, z = bench.solids.solid(part.id).centroid
    return Weight(bench.mass(part), y - front, z - floor)


def _height_of_gravity(bench: Bench) -> float:
    floor = min(part.body.z.low.mm for part in bench.plan.parts)
    weights = [_weight(bench, part, 0.0, floor) for part in bench.plan.parts]
    return sum(weight.mass * weight.height for weight in weights) / sum(weight.mass for weight in weights)


def _open_doors(bench: Bench, front: float, floor: float) -> Iterator[Weight]:
    """Doors swung square out: as far in front as they reached from their hinges. Lids stay where they are."""
    for hinge in bench.leaves.values():
        parts = bench.moving_parts(hinge)
        hung = hinge.at.x.mm
        face = min((part.body.y.low.mm for part in parts if part.thickness is Axis.Y), default=None)
        for part in parts:
            closed = _weight(bench, part, front, floor)
            if face is None:
                yield closed
                continue
            reach = abs(bench.solids.solid(part.id).centroid[0] - hung)
            yield Weight(closed.mass, face - reach - front, closed.height)


def _open_drawers(bench: Bench, front: float, floor: float) -> tuple[list[Weight], list[Weight], list[Weight]]:
    """Drawer parts pulled right out, what lies in them, and their front edges."""
    parts, loads, edges = [], [], []
    for fitting in bench.plan.fittings:
        if not slides(fitting) or not fitting.count:
            continue
        drawer = bench.moving_parts(fitting)
        out = fitting.body.y.extent.mm if fitting.body is not None else 0.0
        for part in drawer:
            still = _weight(bench, part, front, floor)
            parts.append(Weight(still.mass, still.behind - out, still.height))
        box = [part for part in drawer if part.thickness is Axis.X] or list(drawer)
        low, high = min(p.body.y.low.mm for p in box), max(p.body.y.high.mm for p in box)
        left, right = min(p.body.x.low.mm for p in box), max(p.body.x.high.mm for p in box)
        bottom, top = min(p.body.z.low.mm for p in box), max(p.body.z.high.mm for p in box)
        mass = (high - low) * (right - left) * (top - bottom) / 1e9 * DRAWER_DENSITY
        loads.append(Weight(mass, (low + high) / 2 - out - front, (bottom + top) / 2 - floor))
        nearest = min(part.body.y.low.mm for part in drawer)
        edges.append(Weight(0.0, nearest - out - front, top - floor))
    return parts, loads, edges
