"""Whether glue stays open as long as it takes to spread it and close what it is spread on; if not, in how many goes one works.

How long spreading takes is our own estimate for someone who is new to it, no measurement: a quarter of a minute to begin at each place,
a minute for a square foot, a quarter of a minute to set a piece on its mark and close it.
"""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.shop.areas import glued_area, seam_area
from drawleaf.derive.shop.brought import brought_by, in_goes, is_tied
from drawleaf.derive.shop.clamps import stays_clamped
from drawleaf.derive.shop.times import open_minutes
from drawleaf.graphs import connected
from drawleaf.model.catalogue import GLUE
from drawleaf.model.diagnostic import About, Diagnostic, Severity, Subject
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.model.steps import Operation, Step
from drawleaf.setting_out.wood_joints import takes_glue
from drawleaf.units.measures import convert

EACH_PLACE, EACH_SQUARE_FOOT, EACH_PIECE = 0.25, 1.0, 0.25


def gluing_minutes(area: float, places: int, pieces: int) -> float:
    """From the first glue to the last piece closed; ``area`` in square metres."""
    return EACH_PLACE * places + EACH_SQUARE_FOOT * convert(area, "m^2", "ft^2") + EACH_PIECE * pieces


def panel_goes(plan: Plan, part: Part) -> tuple[int, ...]:
    """How many strips of a panel are glued in each go, the goes being glued together when they have set; all in one where there is time."""
    if part.glue_up is None:
        return ()
    strips = part.glue_up.strips
    seam = seam_area(part) / max(strips - 1, 1)
    goes = 1
    while goes < strips // 2 and _panel_minutes(seam, -(-strips // goes)) > open_minutes(plan.catalogue):
        goes += 1
    share, over = divmod(strips, goes)
    return tuple(share + (place < over) for place in range(goes))


def _panel_minutes(seam: float, strips: int) -> float:
    return gluing_minutes(seam * (strips - 1), strips - 1, strips)


def joint_goes(plan: Plan, operation: Operation) -> tuple[tuple[str, ...], ...]:
    """The parts that an operation brings, by the goes that they are glued in; one go where there is time for all.

    A part that takes too long by itself is a go of its own: ``too_long`` reports it.
    """
    if is_tied(plan, operation):
        return (operation.parts,)
    most = open_minutes(plan.catalogue)
    return in_goes(operation.parts, lambda go: _join_minutes(operation, go) <= most)


def too_long(plan: Plan, operation: Operation, parts: Sequence[str]) -> bool:
    """Whether these parts, brought in one go, take longer than the glue stays open."""
    return _join_minutes(operation, parts, 1 if is_tied(plan, operation) else None) > open_minutes(plan.catalogue)


def _join_minutes(operation: Operation, parts: Sequence[str], pieces: int | None = None) -> float:
    glued = [joint for joint in operation.joints if takes_glue(joint) and brought_by(operation, joint) in parts]
    return gluing_minutes(sum(map(glued_area, glued)), len(glued), pieces or len(parts)) if glued else 0.0


def closed_together(operations: Sequence[Operation]) -> list[tuple[Joint, ...]]:
    """The glued joints of operations that are closed together, by the bodies that they make: each is closed before the next is begun."""
    glued = {joint.id: joint for one in operations for joint in one.joints if takes_glue(joint)}
    ends = {id_: (joint.insert, joint.receiver) for id_, joint in glued.items()}
    bodies = connected((part for pair in ends.values() for part in pair), ends.values())
    return [tuple(joint for joint in glued.values() if joint.insert in body) for body in bodies]


def closing_minutes(operations: Sequence[Operation]) -> float:
    """Minutes from the first glue to the last joint closed, where several operations are closed together under the same clamps; the longest, where
    they make bodies of their own."""
    bodies = closed_together(operations)
    return max(
        (
            gluing_minutes(
                sum(map(glued_area, joints)),
                len(joints),
                len({part for one in joints for part in (one.insert, one.receiver)}) - 1,
            )
            for joints in bodies
        ),
        default=0.0,
    )


def glue_problems(plan: Plan, steps: Sequence[Step]) -> tuple[Diagnostic, ...]:
    """The step that takes longest to spread and close in one go, where that is longer than the glue stays open and nothing can be set first."""
    minutes = {step.number: _one_go(plan, step) for step in steps}
    worst = max(steps, key=lambda step: minutes[step.number], default=None)
    if worst is None or minutes[worst.number] <= open_minutes(plan.catalogue):
        return ()
    needed = minutes[worst.number]
    slower = sorted(
        (glue.open_minutes, name)
        for name, glue in plan.catalogue.consumables.items()
        if name != GLUE and glue.open_minutes is not None and glue.open_minutes >= needed
    )
    named = (
        f"Write “glue: {slower[0][1]}” under “shop”, which stays open {slower[0][0]:g} minutes, or " if slower else ""
    )
    apart = "make an assembly of its own of some parts, which is glued first, or let a second person spread glue"
    return (
        Diagnostic(
            "glue-too-quick",
            f"step {worst.number} ({worst.id}) takes about {needed:.0f} minutes from the first glue to the last joint closed; the glue stays "
            f"open {open_minutes(plan.catalogue):g}",
            None,
            mend=named + apart + "." if named else apart[0].upper() + apart[1:] + ".",
            severity=Severity.ADVICE,
            subject=Subject(About.STEP, worst.id),
        ),
    )


def _one_go(plan: Plan, step: Step) -> float:
    """The longest that a step must spread and close without a stop, in minutes."""
    operations = step.once.operations
    together = [op for op in operations if stays_clamped(op)]
    longest = closing_minutes(together) if len(together) > 1 else 0.0
    for operation in operations:
        if stays_clamped(operation):
            tied = is_tied(plan, operation)
            for go in joint_goes(plan, operation):
                longest = max(longest, _join_minutes(operation, go, 1 if tied else None))
    return longest
