"""Room for solid panels in their grooves: too little, and a swelling panel bursts its frame."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, judged, mm, result, sentence
from drawleaf.checks.moisture import MOVEMENT_SOURCE, coefficient, moisture_range, movement
from drawleaf.model.checks import CheckResult, Fine
from drawleaf.model.plan import BoxCut, Joint, Part

NAME = "panel-room"
GROOVED = ("groove", "dado", "tongue")


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each kind of part that sits loose in channels along its width."""
    dry, damp = moisture_range(bench.plan.checks)
    for part, group in bench.kinds():
        across = part.width_axis
        joints = [
            joint
            for joint in bench.joints_of[part.id]
            if joint.family in GROOVED and joint.insert == part.id and joint.face.axis is across and not joint.glued
        ]
        if not joints:
            continue
        room = sum(_play(bench, joint) for joint in joints)
        swells = movement(part.body.extent(across).mm, coefficient(part.stock.material), dry, damp)
        yield _finding(bench, part, group, room, swells)


def _play(bench: Bench, joint: Joint) -> float:
    """What is left at the bottom of a channel behind the panel's edge."""
    axis = joint.face.axis
    cuts = [
        feature.box.extent(axis).mm
        for feature in bench.parts[joint.receiver].features
        if isinstance(feature, BoxCut) and feature.joint == joint.id
    ]
    return max(max(cuts, default=0.0) - joint.depth.mm, 0.0)


def _finding(bench: Bench, part: Part, group: tuple[Part, ...], room: float, swells: float) -> CheckResult:
    verdict = judged(swells, room, 2 * room)
    if swells:
        words = "The {part} swells by {swells} from the driest to the dampest weeks; its grooves leave {room} in total."
    else:
        words = (
            "The {part} is sheet stock and hardly moves; its grooves leave {room} in total, so that the joint closes."
        )
    return result(
        NAME,
        "Room for panels",
        verdict,
        group,
        sentence(words, part=called(part), swells=Fine(mm(swells)), room=Fine(mm(room))),
        figures=figures(swells=Fine(mm(swells)), room_in_the_grooves=Fine(mm(room))),
        limit=sentence("no more than the room, for a panel fitted in the driest week"),
        source=MOVEMENT_SOURCE,
        remedy=sentence(
            "Write “play: {play}” or more on its groove joints, or make the panel of sheet stock.",
            play=mm((swells + 0.8) / 2),
        ),
        steps=bench.steps_with(one.id for one in group),
    )
