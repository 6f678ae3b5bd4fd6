"""How long it takes: hands-on hours, waits on the critical path, and days at a stated pace."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from drawleaf.derive.times import BASIS, HOURS_A_DAY
from drawleaf.model.steps import Operation, Schedule, Step

HOURS_BETWEEN_SESSIONS = 24 - HOURS_A_DAY


def make_schedule(steps: Sequence[Step]) -> Schedule:
    """One person works through the steps in order; waits run on through the night and beside other work."""
    active = sum(step.minutes for step in steps) / 60
    return Schedule(
        active_hours=active,
        waiting_hours=waiting_hours(steps),
        days=_days(steps),
        basis=f"{BASIS} Days of {HOURS_A_DAY:g} hours.",
    )


def waiting_hours(steps: Sequence[Step]) -> float:
    """Hours in which nothing can be done: the longest chain of work and waits, less the work that one person has anyway."""
    clock = 0.0
    dry: dict[str, float] = {}
    idle = 0.0
    for step in steps:
        ready = max(
            (dry[before] for operation in step.operations for before in operation.after if before in dry), default=0.0
        )
        idle += max(0.0, ready - clock)
        clock = max(clock, ready) + step.minutes / 60
        dry.update(_dry_times(step.operations, clock))
    return idle + max(0.0, max(dry.values(), default=clock) - clock)


def _dry_times(operations: Sequence[Operation], done: float) -> dict[str, float]:
    return {operation.id: done + operation.wait_hours for operation in operations}


def _days(steps: Sequence[Step]) -> int:
    """Days with so many hours at the bench, the waits running through the night."""
    day, left, dry = 1, HOURS_A_DAY, {}
    for step in steps:
        ready = max(
            (dry[before] for operation in step.operations for before in operation.after if before in dry), default=0.0
        )
        now = (day - 1) * 24 + HOURS_A_DAY - left
        if ready > now:
            # Wait at the bench if there is time left today, else until the next day on which it is dry.
            if ready <= (day - 1) * 24 + HOURS_A_DAY:
                left -= ready - now
            else:
                day, left = (
                    max(day + 1, ceil(ready / 24) + 1 if ready % 24 > HOURS_A_DAY else int(ready // 24) + 1),
                    HOURS_A_DAY,
                )
        work = step.minutes / 60
        while work > left:
            work -= left
            day, left = day + 1, HOURS_A_DAY
        left -= work
        now = (day - 1) * 24 + HOURS_A_DAY - left
        dry.update(_dry_times(step.operations, now))
    return day
