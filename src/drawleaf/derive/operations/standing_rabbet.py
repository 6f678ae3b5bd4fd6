"""A rabbet cut when the parts around it stand: with a bearing bit, and a chisel where the bearing is stopped."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Workshop, by_setting, local
from drawleaf.model.place import Face, Span
from drawleaf.model.plan import BoxCut, Joint, Part, Plan
from drawleaf.model.settings import StandingRabbetSettings
from drawleaf.model.steps import Operation
from drawleaf.setting_out.channels import Channel, channel_of
from drawleaf.units import Length

KINDS = ("rabbet-standing",)
BEARING = Length.of_inches(1) / 2
"""How far below its cutters a rabbeting bit's bearing reaches, with the screw that holds it: common practice, no source."""


def waiting_joints(joints: Sequence[Joint]) -> list[Joint]:
    """Those of the joints whose rabbets are cut once the rest stands."""
    return [joint for joint in joints if joint.after_assembly]


def waits(plan: Plan, cut: BoxCut) -> bool:
    """Whether a cut is left out while its part lies loose on the bench."""
    return cut.joint is not None and plan.joint(cut.joint).after_assembly


def rabbet_operations(shop: Workshop, joints: Sequence[Joint], standing: Sequence[str]) -> tuple[Operation, ...]:
    """The work of cutting the rabbets of these joints in what stands, one to a setting; none where none of them waits."""
    inserts = {joint.id: joint.insert for joint in waiting_joints(joints)}
    found = [
        channel_of(part, feature)
        for part in shop.plan.parts
        for feature in part.features
        if isinstance(feature, BoxCut) and feature.joint in inserts
    ]
    groups = by_setting(
        found, lambda one: StandingRabbetSettings(one.width, one.depth, inserts[one.cut.joint or ""], one.edge)
    )
    return tuple(
        shop.operation(
            f"rabbet-for-{local(shop.plan.part(setting.insert).kind)}",
            "rabbet-standing",
            tuple(dict.fromkeys(channel.part.id for channel in channels)),
            pieces=len(channels),
            settings=setting,
            features=[(channel.part.id, channel.cut) for channel in channels],
            standing=standing,
        )
        for setting, channels in groups
    )


def blocked_by(plan: Plan, channel: Channel, standing: Sequence[str]) -> tuple[str, ...]:
    """The parts that stop the bearing along a rabbet: they stand against its wall, within reach below its floor."""
    floor = channel.cut.box.face(channel.edge.opposite)
    below = floor - BEARING * channel.edge.side
    reach = Span(min(floor, below), max(floor, below))
    wall = channel.cut.into
    return tuple(
        part.id
        for part in (plan.part(one) for one in standing)
        if part.id != channel.part.id and _at_wall(part, channel.part, wall) and _within(part, channel, reach)
    )


def _at_wall(part: Part, walled: Part, wall: Face) -> bool:
    """Whether a part touches or enters the face that the bearing runs on."""
    span, plane = part.body.span(wall.axis), walled.body.face(wall)
    near = span.low if wall.side > 0 else span.high
    return (plane - near) * wall.side >= Length.of_mm(0) and span.low <= plane <= span.high


def _within(part: Part, channel: Channel, reach: Span) -> bool:
    beside = part.body.span(channel.run).overlap(channel.cut.box.span(channel.run))
    return beside is not None and part.body.span(channel.across).overlap(reach) is not None
