"""How long it takes: hands-on hours, waits, and the work laid out over days, by one person or by two.

Time runs on a calendar of 24-hour days that begin with a day's work: so many hours at the bench, then the night, in which glue and finish
go on drying. One person works through the steps in their order. Two share them: whoever is free takes the ready step with the longest
work and waits still behind it (list scheduling by critical path). Whether there is room and tools for two is not known here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from drawleaf.derive.shop.times import BASIS, HOURS_A_DAY
from drawleaf.model.steps import Drying, Operation, Schedule, Spell, Step

DAY = 24.0
HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Task:
    """A step, or one coat of it: hands-on hours, then a wait. ``after`` are earlier tasks by place, with the wait that each asks for."""

    step: int
    hours: float
    wait: float
    after: tuple[tuple[int, float], ...]


def make_schedule(steps: Sequence[Step], together: Collection[int] | None = None) -> Schedule:
    """The whole plan's time. ``together`` are the steps that both do at one bench, where one teaches the other: the schedule is then
    that of two people; None for a plan that one person builds."""
    tasks = tasks_of(steps)
    alone, alone_ends = _in_order(tasks)
    shared, shared_ends = _shared(tasks, together or ())
    spells, ends = (alone, alone_ends) if together is None else (shared, shared_ends)
    return Schedule(
        active_hours=sum(step.minutes for step in steps) / 60,
        waiting_hours=waiting_hours(tasks),
        days=_last_day(spells),
        basis=f"{BASIS} Days of {HOURS_A_DAY:g} hours.",
        hours_a_day=HOURS_A_DAY,
        spells=spells,
        dryings=_dryings(tasks, ends),
        critical=critical_steps(tasks),
        helped=shared,
        helped_days=_last_day(shared),
        for_two=together is not None,
    )


def tasks_of(steps: Sequence[Step]) -> tuple[Task, ...]:
    """The steps as tasks; a step that gives several coats is one task for each, the wait between them."""
    home: dict[str, tuple[int, float]] = {}
    tasks: list[Task] = []
    for step in steps:
        own = {operation.id for operation in step.operations}
        before = {home[name]: None for op in step.operations for name in op.after if name in home and name not in own}
        coats = max((_coats(operation) for operation in step.operations), default=1)
        hours, wait = step.minutes / 60 / coats, step.wait_hours / coats
        after = tuple(before)
        for _ in range(coats):
            tasks.append(Task(step.number, hours, wait, after))
            after = ((len(tasks) - 1, wait),)
        place = len(tasks) - 1
        # The step's wait holds for all of it: what is trimmed at its end was glued at its beginning.
        home.update({op.id: (place, wait) for op in step.operations})
    return tuple(tasks)


def _coats(operation: Operation) -> int:
    return operation.coat.coats if operation.coat is not None and operation.kind == "coat" else 1


def waiting_hours(tasks: Sequence[Task]) -> float:
    """Hours in which one person who never sleeps could do nothing: what has to dry before the next step can begin, and at the end."""
    clock = idle = 0.0
    ends: list[float] = []
    for task in tasks:
        ready = max((ends[place] + wait for place, wait in task.after), default=0.0)
        idle += max(0.0, ready - clock)
        clock = max(clock, ready) + task.hours
        ends.append(clock)
    dry = max((end + task.wait for end, task in zip(ends, tasks, strict=True)), default=clock)
    return idle + max(0.0, dry - clock)


def critical_steps(tasks: Sequence[Task]) -> tuple[int, ...]:
    """Steps without slack: were there hands enough, any one of them that takes longer would put off the end."""
    tails = _tails(tasks)
    starts: list[float] = []
    for task in tasks:
        starts.append(max((starts[place] + tasks[place].hours + wait for place, wait in task.after), default=0.0))
    end = max((start + tail for start, tail in zip(starts, tails, strict=True)), default=0.0)
    found = (task.step for task, start, tail in zip(tasks, starts, tails, strict=True) if start + tail > end - 1e-6)
    return tuple(dict.fromkeys(found))


def _tails(tasks: Sequence[Task]) -> list[float]:
    """From the start of each task to the end of all that hangs on it."""
    tails = [task.hours + task.wait for task in tasks]
    for place in range(len(tasks) - 1, -1, -1):
        for before, wait in tasks[place].after:
            tails[before] = max(tails[before], tasks[before].hours + wait + tails[place])
    return tails


def _in_order(tasks: Sequence[Task]) -> tuple[tuple[Spell, ...], tuple[float, ...]]:
    """One person, step after step; where something must dry first, the bench stands idle. Also when each task ends, by its place."""
    spells: list[Spell] = []
    ends: list[float] = []
    clock = 0.0
    for task in tasks:
        ready = max((ends[place] + wait for place, wait in task.after), default=0.0)
        own = _worked(task, max(clock, ready), 0)
        spells += own
        clock = _end(own[-1]) if own else max(clock, ready)
        ends.append(clock)
    return tuple(spells), tuple(ends)


def _shared(tasks: Sequence[Task], together: Collection[int] = ()) -> tuple[tuple[Spell, ...], tuple[float, ...]]:
    """Two people: the sooner start goes first, and among equals what has the longest tail; steps done ``together`` wait until both are
    free. Also when each task ends, by its place."""
    tails = _tails(tasks)
    clocks, ends = [0.0, 0.0], dict[int, float]()
    spells: list[Spell] = []
    todo = list(range(len(tasks)))
    while todo:
        ready = {
            place: max((ends[before] + wait for before, wait in tasks[place].after), default=0.0)
            for place in todo
            if all(before in ends for before, _ in tasks[place].after)
        }
        choices = (
            (_open(max(at, *(clocks[hand] for hand in hands))), -tails[place], place, hands)
            for place, at in ready.items()
            for hands in (((0, 1),) if tasks[place].step in together else ((0,), (1,)))
        )
        start, _, place, hands = min(choices)
        own = [_worked(tasks[place], start, hand) for hand in hands]
        ends[place] = _end(own[0][-1]) if own[0] else start
        for hand, worked in zip(hands, own, strict=True):
            spells += worked
            clocks[hand] = ends[place]
        todo.remove(place)
    return tuple(sorted(spells, key=lambda spell: (spell.day, spell.start, spell.hand))), tuple(
        ends[place] for place in range(len(tasks))
    )


def _dryings(tasks: Sequence[Task], ends: Sequence[float]) -> tuple[Drying, ...]:
    """The waits, each from the end of its task."""
    return tuple(Drying(task.step, end, end + task.wait) for task, end in zip(tasks, ends, strict=True) if task.wait)


def _open(clock: float) -> float:
    """The next moment at which somebody is at the bench."""
    day, hour = divmod(clock, DAY)
    return clock if hour < HOURS_A_DAY - HAIR else (day + 1) * DAY


def _worked(task: Task, start: float, hand: int) -> list[Spell]:
    """The task done from ``start`` on, day by day."""
    left, clock = task.hours, start
    spells: list[Spell] = []
    while left > HAIR:
        clock = _open(clock)
        day, hour = divmod(clock, DAY)
        done = min(left, HOURS_A_DAY - hour)
        spells.append(Spell(task.step, int(day) + 1, hour, hour + done, hand))
        left -= done
        clock += done
    return spells


def _end(spell: Spell) -> float:
    return (spell.day - 1) * DAY + spell.end


def _last_day(spells: Iterable[Spell]) -> int:
    return max((spell.day for spell in spells), default=0)
