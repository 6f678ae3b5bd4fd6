"""A picture from a plan: what is shown, from where, in what light and how fine. All but the tracing of light, which is ``mitsuba``'s."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from drawleaf.draw.at_step.so_far import solids_so_far
from drawleaf.draw.piece.cover import showing_most
from drawleaf.draw.piece.exploded import exploded_views
from drawleaf.draw.piece.explosion import explode
from drawleaf.draw.piece.shown import everything
from drawleaf.draw.sight.view import PICTORIAL, PICTORIAL_LEFT
from drawleaf.looks.atlas import MOST_TEXELS, Group, groups_of, texels
from drawleaf.looks.camera import framed
from drawleaf.looks.coats import Coats, coats_of
from drawleaf.looks.cue import cue
from drawleaf.looks.opened import opened
from drawleaf.looks.piece import bodies_of
from drawleaf.looks.rooms import FILL, best_surroundings, light_on, surroundings
from drawleaf.looks.scene import Move, Scene, corners_of, shift
from drawleaf.looks.wish import Side, Surroundings, Wish
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Step
from drawleaf.solids.build import Solids

_YAWS = {
    Side.FRONT_LEFT: -27.0,
    Side.FRONT_RIGHT: 27.0,
    Side.FRONT: 0.0,
    Side.BACK_LEFT: -153.0,
    Side.BACK_RIGHT: 153.0,
}


@dataclass(frozen=True, eq=False, slots=True)
class Setting:
    """A scene with its groups of charts, and what the program chose."""

    scene: Scene
    groups: tuple[Group, ...]
    side: Side
    where: Surroundings


@dataclass(frozen=True, eq=False, slots=True)
class Subject:
    """What a picture shows of a plan."""

    plan: Plan
    solids: Solids
    shown: tuple[str, ...]
    coats: Mapping[str, Coats]
    moves: Mapping[str, Move] = field(default_factory=dict)


def finished(plan: Plan, solids: Solids, wish: Wish) -> Subject:
    """The whole piece with all its coats; pulled apart or opened where that is asked for."""
    shown = everything(plan)
    moves: dict[str, Move] = opened(solids) if wish.open else {}
    if wish.exploded:
        explosion = explode(solids, exploded_views(plan)[0].units)
        moves = {one: shift(by) for one, by in explosion.offsets.items()}
    return Subject(plan, solids, shown, coats_of(plan), moves)


def in_the_making(derived: Derived, solids: Solids, step: Step) -> Subject:
    """What stands after a step, cut and coated as far as it is then. Just the parts of the step where nothing stands yet."""
    scene = step.scene
    shown = tuple(dict.fromkeys((*scene.standing, *scene.new, *scene.fittings))) if scene else ()
    shown = shown or step.parts
    done = [operation for one in derived.steps if one.number <= step.number for operation in one.operations]
    fitted = (fitting.id for operation in done for fitting in operation.fittings if fitting.body)
    shown = tuple(dict.fromkeys((*shown, *fitted)))
    coats = coats_of(derived.plan, {operation.coat for operation in done if operation.coat})
    return Subject(derived.plan, solids_so_far(derived, solids, step, shown), shown, coats)


def set_up(subject: Subject, wish: Wish) -> Setting:
    """The scene of a picture. Its texels are as small as the picture can show, and larger where there would be too many."""
    plan = subject.plan
    hangs = plan.hangs and not wish.exploded
    bodies = bodies_of(plan, subject.solids, subject.shown, subject.coats, subject.moves)
    points = corners_of(bodies)
    side = wish.side or _best_side(subject)
    where = wish.where or (Surroundings.SWEEP if wish.exploded else best_surroundings(points, hangs=hangs))
    beside = cue(bodies, hangs=hangs) if wish.cue else ()
    camera = framed(corners_of((*bodies, *beside)), _YAWS[side], wish.size, hangs=hangs)
    texel = float(np.clip(0.8 / camera.finest(points), 0.4, 6.0))
    groups = groups_of(bodies, texel)
    # About half of all faces is seen at most.
    every = sum(texels(group, np.arange(len(group.charts))) for group in groups) / 2.0
    if every > MOST_TEXELS:
        groups = groups_of(bodies, texel * float((every / MOST_TEXELS) ** 0.5))
    round_it = surroundings(where, points, hangs=hangs, behind=abs(_YAWS[side]) > 90.0)
    return Setting(Scene(bodies, (*round_it, *beside), light_on(points, camera), FILL, camera), groups, side, where)


def _best_side(subject: Subject) -> Side:
    """From where most parts show well: as the cover's drawing has it."""
    view = showing_most(subject.solids, subject.shown, (PICTORIAL_LEFT, PICTORIAL))
    return Side.FRONT_LEFT if view is PICTORIAL_LEFT else Side.FRONT_RIGHT
