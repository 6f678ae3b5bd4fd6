"""All that can be turned, gathered: the whole piece, and each step with a picture."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from drawleaf.draw.turnable.apart import apart
from drawleaf.draw.turnable.bodies import NOWHERE, body_of, whole_axes
from drawleaf.draw.turnable.meetings import meetings
from drawleaf.draw.turnable.openings import openings
from drawleaf.draw.turnable.scenes import step_scene
from drawleaf.draw.turnable.shapes import Shapes
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.turnable import LaidOut, Standing, Turnable, Turning
from drawleaf.solids.build import Solids

WHOLE = "exploded-1"
"""The drawing that the whole piece, taken apart, is turned from."""


def turnable(
    derived: Derived, solids: Solids, steps: Mapping[int, Drawing], layouts: Iterable[Drawing] = ()
) -> Turnable:
    """The piece and its steps; ``steps`` are the drawings of the steps by number, from whose views they are turned, ``layouts`` those of
    sheets and boards."""
    shapes = Shapes()
    whole = _whole(solids, shapes)
    scenes = [
        scene
        for step in derived.steps
        if step.number in steps and (scene := step_scene(derived, solids, step, steps[step.number], shapes)) is not None
    ]
    at_saw = [steps[scene.step] for scene in scenes if scene.step is not None and scene.stocks]
    laid = tuple(_laid_out(drawing) for drawing in (*layouts, *at_saw))
    return Turnable(shapes.all(), whole, openings(solids, derived.steps), tuple(scenes), laid)


def _laid_out(drawing: Drawing) -> LaidOut:
    return LaidOut(drawing.id, tuple((pane.box, pane.shown[0]) for pane in drawing.panes if len(pane.shown) == 1))


def _whole(solids: Solids, shapes: Shapes) -> Turning:
    """Every body in its place, and how far it stands off when the piece is taken apart."""
    off = apart(solids)
    plan = solids.plan
    standing = [
        Standing(one.id, placed[0], placed[1], off=off.get(one.id, NOWHERE))
        for one in (*plan.parts, *plan.fittings)
        if (placed := body_of(solids, one.id, shapes)) is not None
    ]
    met = meetings(plan, [one.id for one in standing])
    return Turning(WHOLE, None, whole_axes(), (0.0, 0.0, 1.0), 0.0, (0.0, 0.0), tuple(standing), meetings=met)
