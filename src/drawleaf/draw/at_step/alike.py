"""Pieces that a step puts together alike: one of them shows the work on all, and larger."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.derive.assembly.groups import shape_of
from drawleaf.graphs import connected
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Scene


def one_of_alike(derived: Derived, scene: Scene) -> tuple[Scene, int]:
    """The scene with the first of the pieces that its parts come together to, and how many there are; the very same scene and 1 where they
    are not all alike, in the same numbers of the cut list, or where bought items go on."""
    shown = (*scene.standing, *scene.new)
    if scene.fittings or len(shown) < 4:
        return scene, 1
    plan, own = derived.plan, set(shown)
    links = [(j.insert, j.receiver) for j in plan.joints if j.insert in own and j.receiver in own]
    pieces = connected(shown, links)
    kinds = {
        (tuple(sorted(derived.cut_list.item_of(part).number for part in piece)), shape_of(plan, piece))
        for piece in pieces
    }
    if len(pieces) < 2 or len(kinds) > 1:
        return scene, 1
    first = set(next(piece for piece in pieces if shown[0] in piece))
    one = replace(
        scene,
        standing=tuple(part for part in scene.standing if part in first),
        new=tuple(part for part in scene.new if part in first),
        moves=tuple(move for move in scene.moves if move.part in first),
        fasteners=tuple(one for one in scene.fasteners if {one.through, one.into} <= first),
    )
    return one, len(pieces)
