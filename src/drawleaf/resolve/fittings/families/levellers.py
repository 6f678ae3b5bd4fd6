"""Levelling feet: a threaded insert bored into the lower end of a side or leg, with a foot that turns in it."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.resolve.fittings.families.task import Task, around, block, outwards
from drawleaf.units import ZERO, Length

LEAST_BELOW = Length.of_inches(Fraction(1, 8))
"""A foot that only just reaches the floor cannot level anything: common practice, no source."""


def fit(task: Task) -> None:
    """One to each place on the underside."""
    floor = min(part.seen.z.low for part in task.tools.shop.values())
    for part in task.parts:
        for at in task.places(part, Face.BOTTOM):
            up = part.seen.z.low - floor
            if not _reaches(task, part, up):
                return
            hole, deep = task.item.hole or ZERO, task.measure("bore deep")
            if not task.thick_enough(part, Face.BOTTOM, deep, "the bore for its insert"):
                return
            if not task.wide_enough(part, Face.BOTTOM, at, hole / 2, "the bore for its insert", task.measure("wall")):
                return
            foot = task.measure("foot")
            drop = max(task.measure("least"), up)
            body = block(
                at,
                {
                    Axis.X: around(at.x, foot),
                    Axis.Y: around(at.y, foot),
                    Axis.Z: outwards(Face.BOTTOM, part.seen.z.low, drop),
                },
            )
            if not task.in_the_open(body):
                return
            task.cut_bore(part, Face.BOTTOM, at, hole, deep, kind="hole")
            task.place((part,), Face.BOTTOM, at, body)


def _reaches(task: Task, part: Part, up: Length) -> bool:
    most = task.measure("most")
    if up + LEAST_BELOW <= most:
        return True
    task.error(
        "hardware-clearance",
        f"{task.item.name}: the underside of “{part.id}” is {task.say(up)} above the floor; the foot reaches {task.say(most)} at most",
        "on",
        f"It must stand out {task.say(LEAST_BELOW)} below what else is down there, to have something to level.",
        "Put it under a part that reaches lower.",
    )
    return False
