"""A piece that hangs on the wall: what pulls at its top screws, against the published holding power of screws."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import TOUCH_MM, WEIGHT_OF_KG, Bench, called, figures, mm, result, sentence
from drawleaf.checks.shear import ROOT, design_shear
from drawleaf.checks.shear import SOURCE as ACROSS_SOURCE
from drawleaf.checks.shelf_sag import ORDINARY, case_of, force_on
from drawleaf.model.checks import CheckResult, Load, Quantity, Verdict
from drawleaf.model.hardware_family import Wall
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part
from drawleaf.units import MM_PER_INCH
from drawleaf.units.measures import FORCE, convert, value_of

NAME = "wall-hanging"
STUD_GRAVITY = 0.42
"""Spruce-pine-fir, oven-dry: NDS-2018 Table 12.3.3A (read in public code)."""
PLASTERBOARD = 12.7
INCH = float(MM_PER_INCH)
HOOK_LOAD = value_of("3 kgf", FORCE)
MARGIN = 2.0
STEADY = 1.25
SOURCE = "NDS eq. 12.2-2, W = 2850 G² D lb per inch of thread (read in a reprint); stud of G 0.42: NDS-2018 Table 12.3.3A (read in public code); 3 kg a hook and the lever: common practice, no source"


def withdrawal_design(gravity: float, diameter: float, thread: float) -> float:
    """Design withdrawal of a wood screw from side grain, in newtons; diameter and thread in mm. NDS eq. 12.2-2: 2850 G^2 D lb per
    inch of thread, D in inches, G on oven-dry volume."""
    return convert(2850 * gravity**2 * (diameter / INCH) * (thread / INCH), "lbf", "N")


def withdrawal_ultimate(gravity: float, diameter: float, thread: float) -> float:
    """Load in newtons at which a screw pulls out of side grain: Wood Handbook eq. 8-10a, p = 108.25 G^2 D L, G at 12% moisture."""
    return 108.25 * gravity**2 * diameter * thread


def _load_on(bench: Bench, part: Part) -> Load | None:
    """What stands on a part: what the plan says; else an ordinary load on a board that carries between supports, or whose top is bare."""
    if part.thickness is not Axis.Z:
        return None
    case = case_of(bench, part)
    if case is not None:
        return case.load
    covered = any(
        abs(other.seen.z.low.mm - part.seen.z.high.mm) <= TOUCH_MM
        and all(other.seen.span(axis).overlap(part.seen.span(axis)) is not None for axis in (Axis.X, Axis.Y))
        for other in bench.plan.parts
        if other.id != part.id
    )
    return bench.load_on(part) or (None if covered else ORDINARY)


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for a piece that wall screws hold, or for one with hooks that nothing holds."""
    screws = [fitting for fitting in bench.plan.fittings if fitting.item.family.wall is Wall.SCREW]
    if not any(fitting.item.family.wall is not None for fitting in bench.plan.fittings):
        yield from _falls_off(bench)
    if not screws or any(fitting.item.length is None or fitting.item.diameter is None for fitting in screws):
        return
    wall = max(part.body.y.high.mm for part in bench.plan.parts)
    bottom = min(part.body.z.low.mm for part in bench.plan.parts)
    loads = [(bench.derived.mass_kg * WEIGHT_OF_KG, _middle(bench, wall))]
    for part in bench.plan.parts:
        load = _load_on(bench, part)
        if load is not None:
            length, width, _ = part.size
            loads.append((force_on(load, part, width.mm) * length.mm, wall - part.body.y.middle.mm))
    hooks = [fitting for fitting in bench.plan.fittings if fitting.item.family.hung_on]
    out = [wall - fitting.body.y.low.mm for fitting in hooks if fitting.body is not None]
    loads.append((HOOK_LOAD * len(hooks), max(out, default=0.0)))
    total = sum(force for force, _ in loads)
    lever = min(fitting.at.z.mm for fitting in screws) - bottom
    pull = sum(force * arm for force, arm in loads) / max(lever, 1.0)
    held = sum(_capacity(bench, fitting) for fitting in screws)
    margin = held / pull if pull else 99.0
    verdict = Verdict.STOP if margin < 1 else Verdict.ADVICE if margin < MARGIN else Verdict.PASS
    parts = [bench.parts[one] for fitting in screws for one in fitting.parts]
    yield result(
        NAME,
        "Hanging on the wall",
        verdict,
        dict.fromkeys(parts),
        sentence(
            "Loaded with {total}, it pulls at its wall screws with {pull}; {count} {are} good for {held}.",
            total=Quantity(total, "force"),
            pull=Quantity(pull, "force"),
            count=f"{len(screws)} screws in studs" if len(screws) > 1 else "one screw in a stud",
            are="are" if len(screws) > 1 else "is",
            held=Quantity(held, "force"),
        ),
        figures=figures(
            load=Quantity(total, "force"),
            lever=mm(lever),
            pull_at_the_screws=Quantity(pull, "force"),
            screws_hold=Quantity(held, "force"),
        ),
        limit=sentence("screws good for {margin} the pull", margin=Quantity(MARGIN, "factor")),
        source=SOURCE,
        remedy=sentence("Set the wall screws higher above the bottom edge, use longer ones, or more of them."),
        position=screws[0].position,
        steps=bench.steps_with((part.id for part in parts), ("hang-on-wall",)),
    )
    across = sum(_across(bench, fitting) for fitting in screws)
    yield result(
        NAME,
        "Weight on the wall screws",
        Verdict.STOP if total > 2 * across else Verdict.ADVICE if total > across else Verdict.PASS,
        dict.fromkeys(parts),
        sentence(
            "Loaded with {total}, it hangs on {count}, good for {held} across {their} length.",
            total=Quantity(total, "force"),
            count=f"{len(screws)} screws in studs" if len(screws) > 1 else "one screw in a stud",
            held=Quantity(across, "force"),
            their="their" if len(screws) > 1 else "its",
        ),
        figures=figures(load=Quantity(total, "force"), screws_bear=Quantity(across, "force")),
        limit=sentence("screws good for the weight"),
        source=ACROSS_SOURCE,
        remedy=sentence("Use more wall screws, or name lighter loads for its shelves under “checks: loads”."),
        position=screws[0].position,
        steps=bench.steps_with((part.id for part in parts), ("hang-on-wall",)),
    )


