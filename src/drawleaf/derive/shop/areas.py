"""Areas for glue, sanding and finish, and how they are said in a plan's units.

Areas are those of the blanks' six faces. Channels and rounded edges change them by less than coverage figures are good for.
"""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.catalogue import Form
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.units import LengthFormat, Units
from drawleaf.units.measures import convert


def outside_area(parts: Iterable[Part]) -> float:
    """Square metres of all faces of the blanks. What joints hide is counted too: it makes up for what soaks in at ends and is spilt."""
    total = 0.0
    for part in parts:
        x, y, z = (part.body.extent(axis).mm / 1000 for axis in Axis)
        total += 2 * (x * y + y * z + x * z)
    return total


def shown_area(plan: Plan, parts: Iterable[str]) -> float:
    """Square metres of some parts that take finish: their faces as seen, less what lies against another part in a joint.

    The ends that dadoes hide, glued faces and faces screwed together get none.
    """
    wanted = set(parts)
    total = 0.0
    for part in plan.parts:
        if part.id in wanted:
            x, y, z = (part.seen.extent(axis).mm / 1000 for axis in Axis)
            total += 2 * (x * y + y * z + x * z)
    for joint in plan.joints:
        sides = sorted(joint.contact.extent(axis).mm / 1000 for axis in Axis)
        total -= sides[1] * sides[2] * ((joint.insert in wanted) + (joint.receiver in wanted))
    return max(total, 0.0)


def glued_area(joint: Joint) -> float:
    """Square metres of a joint that take glue: where the faces meet, and both walls of a channel."""
    sides = sorted(joint.contact.extent(axis).mm / 1000 for axis in Axis)
    return sides[1] * sides[2] + 2 * joint.depth.mm / 1000 * sides[2]


def seam_area(part: Part) -> float:
    """Square metres of the edge joints within a glued-up panel."""
    if part.glue_up is None:
        return 0.0
    length, _, thickness = part.size
    return (part.glue_up.strips - 1) * (length + part.glue_up.extra * 2).mm * thickness.mm / 1e6


def all_glued(plan: Plan) -> float:
    """Square metres of all glued joints and seams of a plan. Tape brings its own glue."""
    wet = [
        joint for joint in plan.joints if joint.glued and plan.part(joint.insert).stock.material.form is not Form.EDGE
    ]
    return sum(glued_area(joint) for joint in wet) + sum(seam_area(part) for part in plan.parts)


def area_text(area: float, lengths: LengthFormat) -> str:
    """``32 sq ft`` or ``3.0 m²``, or both, by the plan's units: signs, which are the same in every English."""
    feet = convert(area, "m^2", "ft^2")
    imperial = f"{feet:.{0 if feet >= 10 else 1}f}\u00a0sq ft"
    metric = f"{area:.{1 if area >= 1 else 2}f}\u00a0m²"
    if lengths.units is Units.INCH:
        return imperial
    return metric if lengths.units is Units.MM else f"{imperial} ({metric})"
