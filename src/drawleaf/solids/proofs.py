"""Proofs on the solids themselves: no two parts share wood, each part is one piece, joints touch, fasteners hold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import BoxCut, Feature, Part, Plan
from drawleaf.model.shapes import OutlineCut
from drawleaf.solids.build import Solids, upright_solid, without
from drawleaf.solids.cutters import box_of
from drawleaf.solids.fastener_proofs import prove_fasteners
from drawleaf.solids.joint_proofs import prove_joints
from drawleaf.solids.proof_words import box_text, length_text, part_text, size_text
from drawleaf.solids.solid import Solid

SHARED = 0.01
"""Cubic millimetres that two parts may seem to share: rounding, nothing a shop could see."""

OUTSIDE = 1e-6
"""Millimetres that a part may seem to stand out of its blank."""

_HAIR = 0.01
"""Millimetres within which two measured lengths are the same."""

ROUND = 0.5
"""The same for a round, whose facets have its true area and so stand out at their corners."""


def prove(plan: Plan, solids: Solids) -> tuple[Diagnostic, ...]:
    """Everything that is wrong with the plan as a thing of wood. Empty when it fits together.

    Bought items are not proved: their shapes are for drawings.
    """
    found, unsound = prove_wholeness(plan, solids)
    shared, misplaced = prove_no_shared_wood(plan, solids)
    # A part in the wrong place makes every joint and screw near it wrong as well: one mistake, one message.
    sound = [joint for joint in plan.joints if not {joint.insert, joint.receiver} & (unsound | misplaced)]
    return (*found, *shared, *prove_joints(plan, solids, sound), *prove_fasteners(plan, solids, sound))


def prove_wholeness(plan: Plan, solids: Solids) -> tuple[list[Diagnostic], set[str]]:
    """Each part has wood left, in one piece, inside the blank it is cut from. Also the ids of parts that have none left."""
    found: list[Diagnostic] = []
    gone: set[str] = set()
    for part in plan.parts:
        shape = solids.at_home(part.id).solid
        if shape is None or shape.manifold.is_empty():
            found.append(_cut_away(part))
            gone.add(part.id)
            continue
        if shape.pieces > 1 and not _held_in_pieces(plan, part, solids.solid(part.id)):
            found.append(_in_pieces(part, shape.pieces))
        blank = box_of(part.body)
        upright = solids.upright(part.id)
        slack = ROUND if part.section is not None and part.section.round else OUTSIDE
        if (upright.bounds[0] < blank[0] - slack).any() or (upright.bounds[1] > blank[1] + slack).any():
            found.append(
                Diagnostic("outside-blank", f"{part_text(part)} stands out of the blank it is cut from", part.position)
            )
    return found, gone


def _cut_away(part: Part) -> Diagnostic:
    return Diagnostic(
        "nothing-left",
        f"nothing is left of {part_text(part)}",
        part.position,
        cause="Its joints and machining take all of its wood away.",
        mend="Make the part larger, or the cuts in it smaller.",
    )


def _in_pieces(part: Part, count: int) -> Diagnostic:
    """Told at the cut that parts the wood, where one alone does."""
    guilty = [feature for feature in part.features if upright_solid(without(part, feature)).pieces < count]
    if len(guilty) != 1:
        return Diagnostic(
            "falls-apart",
            f"{part_text(part)} falls into {count} pieces",
            part.position,
            cause="Cuts that meet run right through it, from one side to the other.",
            mend="Make one of them smaller, or move it so that wood stays between them.",
            related=tuple(
                dict.fromkeys((feature.position, "one of them is this") for feature in guilty or part.features)
            ),
        )
    cut = guilty[0]
    return Diagnostic(
        "falls-apart",
        f"{part_text(part)} falls into {count} pieces",
        cut.position,
        cause=f"This {cut.kind} runs right through it, from one side to the other.",
        mend=_kept_whole(part, cut),
        related=((part.position, "the part is this"),),
    )


def _held_in_pieces(plan: Plan, part: Part, solid: Solid) -> bool:
    """Whether only cuts in the standing piece part the wood, and glue holds every piece of it by then."""
    early = tuple(cut for cut in part.features if not (isinstance(cut, OutlineCut) and cut.after_assembly))
    if len(early) == len(part.features) or upright_solid(replace(part, features=early)).pieces > 1 or part.tilt:
        return False
    glued = [joint.contact for joint in plan.joints if joint.glued and part.id in (joint.insert, joint.receiver)]
    return all(
        any(_reaches(piece.bounding_box(), contact) for contact in glued) for piece in solid.manifold.decompose()
    )


def _reaches(bounds: tuple[float, ...], contact: Box) -> bool:
    """Whether a piece lies along a glued face by more than a hair in two directions."""
    low, high = box_of(contact)
    shared = [min(bounds[i + 3], high[i]) - max(bounds[i], low[i]) for i in range(3)]
    return min(shared) >= -_HAIR and sum(length > 1.0 for length in shared) >= 2


def _kept_whole(part: Part, cut: Feature) -> str:
    """What keeps a part in one piece beside a cut that goes across it."""
    if isinstance(cut, BoxCut) and cut.joint is not None:
        return "Give the joint less “depth”, or “stopped”, so that wood stays past the end of the cut."
    if isinstance(cut, BoxCut):
        across = next((a for a in Axis if {a.low, a.high} <= set(cut.open) and a is not part.thickness), None)
        if across is not None:
            key = {Axis.X: "wide", Axis.Y: "deep", Axis.Z: "high"}[across]
            return f"It is as large as the part there: make its “{key}” smaller, or write the two pieces as two parts."
    return "Make it smaller, so that wood stays beside it, or write the two pieces as two parts."


def prove_no_shared_wood(plan: Plan, solids: Solids) -> tuple[list[Diagnostic], set[str]]:
    """No two parts in the same place. Also the ids of those that are."""
    whole = [part for part in plan.parts if not solids.solid(part.id).manifold.is_empty()]
    found: list[Diagnostic] = []
    misplaced: set[str] = set()
    told: set[tuple[str, str]] = set()
    for one, other in _overlapping(whole, solids):
        common = solids.solid(one.id).manifold ^ solids.solid(other.id).manifold
        volume = common.volume()
        if volume > SHARED:
            box = common.bounding_box()
            # All that a component brings is in the way of a part for one reason: one message for all of it.
            pair = _written(plan, one), _written(plan, other)
            if pair not in told:
                found.append(_shared(plan, one, other, box[:3], box[3:]))
            told.add(pair)
            misplaced |= {one.id, other.id}
    return found, misplaced


def _overlapping(parts: Sequence[Part], solids: Solids) -> Iterator[tuple[Part, Part]]:
    """The pairs of parts, in their order, whose boxes share room."""
    bounds = np.array([solids.solid(part.id).bounds for part in parts]).reshape(-1, 2, 3)
    for place, one in enumerate(parts):
        others = bounds[place + 1 :]
        room = np.minimum(bounds[place, 1], others[:, 1]) - np.maximum(bounds[place, 0], others[:, 0])
        meets = (room > 0.0).all(axis=1) & (room.prod(axis=1) >= SHARED)
        yield from ((one, parts[place + 1 + other]) for other in np.flatnonzero(meets).tolist())


def _tenons_meet(plan: Plan, one: Part, other: Part, low: tuple[float, ...], high: tuple[float, ...]) -> str:
    """What to do where two tenons run into each other inside the leg that takes them both; empty where it is something else."""
    into = {
        joint.receiver: joint
        for joint in plan.joints
        if joint.insert == one.id and joint.depth and joint.face.axis is not one.thickness
    }
    for joint in plan.joints:
        mine = into.get(joint.receiver)
        if mine is None or joint.insert != other.id or not joint.depth or joint.face.axis is mine.face.axis:
            continue
        axis = joint.face.axis.index
        shoulder = joint.contact.span(joint.face.axis).low.mm
        room = min(abs(shoulder - low[axis]), abs(shoulder - high[axis]))
        if room <= 0.0:
            continue
        return (
            f"Their tenons meet inside “{joint.receiver}”. Write “depth: {length_text(plan, room)}” or a little less on their joints, "
            "or place both parts nearer to its outside."
        )
    return ""


def _written(plan: Plan, part: Part) -> str:
    """What the author wrote to have the part there: the part itself, or the assembly that takes it from a component."""
    return part.id if plan.authors_line(part) == part.position else part.assembly


def _taken_along(plan: Plan, one: Part, other: Part) -> str:
    """What to do where one of them comes with a component: its sizes and its place are given at the assembly; empty where neither does."""
    for part in (other, one):
        if plan.authors_line(part) != part.position:
            return f"“{part.id}” comes with the component of “{part.assembly}”: change its sizes in “with”, or where it stands in “at”."
    return ""


def _clear_of(plan: Plan, one: Part, other: Part, low: tuple[float, ...], high: tuple[float, ...]) -> str:
    """The face that would have to be moved least for the two to clear each other, and where to; empty where no face alone does it."""
    if one.tilt or other.tilt:
        return ""
    past = [(face.side * (other.seen.face(face).mm - one.seen.face(face.opposite).mm), face) for face in Face]
    by, face = min(past, key=lambda found: found[0])
    axis = face.axis.index
    if abs(by - (high[axis] - low[axis])) > _HAIR:
        return ""
    return (
        f"The {face.value} of “{other.id}” stands {length_text(plan, by)} past the {face.opposite.value} of “{one.id}”: "
        f"move it to “{one.id}.{face.opposite.value}”, or join the two so that one is let into the other."
    )


def _shared(plan: Plan, one: Part, other: Part, low: tuple[float, ...], high: tuple[float, ...]) -> Diagnostic:
    joint = next((joint for joint in plan.joints if {joint.insert, joint.receiver} == {one.id, other.id}), None)
    mend = (
        "Check the joint's depth against the thickness of the wood, and the faces that the parts are placed by."
        if joint
        else _tenons_meet(plan, one, other, low, high)
        or _taken_along(plan, one, other)
        or _clear_of(plan, one, other, low, high)
        or "Move one of them by its faces, or join them so that one is let into the other."
    )
    here, there = plan.authors_line(one), plan.authors_line(other)
    at = joint.position if joint else there
    places = ((here, "one is placed here"), (there, "the other is placed here"))
    return Diagnostic(
        "shared-wood",
        f"{part_text(one)} and {part_text(other)} are in the same place",
        at,
        cause=(f"What they share measures {size_text(plan, low, high)}: {box_text(plan, low, high)}."),
        mend=mend,
        related=tuple(place for place in places if place[0] != at),
    )
