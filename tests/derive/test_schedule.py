"""The schedule: hand-worked days, waits through the night, the critical path, a helper who is never slower."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.conftest import PLANS, outcome_of

from drawleaf.derive.schedule import HOURS_A_DAY, Task, _in_order, _shared, critical_steps, waiting_hours
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Spell


def test_hand_worked() -> None:
    """Glue for an hour, a day's wait, meanwhile three hours of sawing; then an hour on the dry panel."""
    tasks = (Task(1, 1.0, 24.0, ()), Task(2, 3.0, 0.0, ()), Task(3, 1.0, 0.0, ((0, 24.0),)))
    assert _in_order(tasks)[0] == (Spell(1, 1, 0.0, 1.0), Spell(2, 1, 1.0, 4.0), Spell(3, 2, 1.0, 2.0))
    assert waiting_hours(tasks) == pytest.approx(21.0)
    assert critical_steps(tasks) == (1, 3)


def test_work_runs_over_into_the_next_day() -> None:
    (first, second) = _in_order((Task(1, HOURS_A_DAY + 1, 0.0, ()),))[0]
    assert (first.day, second.day) == (1, 2)
    assert second.end == pytest.approx(1.0)


def test_two_people_share_what_does_not_wait() -> None:
    tasks = (Task(1, 4.0, 0.0, ()), Task(2, 4.0, 0.0, ()), Task(3, 1.0, 0.0, ((0, 0.0), (1, 0.0))))
    assert max(spell.day for spell in _in_order(tasks)[0]) == 2
    assert max(spell.day for spell in _shared(tasks)[0]) == 1


@pytest.fixture(params=PLANS)
def derived(request: pytest.FixtureRequest) -> Derived:
    found = outcome_of(request.param).derived
    assert found is not None
    return found


def test_nobody_is_in_two_places(derived: Derived) -> None:
    schedule = derived.schedule
    for spells in (schedule.spells, schedule.helped):
        for hand in (0, 1):
            own = sorted((s.day, s.start, s.end) for s in spells if s.hand == hand)
            assert all(
                (day, end) <= (next_day, next_start + 1e-6)
                for (day, _, end), (next_day, next_start, _) in pairwise(own)
            )
        assert all(0 <= s.start < s.end <= HOURS_A_DAY + 1e-6 for s in spells)


def test_all_the_work_is_laid_out(derived: Derived) -> None:
    """What two do together counts once, by the hand that leads."""
    schedule = derived.schedule
    for spells in (schedule.spells, schedule.helped):
        both = {(s.step, s.day, s.start) for s in spells if s.hand == 0}
        alone = [s for s in spells if s.hand == 0 or (s.step, s.day, s.start) not in both]
        assert sum(s.end - s.start for s in alone) == pytest.approx(schedule.active_hours)
        assert {s.step for s in spells} == {step.number for step in derived.steps}
    assert schedule.helped_days <= schedule.days


def test_nothing_is_touched_while_it_dries(derived: Derived) -> None:
    starts: dict[int, float] = {}
    for spell in derived.schedule.spells:
        starts.setdefault(spell.step, (spell.day - 1) * 24 + spell.start)
    for drying in derived.schedule.dryings:
        step = derived.steps[drying.step - 1]
        if step.next_after_wait is not None:
            last = max(d.end for d in derived.schedule.dryings if d.step == drying.step)
            assert starts[step.next_after_wait] >= last - 1e-6


def test_the_panel_dries_while_other_work_goes_on() -> None:
    bench = outcome_of("boot-bench").derived
    assert bench is not None
    numbers = {step.id: step.number for step in bench.steps}
    assert numbers["trim-seat"] - numbers["glue-up-seat"] > 3
