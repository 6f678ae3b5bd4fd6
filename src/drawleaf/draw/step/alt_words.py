"""What a step's drawing shows, in words: its alternative text."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drawleaf.draw.sight.view import Vector, View
from drawleaf.draw.step.legend import alike_words
from drawleaf.draw.step.squaring import diagonal_words, squared
from drawleaf.english import counted, listed
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Fitting
from drawleaf.model.steps import Pose, Scene, Step


def alt_words(derived: Derived, step: Step, scene: Scene, view: View, alike: int = 1) -> str:
    """What a step's drawing shows, for those who hear it: the side it is seen from, what is new, how it moves, what its marks mean."""
    tell = derived.plan.words.tell
    names = part_names(derived, scene.new)
    lies = "" if view.pose is Pose.UPRIGHT else f", drawn {view.pose}"
    said = [tell("{}, {}.", step.title, derived.plan.words.put(view_words(view) + lies))]
    if alike > 1:
        said.append(derived.plan.words.put(alike_words(alike)))
    if names:
        said.append(tell("New in this step: {}.", listed(names, most=8)))
    fitted: dict[str, list[Fitting]] = {}
    for fitting in derived.plan.fittings:
        if fitting.id in scene.fittings:
            fitted.setdefault(fitting.item.id, []).append(fitting)
    if fitted:
        said.append(tell("Fitted: {}.", listed([counted_item(group) for group in fitted.values()], most=8)))
    moves = {_way(move.direction) for move in scene.moves}
    if moves:
        moving = (
            "Arrows show them moving {} into place." if len(scene.moves) > 1 else "Arrows show it moving {} into place."
        )
        said.append(tell(moving, listed(sorted(moves), most=8)))
    if scene.fasteners:
        kinds = sorted({fastener.item.plural for fastener in scene.fasteners})
        one, several = "Marks show where {} fastener goes in: {}.", "Marks show where {} fasteners go in: {}."
        count = len(scene.fasteners)
        said.append(tell(several if count > 1 else one, count, listed(kinds, most=8)))
    if squared(step):
        said.append(derived.plan.words.put(diagonal_words()))
    if step.clamps and any(joint.glued for operation in step.operations for joint in operation.joints):
        said.append(derived.plan.words.put("Pale clamps press on the work."))
    if step.helps:
        drawn = sorted({one.name for one in step.helps if one.places})
        said += [tell("Drawn with broken lines, and taken off again: {}.", listed(drawn, most=8))] if drawn else []
    if scene.standing and (names or fitted):
        said.append(derived.plan.words.put("What stands already is drawn in gray."))
    return " ".join(said)


def part_names(derived: Derived, parts: Sequence[str]) -> list[str]:
    """``2 Side`` for two copies of item Side, in cut-list order, with item numbers."""
    names: list[str] = []
    for item in derived.cut_list.items:
        count = sum(part.id in parts for part in item.parts)
        if count:
            names.append(f"{item.name} (number {item.number}{f', {count} of them' if count > 1 else ''})")
    return names


def view_words(view: View) -> str:
    """``seen from the front right and above``."""
    x, y, z = view.axes[2]
    front = "front" if y < -1e-9 else "back" if y > 1e-9 else ""
    side = ("left" if x < 0 else "right") if abs(x) > 1e-9 else ""
    level = "above" if z > 1e-9 else "below" if z < -1e-9 else ""
    first = " ".join(word for word in (front, side) if word)
    return f"seen from {f'the {first}' if first else ''}{' and ' if first and level else ''}{level}"


def _way(direction: Vector) -> str:
    axis = int(np.argmax(np.abs(direction)))
    return (("to the left", "to the right"), ("forward", "back"), ("down", "up"))[axis][direction[axis] > 0]


def counted_item(group: Sequence[Fitting]) -> str:
    """The name of a bought item, with its count where there are several."""
    count = sum(fitting.count for fitting in group)
    item = group[0].item
    return counted(count, item.name, item.plural) if count > 1 else item.name
