"""Splines glued in: each slides along its slot once both parts that it holds together stand, and is trimmed flush where it stands out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from drawleaf.derive.operations.drafts import Workshop
from drawleaf.derive.shop.times import clamp_hours
from drawleaf.joinery.splines import ENDS
from drawleaf.model.place import Axis
from drawleaf.model.plan import Feature, Joint, Part, Plan, Vector
from drawleaf.model.settings import JoinSettings
from drawleaf.model.steps import Operation

Slides = Callable[[str, Sequence[str], Vector], bool]
"""``slides(piece, standing, way)``: whether a piece can leave what stands along a direction that may be slanting."""
KIND, TRIM = "set-splines", "trim-splines"
KINDS = (KIND, TRIM)
FIRST = (Axis.Z.high, Axis.Y.low, Axis.X.high, Axis.X.low, Axis.Y.high, Axis.Z.low)
"""From where one would rather slide something in: from above, then from the front."""


def seats(plan: Plan, piece: str) -> tuple[Joint, ...]:
    """The joints by which a piece sits."""
    return tuple(joint for joint in plan.joints_of((piece,)) if joint.insert == piece)


def way_in(plan: Plan, piece: str, standing: Sequence[str], slides: Slides) -> Vector | None:
    """How a piece slides in: from outside along the mitre where that is open, else along the corner; None where nothing is open."""
    part = plan.part(piece)
    assert part.tilt is not None
    hosts = [plan.part(joint.receiver) for joint in seats(plan, piece)]
    inside = np.mean([host.body.center.mm for host in hosts], axis=0)
    out = np.array(part.body.center.mm) - inside
    ways: list[Vector] = []
    for face in FIRST:
        x, y, z = (round(step, 9) + 0.0 for step in part.tilt.out_direction(face.normal))
        if not any(abs(float(np.dot((x, y, z), joint.normal or (0, 0, 0)))) > 0.5 for joint in seats(plan, piece)):
            ways.append((x, y, z))
    slanting = [way for way in ways if sorted(abs(step) for step in way) != [0.0, 0.0, 1.0]]
    outward = [way for way in slanting if float(np.dot(way, out)) > 0]
    for way in (*outward, *(way for way in ways if way not in outward)):
        if slides(piece, standing, way):
            return (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])
    return None


def setting_in(shop: Workshop, name: str, pieces: Sequence[str], standing: Sequence[str]) -> Operation:
    """The pieces glued in."""
    joints = [joint for piece in pieces for joint in seats(shop.plan, piece)]
    glued = any(joint.glued for joint in joints)
    return shop.operation(
        name,
        KIND,
        pieces,
        joints=joints,
        settings=JoinSettings(glue=glued),
        wait_hours=clamp_hours(shop.plan.catalogue) if glued else 0.0,
        standing=standing,
    )


def trimming(shop: Workshop, name: str, pieces: Sequence[str], standing: Sequence[str]) -> Operation | None:
    """What stands out of the pieces trimmed off when the glue is dry; None where nothing does."""
    ends = [(piece, cut) for piece in pieces for cut in _ends(shop.plan.part(piece))]
    if not ends:
        return None
    return shop.operation(name, TRIM, [piece for piece, _ in ends], features=ends, standing=standing)


def _ends(part: Part) -> list[Feature]:
    return [one for one in part.features if one.kind == ENDS]
