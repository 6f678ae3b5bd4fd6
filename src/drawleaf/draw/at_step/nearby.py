"""What of a long piece a step shows: where the work is, and what stands around it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from drawleaf.model.steps import Scene, Step
from drawleaf.solids.build import Solids

MANY = 60
"""Of no more parts than these all are shown."""
AROUND = 0.5
"""How far around the work is shown, as a share of its own size."""


def nearby(solids: Solids, step: Step, scene: Scene) -> Scene:
    """The scene with those of the standing parts that are near to what comes and to what it comes to; the very same one where most of them
    are, and where the work is on all that stands."""
    if len(scene.standing) <= MANY:
        return scene
    touched = {end for op in step.operations for joint in op.joints for end in (joint.insert, joint.receiver)}
    touched |= {part for op in step.operations for fitting in op.fittings for part in fitting.parts}
    boxes = [box for one in (*scene.new, *scene.fittings, *touched) if (box := solids.box(one)) is not None]
    if not boxes:
        return scene
    low, high = np.min([box[0] for box in boxes], axis=0), np.max([box[1] for box in boxes], axis=0)
    around = AROUND * float((high - low).max())
    near = tuple(
        one
        for one in scene.standing
        if (box := solids.box(one)) is not None and (box[0] <= high + around).all() and (box[1] >= low - around).all()
    )
    return scene if 2 * len(near) > len(scene.standing) else replace(scene, standing=near)
