"""Which face of a part or fitting meets which face of another, in the scene of a step."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from drawleaf.model.place import Box, Face
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.model.turnable import Meeting
from drawleaf.setting_out.hinging import carried_sides, runs_on_slides
from drawleaf.units import ZERO

SQUARE_ON = 0.8
"""A face is met where it looks against the way of the other part by at least this product of normals: a mitred end is none."""
TOUCHING = 1.0
"""Millimetres within which bought hardware lies at a face."""


def meetings(plan: Plan, shown: Collection[str], fresh: Collection[str] = ()) -> tuple[Meeting, ...]:
    """Where what is ``fresh`` meets what is ``shown``, each once; where nothing is, as when it is put together dry, all that is shown. A fitting tells
    all that it goes on: the plate of a magnet is screwed in with it, to a board that comes later."""
    seen, parts = set(shown), {part.id: part for part in plan.parts}
    here = {an_id: part for an_id, part in parts.items() if an_id in seen}
    wanted = set(fresh) & seen or seen
    return tuple(dict.fromkeys((*_joined(plan.joints, here, wanted), *_mounted(plan, parts, wanted))))


def _joined(joints: Sequence[Joint], parts: dict[str, Part], wanted: Collection[str]) -> Iterator[Meeting]:
    for joint in joints:
        if joint.insert in parts and joint.receiver in parts and not {joint.insert, joint.receiver}.isdisjoint(wanted):
            onto = _met(joint, parts[joint.receiver])
            # Parts that are cut through one another go into each other as what is let in does.
            into = joint.depth > ZERO or (joint.family.crossing and not joint.family.mitred)
            yield Meeting(joint.insert, joint.face, joint.receiver, onto, into)


def _met(joint: Joint, receiver: Part) -> Face | None:
    """The face of the receiver that looks at the insert."""
    way = joint.normal or joint.face.normal
    if receiver.tilt is not None:
        way = receiver.tilt.back_direction(way)
    facing = {face: -sum(a * b for a, b in zip(face.normal, way, strict=True)) for face in Face}
    met = max(Face, key=facing.__getitem__)
    return met if facing[met] >= SQUARE_ON else None


def _mounted(plan: Plan, parts: dict[str, Part], wanted: Collection[str]) -> Iterator[Meeting]:
    """A fitting sits at its own face of the first of its parts; at the others, and at what runs on it, where its body lies. What only its screws reach is left out."""
    for fitting in plan.fittings:
        if fitting.id not in wanted or fitting.body is None:
            continue
        for first in fitting.parts[:1]:
            yield Meeting(fitting.id, None, first, fitting.face)
        running = carried_sides(plan, fitting) if runs_on_slides(fitting) else []
        for part in (*(parts[other] for other in fitting.parts[1:]), *running):
            met = _lies_at(fitting.body, part)
            if met is not None or part.tilt is not None:
                yield Meeting(fitting.id, None, part.id, met)


def _lies_at(body: Box, part: Part) -> Face | None:
    """The face of the part that a fitting's body covers most of; None where it is clear of the part, or the part leans."""
    if part.tilt is not None:
        return None
    covered = {face: _cover(body, part.seen, face) for face in Face}
    most = max(Face, key=covered.__getitem__)
    return most if covered[most] > 0.0 else None


def _cover(body: Box, seen: Box, face: Face) -> float:
    """Square millimetres of a box's face that a body lies at; 0 where the body is clear of its plane."""
    across = body.span(face.axis)
    if not across.low.mm - TOUCHING <= seen.face(face).mm <= across.high.mm + TOUCHING:
        return 0.0
    area = 1.0
    for axis in face.axis.others():
        one, other = body.span(axis), seen.span(axis)
        area *= max(0.0, min(one.high.mm, other.high.mm) - max(one.low.mm, other.low.mm))
    return area