def _falls_off(bench: Bench) -> Iterator[CheckResult]:
    """Hooks on a piece that no screw and no hanger holds to the wall, and that what hangs on them pulls over."""
    hooks = [fitting for fitting in bench.plan.fittings if fitting.item.family.hung_on and fitting.body is not None]
    floor = min(part.body.z.low.mm for part in bench.plan.parts)
    feet = [part for part in bench.plan.parts if part.body.z.low.mm - floor < TOUCH_MM]
    for face in dict.fromkeys(hook.face for hook in hooks if hook.face.axis is not Axis.Z):
        mine = [hook for hook in hooks if hook.face is face]
        edge = max(face.side * part.body.face(face).mm for part in feet)
        arms = [face.side * hook.body.face(face).mm - edge for hook in mine if hook.body is not None]
        tips = HOOK_LOAD * sum(max(arm, 0.0) for arm in arms)
        holds = sum(
            bench.mass(part) * WEIGHT_OF_KG * (edge - face.side * bench.solids.solid(part.id).centroid[face.axis.index])
            for part in bench.plan.parts
        )
        if holds >= STEADY * tips:
            continue
        parts = list(dict.fromkeys(bench.parts[one] for hook in mine for one in hook.parts))
        yield result(
            NAME,
            "Hanging on the wall",
            Verdict.ADVICE,
            parts,
            sentence(
                "{count} on the {part}, and nothing holds it to the wall: with {load} on each it falls over.",
                count=f"There are {len(mine)} hooks" if len(mine) > 1 else "There is one hook",
                part=called(parts[0]),
                load=Quantity(HOOK_LOAD / WEIGHT_OF_KG, "mass"),
            ),
            figures=figures(load=Quantity(HOOK_LOAD * len(mine), "force")),
            limit=sentence("what holds it at least {margin} what pulls it over", margin=Quantity(STEADY, "factor")),
            source="a moment balance of our own; 3 kg a hook: common practice, no source",
            remedy=sentence("Add hardware “wall screw” clear of the hooks, or a “hanger”; or give it a wider foot."),
            position=mine[0].position,
        )


def _middle(bench: Bench, wall: float) -> float:
    """How far the piece's own weight hangs out from the wall, in mm."""
    weights = [(bench.mass(part), wall - bench.solids.solid(part.id).centroid[1]) for part in bench.plan.parts]
    return sum(mass * arm for mass, arm in weights) / sum(mass for mass, _ in weights)


def _across(bench: Bench, fitting: Fitting) -> float:
    """What one wall screw bears across its length in a stud, in newtons. The plasterboard is taken to bear as the wood does."""
    thinnest = min((bench.parts[one] for one in fitting.parts), key=lambda part: part.body.y.extent.mm, default=None)
    if thinnest is None or fitting.item.length is None or fitting.item.diameter is None:
        return 0.0
    wood = thinnest.body.y.extent.mm
    main = max(fitting.item.length.mm - wood - PLASTERBOARD, 0.0)
    gravity = thinnest.stock.material.specific_gravity
    each = design_shear(fitting.item.diameter.mm * ROOT, wood, main, gravity, STUD_GRAVITY)
    return each * max(fitting.count, 1)


def _capacity(bench: Bench, fitting) -> float:
    """What one wall screw holds in a stud behind plasterboard, in newtons."""
    wood = min((bench.parts[one].body.y.extent.mm for one in fitting.parts), default=0.0)
    length = fitting.item.length.mm
    # Two thirds of a wood screw are threaded (ASME B18.6.1, read in a reprint).
    thread = min(length - wood - PLASTERBOARD, length * 2 / 3)
    return withdrawal_design(STUD_GRAVITY, fitting.item.diameter.mm, max(thread, 0.0)) * max(fitting.count, 1)
