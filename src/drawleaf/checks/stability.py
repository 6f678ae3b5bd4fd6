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
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Fitting, Part
from drawleaf.model.run import run_of
from drawleaf.setting_out.channels import bounds
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
    if bench.plan.hangs:
        return
    trials, worst, deep, across = _worst_of(bench)
    anchored = any(fitting.item.family.wall is not None for fitting in bench.plan.fittings)
    tips = worst.margin < 1
    height, mass = bench.derived.overall[2], bench.derived.mass_kg
    harmful = height >= SCOPE_HEIGHT or (mass >= SCOPE_MASS and height > LOW)
    if anchored or not harmful or worst.margin >= MARGIN:
        verdict = Verdict.PASS
    else:
        verdict = Verdict.STOP if tips else Verdict.ADVICE
    told = worst.words
    words = f"The piece weighs {{mass}} empty and stands on a base {{deep}} {across}. "
    if tips:
        words += "Standing free it would tip over when {trial}"
        told = " or when ".join(trial.words for trial in trials if trial.margin < 1)
        if anchored:
            words += "; its anchor to the wall is there for that, so fix it before the piece is used. How much the anchor bears was not reckoned."
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


def _worst_of(bench: Bench) -> tuple[list[Trial], Trial, float, str]:
    """The trials, the worst of them, how far the base reaches that way, and what that is called: towards the front, and towards each
    side that drawers come out at."""
    outs = dict.fromkeys((Face.FRONT, *(run_of(fitting).out for fitting in bench.plan.fittings if slides(fitting))))
    trials: list[Trial] = []
    worst: tuple[Trial, float, str] | None = None
    for out in outs:
        found, _edge, deep = trials_of(bench, out)
        trials += [trial for trial in found if trial not in trials]
        least = min(found, key=lambda trial: trial.margin)
        if worst is None or least.margin < worst[0].margin:
            worst = least, deep, "deep" if out.axis is Axis.Y else "wide"
    assert worst is not None  # the pull is always tried
    return trials, *worst


def trials_of(bench: Bench, out: Face = Face.FRONT) -> tuple[list[Trial], float, float]:
    """Every trial with its margin as the piece falls to a side; where its feet end on that side, and how far back they reach."""
    front, back = _feet(bench, out)
    floor = min(part.body.z.low.mm for part in bench.plan.parts)
    top = max(part.body.z.high.mm for part in bench.plan.parts) - floor
    still = [part for part in bench.plan.parts if part.id not in bench.moving]
    frame = Frame(out, front, floor)
    weights = [_weight(bench, part, frame) for part in still]
    closed = [_weight(bench, bench.parts[one], frame) for one in bench.moving]
    opened, loads, edges = _open_drawers(bench, frame)
    doors = list(_open_doors(bench, frame))
    there = {part.id for one in bench.plan.fittings if _pulled(one, out) for part in bench.moving_parts(one)}
    doors += [
        _weight(bench, bench.parts[one], frame)
        for one, fitting in bench.moving.items()
        if slides(fitting) and one not in there
    ]
    pull_height = min(top, PULL_HIGHEST)
    lean = atan2(CARPET, max(abs(back - front), 1.0))
    at_side = "" if out is Face.FRONT else f" at its {out.value}"
    trials = [
        Trial(
            f"someone pulls at its top edge{at_side} with 10 lb (4.5 kg)",
            balance([*weights, *opened, *doors], PULL, pull_height),
        ),
    ]
    if opened:
        trials.append(
            Trial(f"all its drawers{at_side} are full and open", balance([*weights, *opened, *doors, *loads]))
        )
        far = min(edges, key=lambda edge: edge.behind)
        trials.append(
            Trial(
                "it stands on carpet and a child of 60 lb (27 kg) hangs on an open drawer" + at_side,
                balance([*weights, *opened, *doors, Weight(CHILD, far.behind, far.height)], lean=lean),
            )
        )
    for load in bench.plan.checks.loads:
        if load.person and out is Face.FRONT:
            parts = [bench.parts[one] for one in load.parts if one in bench.parts]
            edge = min((part.body.y.low.mm for part in parts), default=None)
            if edge is not None:
                sitter = Weight(SITTING, edge + SITTING_BACK - front, top)
                trials.append(
                    Trial("someone sits on its very front edge", balance([*weights, *closed, sitter], 20.0, top))
                )
    return trials, front, abs(back - front)


