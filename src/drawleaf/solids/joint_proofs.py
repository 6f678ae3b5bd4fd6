"""Joints really touch: measured on the solids, by pressing the one part a little into the other and weighing what they then share."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, pi
from typing import Any

import numpy as np

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Feature, Joint, Plan, Vector
from drawleaf.model.shapes import OutlineCut
from drawleaf.solids.build import Solids, rounded, upright_solid, without
from drawleaf.solids.cutters import block, box_of
from drawleaf.solids.memos import Memo
from drawleaf.solids.outlines import area_of
from drawleaf.solids.proof_words import box_text, length_text, part_text
from drawleaf.solids.solid import Solid

PRESS = 0.05
"""Millimetres that a part is pressed into its neighbour to feel whether they touch."""

END_SHARE = 0.5
"""The least part of a leaning end that must touch: pockets, bores and neighbouring cuts take some of it away."""

CHEEK_SHARE = 0.05
"""The least part of a cheek that must touch, which a notch at one end may shorten."""

BESIDE_CUT = 6.35
"""Millimetres of wood to leave between a joint and a cut beside it: common practice, no source."""

SIXTEENTH = 25.4 / 16

_WAYS_OF_A_MOVE = {Axis.X: ("left", "right"), Axis.Y: ("forward", "back"), Axis.Z: ("down", "up")}

_FARTHEST = 50.0
"""Millimetres beyond which no gap is measured."""


_SOUND: Memo[tuple[Any, ...], bool] = Memo(lambda key: [body for body in key[:2] if body is not None])
"""Joints that were found sound, by all that a proof looks at."""


def prove_joints(plan: Plan, solids: Solids, joints: Sequence[Joint]) -> list[Diagnostic]:
    """The faces of these joints touch. Of those that are alike one is looked at, if it is sound."""
    found: list[Diagnostic] = []
    sound = _SOUND.all(solids.memos)
    for joint in joints:
        like = _like(solids, joint)
        if like in sound:
            continue
        insert, receiver = solids.solid(joint.insert), solids.solid(joint.receiver)
        troubles = _prove(plan, joint, insert, receiver)
        if not troubles:
            sound[like] = True
        spoilt = _spoilt(plan, joint, insert, receiver) if troubles and joint.normal is None else None
        found += troubles if spoilt is None else [spoilt]
    return found


def _like(solids: Solids, joint: Joint) -> tuple[Any, ...]:
    """All that the proof of a joint follows from."""
    origin = solids.at_home(joint.insert).at
    contact = [rounded(corner.mm, origin) for corner in (joint.contact.low, joint.contact.high)]
    how = joint.family.key, joint.face, joint.depth, joint.width, joint.normal, joint.area
    return (*solids.pair(joint.insert, joint.receiver), *contact, *how)


def _spoilt(plan: Plan, joint: Joint, insert: Solid, receiver: Solid) -> Diagnostic | None:
    """Where machining took the wood away that a joint needs: told at the cut without which the joint is good."""
    taker = plan.part(joint.receiver)
    for cut in taker.features:
        if isinstance(cut, BoxCut | OutlineCut) and cut.joint is not None:
            continue
        whole = upright_solid(without(taker, cut))
        makes_room = (insert.manifold ^ whole.manifold).volume() > PRESS
        if not makes_room and not _prove(plan, joint, insert, whole):
            gone = Solid(whole.manifold - receiver.manifold).bounds
            return _cut_away(plan, joint, cut, gone)
    return None


def _cut_away(plan: Plan, joint: Joint, cut: Feature, gone: np.ndarray) -> Diagnostic:
    """``gone`` is the box of what the cut takes: its low and high corner, in mm."""
    insert, receiver = plan.part(joint.insert), plan.part(joint.receiver)
    seat, wood = box_of(joint.contact), box_of(receiver.body)
    kind = cut.kind
    ways: list[tuple[float, float, str]] = []
    for axis in joint.face.axis.others():
        i = axis.index
        back, on = _WAYS_OF_A_MOVE[axis]
        ways.append((float(seat[1, i] - gone[0, i]), float(seat[0, i] - wood[0, i]), back))
        ways.append((float(gone[1, i] - seat[0, i]), float(wood[1, i] - seat[1, i]), on))
    moves = [(_clear_of(by), way) for by, room, way in ways if _clear_of(by) < room]
    if moves:
        by, way = min(moves, key=lambda move: move[0])
        mend = (
            f"Move {insert.name} {way} by {length_text(plan, by)} or more, or make this {kind} so much smaller there."
        )
    else:  # wherever it went it would leave what holds it
        least = _clear_of(min(by for by, _, _ in ways))
        mend = f"Make this {kind} smaller there by {length_text(plan, least)} or more."
    return Diagnostic(
        "open-joint",
        f"This {kind} takes away the wood of {part_text(receiver)} that the {joint.family.title} for {insert.name} needs",
        cut.position,
        cause=f"It reaches {box_text(plan, gone[0], gone[1])}.",
        mend=mend,
        related=((joint.position, "the joint"), (insert.position, "the part let in or set on")),
    )


def _clear_of(by: float) -> float:
    """A distance with the wood that stays beside a cut, in whole sixteenths of an inch; all in mm."""
    return ceil((by + BESIDE_CUT) / SIXTEENTH - 1e-6) * SIXTEENTH


def _prove(plan: Plan, joint: Joint, insert: Solid, receiver: Solid) -> list[Diagnostic]:
    if joint.normal is not None:
        return _prove_slanting(plan, joint, insert, receiver, joint.normal)
    found: list[Diagnostic] = []
    axis = joint.face.axis
    a, b = axis.others()
    seat = box_of(joint.contact)
    size = seat[1] - seat[0]
    if not joint.family.loose_end or not joint.depth:
        expected = float(size[a.index] * size[b.index])
        share = joint.family.end_share * min(_fullness(plan, one) for one in (joint.insert, joint.receiver))
        if _touching(insert, receiver, joint.face) < share * expected:
            found.append(_gap(plan, joint, _gap_width(insert, receiver, joint.face), "does not reach the bottom of"))
    if joint.depth and not found:
        channel = min((a, b), key=lambda axis: abs(float(size[axis.index]) - joint.width.mm))
        found += _prove_cheeks(plan, joint, insert, receiver, channel, seat)
    return found


def _fullness(plan: Plan, part_id: str) -> float:
    """How much of the box around its cross section a part fills: a moulding or a round touches less than a board."""
    section = plan.part(part_id).section
    if section is None or section.round:
        return 1.0 if section is None else pi / 4.0
    u, v = section.outline.bounds
    return abs(area_of(section.outline)) / (u.extent.mm * v.extent.mm)


def _prove_slanting(plan: Plan, joint: Joint, insert: Solid, receiver: Solid, normal: Vector) -> list[Diagnostic]:
    """An end that lies against a face at an angle touches it."""
    x, y, z = (step * PRESS for step in normal)
    touching = (insert.manifold.translate((x, y, z)) ^ receiver.manifold).volume() / PRESS
    if touching >= END_SHARE * (joint.area or 0.0):
        return []
    return [_gap(plan, joint, 0.0, "does not touch")]


def _prove_cheeks(
    plan: Plan, joint: Joint, insert: Solid, receiver: Solid, across: Axis, seat: np.ndarray
) -> list[Diagnostic]:
    """What is let in touches the sides of its channel."""
    let_in = _let_in(joint, insert, seat)
    along = next(axis for axis in joint.face.axis.others() if axis is not across)
    length = float(seat[1, along.index] - seat[0, along.index])
    least = CHEEK_SHARE * length * joint.depth.mm
    gaps = [
        _gap_width(let_in, receiver, side)
        for side in (across.low, across.high)
        if _touching(let_in, receiver, side) < least
    ]
    allowed = 0 if joint.family.grips else 1
    if len(gaps) <= allowed:
        return []
    return [
        _one_sided(plan, joint) if min(gaps) >= _FARTHEST else _gap(plan, joint, min(gaps), "is loose in the sides of")
    ]


def _let_in(joint: Joint, insert: Solid, seat: np.ndarray) -> Solid:
    """The part of the insert that is inside the receiver."""
    low, high = insert.bounds.copy()
    index = joint.face.axis.index
    if joint.face.side > 0:
        low[index] = seat[0, index]
    else:
        high[index] = seat[1, index]
    return Solid(insert.manifold ^ block(low, high)) if (low < high).all() else insert


def _touching(one: Solid, other: Solid, way: Face) -> float:
    """Square millimetres in which ``one`` touches ``other`` on the side of ``way``."""
    return _pressed(one, other, way, PRESS) / PRESS


def _pressed(one: Solid, other: Solid, way: Face, by: float) -> float:
    """The volume they share when ``one`` is moved that far."""
    x, y, z = way.normal
    return (one.manifold.translate((x * by, y * by, z * by)) ^ other.manifold).volume()


def _gap_width(one: Solid, other: Solid, way: Face) -> float:
    """How far ``one`` must move until it touches, to a hundredth of a millimetre; up to 50 mm."""
    clear, touching = 0.0, _FARTHEST
    if _pressed(one, other, way, touching) <= 0.0:
        return touching
    while touching - clear > 0.01:
        middle = (clear + touching) / 2.0
        if _pressed(one, other, way, middle) > 1e-3:
            touching = middle
        else:
            clear = middle
    return clear


def _one_sided(plan: Plan, joint: Joint) -> Diagnostic:
    """A channel of which one side is missing, so that no gap can be named: it runs along an end."""
    insert, receiver = plan.part(joint.insert), plan.part(joint.receiver)
    family = joint.family.title
    return Diagnostic(
        "open-joint",
        f"The {family} for {part_text(insert)} has wood on one side only",
        joint.position,
        cause=f"It lies along an edge of {receiver.name}: nothing is left there to hold {insert.name}.",
        mend=f"Write “rabbet” in place of “{joint.family.key}”.",
        related=((insert.position, "the part let in"), (receiver.position, "the part that receives it")),
    )


def _gap(plan: Plan, joint: Joint, width: float, what: str) -> Diagnostic:
    insert, receiver = plan.part(joint.insert), plan.part(joint.receiver)
    what = what if joint.depth else "does not touch"
    apart = f"There is a gap of {length_text(plan, width)}" if width > PRESS else "They touch in too small a place"
    return Diagnostic(
        "open-joint",
        f"{part_text(insert)} {what} {part_text(receiver)}",
        joint.position,
        cause=f"{apart} at the {joint.face.value} of {insert.name}, where this {joint.family.title} should be.",
        mend="Place the part by the face that it should touch, and check the joint's depth and the cuts beside it.",
        related=((insert.position, "the part let in or set on"), (receiver.position, "the part that receives it")),
    )
