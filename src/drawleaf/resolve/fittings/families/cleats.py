"""A hanging cleat: screws that hold its lower half to the wall, and the upper half on the piece that hooks over it."""

from __future__ import annotations

from drawleaf.model.place import Face
from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import ZERO, Length

BARE = Length.of_mm(2)
"""A bevel that leaves no more than this flat at its thin side is one."""


def fit(task: Task) -> None:
    """One to each place on the front of the lower half, whose mate is named."""
    named, mates = task.face(), task.mates()
    if named is None or not mates or task.item.body is None:
        return
    wide, out, high = task.item.body
    for part, face in task.sided(named):
        mate = next((one for one in mates if one.seen.overlap(part.seen) is not None), None)
        if mate is None:
            task.error(
                "hardware-unmet",
                f"{task.item.name}: “{task.entry.other_half_on}” does not hook over “{part.id}”",
                "other_half_on",
                "The two halves of a cleat overlap by their bevels as they hang.",
                f"Let the top of “{part.id}” stand above the bottom of the other half by as much as the wood is thick.",
            )
            return
        if not (_bevelled(task, part, (face.opposite, Face.TOP)) and _bevelled(task, mate, (face, Face.BOTTOM))):
            return
        for at in task.places(part, face):
            first, second = face.axis.others()
            spans = {first: around(at.along(first), wide), second: around(at.along(second), high)}
            body = block(at, {**spans, face.axis: outwards(face, at.along(face.axis), out)})
            task.place((part, mate), face, at, body)


def _bevelled(task: Task, part: Part, edge: tuple[Face, Face]) -> bool:
    """Whether a half has its bevel on the side that hooks; reported where it has none, or the wrong way round."""
    wood = part.body.extent(edge[0].axis)
    bevels = [one for one in part.features if isinstance(one, EdgeProfile) and one.kind == "chamfer"]
    if any(set(one.edge) == set(edge) and (wood - one.size if wood > one.size else ZERO) <= BARE for one in bevels):
        return True
    name, drawn = f"{edge[0].value}-{edge[1].value}", task.tools.targets.draft(part.kind)
    task.error(
        "hardware-unmet",
        f"{task.item.name}: “{part.id}” has no bevel through its thickness at its {edge[0].value} {edge[1].value} edge",
        "other_half_on",
        "The half on the wall is highest at its front, the half on the piece lowest at its back, so that one drops behind the other.",
        f"Write “{{in: {drawn.key if drawn is not None else part.id}, chamfer: {{edges: [{name}], size: {task.say(wood)}}}}}” under “machining”.",
    )
    return False
