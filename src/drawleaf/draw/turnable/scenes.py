"""The scene of each step's drawing, to be turned: the same bodies in the same state, from the same view, moved as its arrows show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from drawleaf.draw.at_step.alike import one_of_alike
from drawleaf.draw.at_step.later_cuts import solids_at
from drawleaf.draw.at_step.so_far import part_so_far, solids_so_far
from drawleaf.draw.sight.view import PLAN, posed
from drawleaf.draw.step.bench_drawing import lying_at_bench
from drawleaf.draw.step.clamps import presses
from drawleaf.draw.step.glue_up_drawing import is_glue_up
from drawleaf.draw.step.moves import one_by_one
from drawleaf.draw.turnable.bodies import NOWHERE, body_of
from drawleaf.draw.turnable.laid_out import laid_scene
from drawleaf.draw.turnable.meetings import meetings
from drawleaf.draw.turnable.shapes import Shapes, rounded
from drawleaf.draw.turnable.strips import strips_scene
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing, Pane, Sight
from drawleaf.model.plan import Fastener
from drawleaf.model.pose import Pose
from drawleaf.model.steps import Scene, Step
from drawleaf.model.turnable import Axes, Driven, Pressing, Standing, Turning, Vector
from drawleaf.solids.bodies import shank_of
from drawleaf.solids.build import Solids


def step_scene(derived: Derived, solids: Solids, step: Step, drawing: Drawing, shapes: Shapes) -> Turning | None:
    """The scene of a step; None for a drawing that shows no body."""
    step = step.once
    scene = step.scene
    if scene is None or not drawing.panes:
        return None
    if scene.layout is not None:
        return laid_scene(derived, solids, step, drawing, shapes)
    solids = solids_at(derived, solids, step)
    first = drawing.panes[0]
    if first.sight is None:
        return _at_bench(derived, solids, step, drawing, shapes)
    one, _ = one_of_alike(derived, scene)
    if {*one.standing, *one.new} == set(first.shown):
        scene = one
    return _in_place(derived, solids, step, scene, drawing, first.shown, first.sight, shapes)


def _in_place(
    derived: Derived,
    solids: Solids,
    step: Step,
    scene: Scene,
    drawing: Drawing,
    shown: Sequence[str],
    sight: Sight,
    shapes: Shapes,
) -> Turning:
    now = solids_so_far(derived, solids, step, shown)
    offsets = dict(sight.offsets)
    turns = _turns(step, scene) if scene.pose is Pose.UPRIGHT else {}
    new = {*scene.new, *scene.fittings}
    standing = tuple(
        Standing(an_id, placed[0], placed[1], an_id in new, offsets.get(an_id, NOWHERE), turns.get(an_id))
        for an_id in shown
        if (placed := body_of(now, an_id, shapes)) is not None
    )
    return Turning(
        drawing.id,
        step.number,
        sight.axes,
        posed(PLAN, scene.pose).from_room((0.0, 0.0, 1.0)),
        sight.factor,
        sight.origin,
        standing,
        tuple(_driven(fastener) for fastener in scene.fasteners),
        _pressing(now, step, scene, offsets),
        meetings(solids.plan, shown, new),
        bool(scene.moves or scene.fasteners or scene.fittings),
    )


def _turns(step: Step, scene: Scene) -> dict[str, int]:
    """When each part comes home: one after the other where the step's drawing gives each an arrow of its own, else all at once."""
    each = one_by_one(step)
    return {move.part: place if each else 0 for place, move in enumerate(scene.moves)}


def _driven(fastener: Fastener) -> Driven:
    item = fastener.item
    return Driven(
        item.id,
        fastener.mouth.mm,
        fastener.direction,
        item.length.mm if item.length else 25.0,
        shank_of(item),
        fastener.through,
        fastener.sunk.mm,
        not item.pin,
    )


def _pressing(solids: Solids, step: Step, scene: Scene, offsets: Mapping[str, Vector]) -> tuple[Pressing, ...]:
    """Clamps where they press on the closed work, each with how far the picture draws it from there."""
    home, drawn = presses(step, scene, solids, {}), presses(step, scene, solids, offsets)
    if len(home) != len(drawn):
        return tuple(Pressing(one.place, one.toward, NOWHERE) for one in home)
    return tuple(
        Pressing(one.place, one.toward, rounded(np.array(far.place) - np.array(one.place)))
        for one, far in zip(home, drawn, strict=True)
    )


def _at_bench(derived: Derived, solids: Solids, step: Step, drawing: Drawing, shapes: Shapes) -> Turning | None:
    """Each part lies by itself where the drawing has it, in the view that the drawing shows it in."""
    scene = step.scene
    assert scene is not None
    if is_glue_up(step):
        (part_id,) = drawing.panes[0].shown
        return strips_scene(step, derived.plan.part(part_id), drawing, shapes)
    now = solids_so_far(derived, solids, step, scene.new, holes=True)
    panes = {pane.shown[0]: pane for pane in drawing.panes[::-1] if pane.sight is None and len(pane.shown) == 1}
    views = {one.part: one.view.axes for one in lying_at_bench(now, derived, step, scene.new)}
    found: list[Standing] = []
    factor = 0.0
    for part_id, pane in panes.items():
        if part_id not in views:
            continue
        placed = body_of(now, part_id, shapes, _fresh(derived, now, step, part_id))
        box = now.box(part_id)
        if placed is None or box is None:
            continue
        axes = _axes(views[part_id])
        wide = float(np.abs(np.array(axes[0])) @ (box[1] - box[0]))
        factor = factor or (pane.box[2] - pane.box[0]) / max(wide, 1e-6)
        found.append(Standing(part_id, placed[0], placed[1], True, axes=axes, on_paper=_middle(pane, factor)))
    if not found:
        return None
    return Turning(
        drawing.id, step.number, found[0].axes or _axes(PLAN.axes), (0.0, 0.0, 1.0), factor, (0.0, 0.0), tuple(found)
    )


def _fresh(derived: Derived, now: Solids, step: Step, part_id: str) -> frozenset[int]:
    """The places among a part's features of those that this step has cut."""
    whole, part = derived.plan.part(part_id), now.plan.part(part_id)
    before = next((one for one in derived.steps if one.number == step.number - 1), None)
    known = set(part_so_far(derived, before, whole, holes=True).features) if before is not None else set()
    return frozenset(place for place, feature in enumerate(part.features) if feature not in known)


def _middle(pane: Pane, factor: float) -> tuple[float, float]:
    left, top, right, bottom = pane.box
    return (round((left + right) / 2 / factor, 2), round(-(top + bottom) / 2 / factor, 2))


def _axes(rows: np.ndarray) -> Axes:
    right, up, toward = (rounded(row, 9) for row in rows)
    return (right, up, toward)
