"""Legs that nothing ties: no rail, no stretcher, only the joint at their top keeps them from folding under a person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import radians, tan

from drawleaf.checks.context import Bench, called, figures, judged, result, sentence
from drawleaf.checks.load_path import LoadPath, level
from drawleaf.checks.splay import MOST, ON_A_LEG, good_for
from drawleaf.model.checks import CheckResult, Load, Quantity, Verdict
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part
from drawleaf.model.steps import JOINING

REMEDY = sentence("Tie the legs with rails or stretchers, or let each in with “mortise_and_tenon”.")
SLENDER = 3.0
"""Higher than so many times its width, a part is a leg and no block."""
SIDEWAYS = 400.0
"""Newtons that push a seat sideways as one sits down and gets up, shared by two legs: the side load on chair legs of EN 1728, from memory."""
FEW = 3
"""On three legs one stands over a single one."""
SOURCE = "a moment balance of our own; 400 N from the side: EN 1728 (from memory); glue on dowels in softwood, 2 N/mm² of their side: from memory of tests of dowel joints; screws in end grain count for nothing: NDS-2018 12.2.2 (from memory)"


def folding_results(bench: Bench, load: Load, path: LoadPath, name: str, title: str) -> Iterator[CheckResult]:
    """The leg that folds most easily of those that are only set against what they carry."""
    ids = dict.fromkeys(one for joint in path.joints for one in (joint.insert, joint.receiver))
    legs = [part for part in (bench.parts[one] for one in ids) if _is_leg(bench, part)]
    feet = [part for part in bench.plan.parts if part.seen.z.low.mm - bench.floor < 1.0]
    found = []
    for leg in legs:
        joints = bench.joints_of[leg.id]
        if not _only_set_against(joints):
            continue
        bent = _moment(load, leg, few=len(feet) <= FEW)
        held = sum(_held(leg, joint) for joint in joints)
        found.append((bent / held if held else float("inf"), bent, held, leg, joints[0]))
    if not found:
        return
    share, bent, held, leg, joint = max(found, key=lambda one: one[0])
    top = bench.parts[joint.other(leg.id)]
    pull, good = bent / _lever(leg), held / _lever(leg)
    words = "Nothing ties the {leg} below the {top}, and someone who sits down pushes it sideways: "
    words += (
        "its dowels are pulled with {pull}; glued, they are good for {held}."
        if held
        else "it is only set against it, and glue and screws in its end hold nothing."
    )
    yield result(
        name,
        title,
        judged(share, 1.0, MOST) if held else Verdict.STOP,
        [leg, top],
        sentence(
            words,
            leg=called(leg),
            top=called(top),
            pull=Quantity(pull, "force"),
            held=Quantity(good, "force"),
        ),
        figures=figures(pull=Quantity(pull, "force"), held=Quantity(good, "force")),
        limit=sentence("no more than {held}", held=Quantity(good, "force")),
        source=SOURCE,
        remedy=REMEDY,
        position=joint.position,
        steps=bench.steps_with((leg.id,), JOINING),
    )


def untied_results(bench: Bench, name: str, title: str) -> Iterator[CheckResult]:
    """Where no person is said to be carried: the first of the legs that glue and screws in their ends alone keep from folding."""
    if bench.plan.hangs:
        return
    legs = [
        part
        for part in bench.plan.parts
        if _is_leg(bench, part) and part.stock.material.solid and _only_set_against(bench.joints_of[part.id])
    ]
    legs = [leg for leg in legs if not sum(_held(leg, one) for one in bench.joints_of[leg.id])]
    if not legs:
        return
    leg = legs[0]
    joint = bench.joints_of[leg.id][0]
    top = bench.parts[joint.other(leg.id)]
    yield result(
        name,
        title,
        Verdict.ADVICE,
        [*legs, top],
        sentence(
            "Nothing ties the {leg} below the {top}: it is only set against it, and folds when the piece is pushed.",
            leg=called(leg),
            top=called(top),
        ),
        limit=sentence("no leg held by glue and screws in its end alone"),
        source=SOURCE,
        remedy=REMEDY,
        position=joint.position,
        steps=bench.steps_with((leg.id,), JOINING),
    )


def _only_set_against(joints: Sequence[Joint]) -> bool:
    """Whether it stands under something that it is set against, with no rail and nothing let in."""
    return bool(joints) and not any(level(one) or not one.family.set_on or one.depth for one in joints)


def _is_leg(bench: Bench, part: Part) -> bool:
    tall = part.seen.z.extent.mm
    slender = tall > SLENDER * max(part.size[1].mm, part.size[2].mm)
    return part.seen.z.low.mm - bench.floor < 1.0 and part.grain is Axis.Z and slender


def _moment(load: Load, leg: Part, *, few: bool) -> float:
    """N mm at the top of a leg, its foot free to slide: half a person, or a whole one on three legs, and how far it leans; or the push from
    the side, whichever is more."""
    lean = max((float(degrees) for _, degrees in leg.tilt.lean), default=0.0) if leg.tilt is not None else 0.0
    share = 1.0 if few else ON_A_LEG
    out = load.value * share * tan(radians(lean))
    return max(out, SIDEWAYS / 2) * leg.seen.z.extent.mm


def _held(leg: Part, joint: Joint) -> float:
    """N mm that its dowels hold, pulled about the far edge of its top."""
    return sum(good_for(pin.item) for pin in joint.fasteners if pin.item.pin) * _lever(leg)


def _lever(leg: Part) -> float:
    return leg.size[2].mm / 2
