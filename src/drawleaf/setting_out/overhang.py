"""How far a part that lies on others stands over them, each side told from the part that one can lay a rule against there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Overhang:
    """``room`` is how far the part's ``face`` stands over those of ``past``, which are level there; below zero where it stays back."""

    face: Face
    room: Length
    past: tuple[Part, ...]


def overhangs_of(part: Part, standing: Sequence[Part], axis: Axis) -> tuple[Overhang, ...]:
    """For each side across ``axis``, along which the part comes down on what stands. Where it stays back, only the nearer side places it.

    Told are only parts that it can lie on: what stands out farther down or up is out of a rule's reach.
    """
    near = [other for other in standing if _meets(part, other, axis)] or list(standing)
    found: list[Overhang] = []
    for side in axis.others():
        both = [_overhang(part, near, face) for face in (side.low, side.high)]
        for one, other in (both, both[::-1]):
            if one.room.exact_mm >= 0 or abs(one.room) <= abs(other.room):
                found.append(one)
    return tuple(sorted(found, key=lambda one: list(Face).index(one.face)))


def _meets(part: Part, other: Part, axis: Axis) -> bool:
    """Whether the other part reaches to the part along the axis, as its support or beside it."""
    own, theirs = part.body.span(axis), other.body.span(axis)
    return own.low <= theirs.high and theirs.low <= own.high


def _overhang(part: Part, standing: Sequence[Part], face: Face) -> Overhang:
    farthest = max(standing, key=lambda other: other.body.face(face).exact_mm * face.side).body.face(face)
    past = tuple(other for other in standing if other.body.face(face) == farthest)
    return Overhang(face, (part.body.face(face) - farthest) * face.side, past)
