"""What splayed legs do to the dowels that hold them: under a person the feet push outward, and the lowest dowel of a joint is pulled."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, tan

from drawleaf.checks.context import WEIGHT_OF_KG, Bench, called, figures, judged, result, sentence
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.checks import CheckResult, Load, Quantity
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part
from drawleaf.model.steps import JOINING

PULL_MPA = 2.0
"""Glue on a dowel's side, N/mm2, in a softwood: some 6 at break (from memory of tests of dowels), a third of it allowed."""
MOST = 1.5
"""Beyond the allowed pull by so much it stops: half of what breaks."""
ON_A_LEG = 0.5
"""A person on an edge stands on two legs."""
OUTWARD = 0.5
SOURCE = "a moment balance of our own; glue on dowels in softwood, 2 N/mm² of their side: from memory of tests of dowel joints"


def splay_results(bench: Bench, load: Load, carrying: list[Joint], name: str, title: str) -> Iterator[CheckResult]:
    """The gravest pull on a dowel of a splayed leg, of all legs on the load's way to the floor."""
    pulls = [
        (pull / held, pull, held, leg, joint)
        for leg, joints in _legs(bench, carrying)
        for joint, pull, held in _pulled(bench, load, leg, joints)
    ]
    if not pulls:
        return
    share, pull, held, leg, joint = max(pulls, key=lambda one: one[0])
    other = bench.parts[joint.other(leg.id)]
    yield result(
        name,
        title,
        judged(share, 1.0, MOST),
        [leg, other],
        sentence(
            "Under a person of {most} on the edge the feet push outward, and the lowest dowel between the {other} and the {leg} is pulled with "
            "{pull}; glued, it is good for {held}.",
            most=Quantity(load.value / WEIGHT_OF_KG, "mass"),
            other=called(other),
            leg=called(leg),
            pull=Quantity(pull, "force"),
            held=Quantity(held, "force"),
        ),
        figures=figures(pull=Quantity(pull, "force"), held=Quantity(held, "force")),
        limit=sentence("no more than {held}", held=Quantity(held, "force")),
        source=SOURCE,
        remedy=sentence(
            "Make the rail deeper, its dowels longer or thicker, or tie the legs with a stretcher below it."
        ),
        position=joint.position,
        steps=bench.steps_with((other.id,), JOINING),
    )


def _legs(bench: Bench, carrying: list[Joint]) -> Iterator[tuple[Part, list[Joint]]]:
    """Parts that lean and stand on the floor, with the joints that hold them against leaning farther."""
    ids = dict.fromkeys(one for joint in carrying for one in (joint.insert, joint.receiver))
    for part in (bench.parts[one] for one in ids):
        if part.tilt is not None and part.tilt.lean and part.seen.z.low.mm - bench.floor < 1.0 and part.grain is Axis.Z:
            yield part, [one for one in bench.joints_of[part.id] if abs((one.normal or one.face.normal)[2]) < OUTWARD]


def _pulled(bench: Bench, load: Load, leg: Part, joints: list[Joint]) -> Iterator[tuple[Joint, float, float]]:
    """For each side that the leg leans to, the lowest dowel that holds it there: its pull and what it is good for, in newtons."""
    assert leg.tilt is not None
    floor = bench.solids.solid(leg.id).bounds[0][2]
    for face, degrees in leg.tilt.lean:
        along = [one for one in joints if abs((one.normal or one.face.normal)[face.axis.index]) > OUTWARD]
        pins = [(pin, joint) for joint in along for pin in joint.fasteners if pin.item.pin and pin.item.diameter]
        if not pins:
            continue
        lowest, joint = min(pins, key=lambda one: one[0].at.z.mm)
        top = max(bench.solids.solid(one.insert).bounds[1][2] for one in along)
        lever = max(top - lowest.at.z.mm, 1.0)
        yield joint, pull_on_lowest(load.value, float(degrees), top - floor, lever), good_for(lowest.item)


def pull_on_lowest(load: float, degrees: float, high: float, lever: float) -> float:
    """Newtons on the lowest dowel of a leg: ``load`` in N on two legs that splay by ``degrees``, the top of the rail ``high`` mm over the
    floor and ``lever`` mm over the dowel; the foot slides freely."""
    return load * ON_A_LEG * tan(degrees * pi / 180.0) * high / lever


def good_for(dowel: HardwareItem) -> float:
    """Newtons that the glued side of one half of a dowel is allowed; nothing of a pin that is not round."""
    if dowel.diameter is None or dowel.length is None:
        return 0.0
    return pi * dowel.diameter.mm * dowel.length.mm / 2.0 * PULL_MPA