@dataclass(frozen=True, slots=True)
class Frame:
    """The way that the piece may fall: ``out`` over the ``edge`` of its feet there, ``floor`` the height that it stands at, both in mm."""

    out: Face
    edge: float
    floor: float

    def behind(self, place: float) -> float:
        """How far a coordinate on the way out lies behind the edge of the feet, mm."""
        return (self.edge - place) * self.out.side


def _pulled(fitting: Fitting, out: Face) -> bool:
    """Whether it is a slide whose drawer comes out at that side."""
    return slides(fitting) and run_of(fitting).out is out


def _feet(bench: Bench, out: Face) -> tuple[float, float]:
    """The ends of what stands on the floor, the one at ``out`` first: castors and levelling feet, else the machined solids."""
    axis = out.axis
    feet = [end for fitting in bench.plan.fittings for end in _standing_on(fitting, axis)]
    if feet:
        return (min(feet), max(feet)) if out.side < 0 else (max(feet), min(feet))
    floor = min(bench.solids.solid(part.id).bounds[0][2] for part in bench.plan.parts)
    ends: list[float] = []
    for part in bench.plan.parts:
        solid = bench.solids.solid(part.id)
        if solid.bounds[0][2] - floor < 1.0:
            vertices = solid.mesh.vertices
            ends += [float(end) for end in vertices[vertices[:, 2] - floor < 1.0][:, axis.index]]
    return (min(ends), max(ends)) if out.side < 0 else (max(ends), min(ends))


def _standing_on(fitting: Fitting, axis: Axis) -> tuple[float, ...]:
    """Both ends of a foot along an axis. A wheel touches the floor somewhere near the middle of its plate, whichever way it has swivelled."""
    middle = fitting.at.along(axis).mm
    if fitting.item.family.foot is Foot.POINT:
        return (middle,)
    foot = fitting.item.measure("foot") if fitting.item.family.foot is Foot.PAD else None
    return (middle - foot.mm / 2, middle + foot.mm / 2) if foot else ()


def _weight(bench: Bench, part: Part, frame: Frame) -> Weight:
    middle = bench.solids.solid(part.id).centroid
    return Weight(bench.mass(part), frame.behind(middle[frame.out.axis.index]), middle[2] - frame.floor)


def _height_of_gravity(bench: Bench) -> float:
    floor = min(part.body.z.low.mm for part in bench.plan.parts)
    weights = [_weight(bench, part, Frame(Face.FRONT, 0.0, floor)) for part in bench.plan.parts]
    return sum(weight.mass * weight.height for weight in weights) / sum(weight.mass for weight in weights)


def _open_doors(bench: Bench, frame: Frame) -> Iterator[Weight]:
    """Doors swung square out: as far before the piece as they reached from their hinges. Lids, and doors on other sides, stay where they are."""
    out, across = frame.out.axis, Axis.X if frame.out.axis is Axis.Y else Axis.Y
    for hinge in bench.leaves.values():
        parts = bench.moving_parts(hinge)
        hung = hinge.at.along(across).mm
        leaves = [part.body.face(frame.out).mm * frame.out.side for part in parts if part.thickness is out]
        for part in parts:
            closed = _weight(bench, part, frame)
            if not leaves:
                yield closed
                continue
            reach = abs(bench.solids.solid(part.id).centroid[across.index] - hung)
            yield Weight(closed.mass, frame.behind(max(leaves) * frame.out.side) - reach, closed.height)


def _open_drawers(bench: Bench, frame: Frame) -> tuple[list[Weight], list[Weight], list[Weight]]:
    """Parts of the drawers of one side pulled right out, what lies in them, and their front edges."""
    parts, loads, edges = [], [], []
    for fitting in bench.plan.fittings:
        if not _pulled(fitting, frame.out) or not fitting.count:
            continue
        drawer, run = bench.moving_parts(fitting), run_of(fitting)
        out = fitting.body.extent(run.along).mm if fitting.body is not None else 0.0
        for part in drawer:
            still = _weight(bench, part, frame)
            parts.append(Weight(still.mass, still.behind - out, still.height))
        box = bounds([part for part in drawer if part.thickness is run.across] or list(drawer))
        mass = box.x.extent.mm * box.y.extent.mm * box.z.extent.mm / 1e9 * DRAWER_DENSITY
        middle = box.span(run.along).middle.mm
        loads.append(Weight(mass, frame.behind(middle) - out, box.z.middle.mm - frame.floor))
        nearest = bounds(drawer).face(run.out).mm
        edges.append(Weight(0.0, frame.behind(nearest) - out, box.z.high.mm - frame.floor))
    return parts, loads, edges
