"""The distinct joints of a plan: like ones are drawn once."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.place import Axis, Box
from drawleaf.model.plan import Bore, BoxCut, Fastener, Joint, Part, Plan


@dataclass(frozen=True, slots=True)
class Kind:
    """Joints that are made alike; the first of them stands for all in its drawing."""

    joints: tuple[Joint, ...]

    @property
    def joint(self) -> Joint:
        return self.joints[0]


def joint_kinds(plan: Plan) -> tuple[Kind, ...]:
    """Joints let in first, then butts; a butt that is only glued is shown where nothing of its line has fasteners."""
    groups: dict[tuple, list[Joint]] = {}
    fastened = {joint.line for joint in plan.joints if joint.fasteners}
    for joint in plan.joints:
        if not joint.depth and not joint.fasteners and joint.line in fastened:
            continue
        groups.setdefault(_key(plan, joint), []).append(joint)
    kinds = [Kind(tuple(joints)) for joints in groups.values()]
    return tuple(sorted(kinds, key=lambda kind: not kind.joint.depth))


def _key(plan: Plan, joint: Joint) -> tuple:
    insert, receiver = plan.part(joint.insert), plan.part(joint.receiver)
    items = tuple(sorted({fastener.item.id for fastener in joint.fasteners}))
    through = {fastener.through == joint.insert for fastener in joint.fasteners}
    hidden = {
        (one.plug.id if one.plug is not None else "", one.sunk, one.open_wide is not None) for one in joint.fasteners
    }
    return (
        joint.family.key,
        joint.depth,
        insert.stock.thickness,
        receiver.stock.thickness,
        joint.face.axis is insert.thickness,
        joint.face.axis is receiver.thickness,
        items,
        tuple(sorted(through)),
        tuple(sorted(hidden)),
        # What comes off again is never drawn, nor told, as one with what is glued; nor what slides with what is held.
        joint.glued,
        any(fastener.slotted for fastener in joint.fasteners),
        all(fastener.temporary for fastener in joint.fasteners),
    )


LEVEL = 0.1
"""A fastener whose direction has a smaller step along the run lies in the section across it."""


def run_axis(joint: Joint) -> Axis:
    """The way the joint runs: the longer side of where the parts touch. A section across it shows the joint. Fingers and tails are
    shown along their corner, cut through the first part's thickness; slanting dowels and screws in the plane that they lie in."""
    if joint.run is not None:
        return joint.run
    first, second = joint.face.axis.others()
    if joint.family.fingered:
        return first if joint.contact.extent(first) < joint.contact.extent(second) else second
    ways = [first, second] if joint.contact.extent(first) >= joint.contact.extent(second) else [second, first]
    level = (axis for axis in ways if any(abs(one.direction[axis.index]) < LEVEL for one in joint.fasteners))
    return next(level, ways[0])


def through(plan: Plan, joint: Joint) -> Part | None:
    """What goes through an opening of the part that is let in, such as the wedge of a through tenon; None where nothing does."""
    if not joint.depth:
        return None
    insert = plan.part(joint.insert)
    dry = (one for one in plan.joints if not (one.glued or one.fasteners or one.depth))
    near = {end for one in dry for end in (one.insert, one.receiver) if joint.receiver in (one.insert, one.receiver)}
    others = [plan.part(end) for end in sorted(near - {joint.insert, joint.receiver})]
    return next((one for one in others if one.body.overlap(insert.body) is not None), None)


def opening(plan: Plan, joint: Joint) -> Box | None:
    """Where something goes ``through`` the part that is let in."""
    other = through(plan, joint)
    return other.body.overlap(plan.part(joint.insert).body) if other is not None else None


def best_cut(plan: Plan, joint: Joint) -> tuple[float, Fastener | None]:
    """Where along its run (mm) the joint is best cut: through the fastener nearest its middle, or where no hole or notch is near."""
    axis = run_axis(joint)
    span = joint.contact.span(axis)
    middle = span.middle.mm
    level = [f for f in joint.fasteners if abs(f.direction[axis.index]) < LEVEL]
    if level:
        chosen = min(level, key=lambda f: (round(abs(f.at.along(axis).mm - middle), 3), f.at.along(axis).mm))
        return chosen.at.along(axis).mm, chosen
    if (hole := opening(plan, joint)) is not None and (shared := span.overlap(hole.span(axis))) is not None:
        return shared.middle.mm, None
    shares = (0.5, 0.42, 0.58, 0.35, 0.65, 0.27, 0.73, 0.2, 0.8)
    places = [span.low.mm + share * span.extent.mm for share in shares]
    parts = (plan.part(joint.insert), plan.part(joint.receiver))
    return next((at for at in places if not any(_disturbed(part, joint, axis, at) for part in parts)), places[0]), None


def _disturbed(part: Part, joint: Joint, axis: Axis, at: float) -> bool:
    for feature in part.features:
        if isinstance(feature, Bore):
            near = abs(feature.start.along(axis).mm - at) < feature.diameter.mm
        else:
            box = feature.box.span(axis) if isinstance(feature, BoxCut) and feature.joint != joint.id else None
            near = box is not None and box.low.mm < at < box.high.mm and box.extent.mm < 60.0
        if near:
            return True
    return False


def own_cut(plan: Plan, joint: Joint) -> BoxCut | None:
    """What is cut into the receiver for this joint; of fingers none, for all of them together are the joint."""
    if joint.family.fingered:
        return None
    cuts = (f for f in plan.part(joint.receiver).features if isinstance(f, BoxCut) and f.joint == joint.id)
    return next(cuts, None)
