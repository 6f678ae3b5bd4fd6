"""The schedule as a picture: a row for each stage, the days from left to right, work as bars, waits as thin lines through the night.

What decides the end stands out by the accent and a thick line, so that a black-and-white print says the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.draw.paper.lettering import text_width
from drawleaf.draw.paper.style import INK, LETTER, NARROW, PALE, SOFT_INK, STANDING, VISIBLE, WHITE
from drawleaf.draw.paper.svg import Pt, Sketch, TextRun, rectangle, write
from drawleaf.english import counted, listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.steps import Schedule, Spell, Step

WIDTH = 170.0
RIGHT = WIDTH - 0.5
"""Lines end short of the frame, so that their width stays within it."""
ROW, TIGHT_ROW, MANY_ROWS = 4.6, 3.7, 12
"""The height of a row; a long plan has more than so many rows, and they stand closer."""
BAR, TIGHT_BAR = 3.2, 2.6
HEAD = 7.0
NIGHT = 0.18
"""The share of a day's width that stands for its night."""
LEAST_BAR = 0.5
DAY = 24.0


def draw_schedule(derived: Derived) -> Drawing | None:
    """One person's work over the days, or that of two where one of them learns; None where there are no steps to lay out."""
    schedule = derived.schedule
    if not schedule.spells:
        return None
    rows = _rows(derived.steps)
    names = [f"{stage}, {_range(steps)}" for stage, steps in rows]
    left = max(text_width(name) for name in names) + 3.0
    sketch = Sketch()
    last = _last_moment(schedule)
    days = max(schedule.days, int(last // DAY) + 1)
    grid = _Grid(left, (RIGHT - left) / days, schedule.hours_a_day)
    row, bar = (ROW, BAR) if len(rows) <= MANY_ROWS else (TIGHT_ROW, TIGHT_BAR)
    height = HEAD + row * len(rows) + 1.5
    _draw_days(sketch, grid, days, height)
    for place, ((_, steps), name) in enumerate(zip(rows, names, strict=True)):
        middle = HEAD + row * (place + 0.5)
        _text(sketch, name, (0.0, middle + LETTER * 0.33), INK)
        sketch.line(STANDING, (left, HEAD + row * (place + 1)), (RIGHT, HEAD + row * (place + 1)))
        _draw_row(sketch, grid, schedule, {step.number for step in steps}, middle, bar)
    title = "The work over the days"
    alt = _alt(derived, rows)
    return Drawing("schedule", "schedule", title, write(sketch, WIDTH, height, title, alt), alt, WIDTH, height, None)


class _Grid:
    """Where a moment of the calendar stands on paper: hours of work are wide, those of the night narrow."""

    def __init__(self, left: float, day: float, hours: float) -> None:
        self.left, self.day, self.hours = left, day, hours

    def x(self, moment: float) -> float:
        day, hour = divmod(moment, DAY)
        work = self.day * (1 - NIGHT)
        if hour <= self.hours:
            return self.left + day * self.day + work * hour / self.hours
        return self.left + day * self.day + work + self.day * NIGHT * (hour - self.hours) / (DAY - self.hours)


def _draw_days(sketch: Sketch, grid: _Grid, days: int, height: float) -> None:
    every = next(every for every in (1, 2, 5, 10) if every * grid.day >= text_width("10") + 2 or every == 10)
    for day in range(days):
        start = grid.x(day * DAY)
        night = grid.x(day * DAY + grid.hours + 1e-6)
        sketch.fill(PALE, rectangle(night, HEAD, grid.x((day + 1) * DAY), height - 1.5), name="night")
        sketch.line(STANDING, (start, HEAD - 1.0), (start, height - 1.5))
        if day % every == 0:
            _text(sketch, str(day + 1), (start, HEAD - 2.4), SOFT_INK)
    _text(sketch, "Day", (grid.left - text_width("Day") - 2.0, HEAD - 2.4), SOFT_INK)


def _draw_row(sketch: Sketch, grid: _Grid, schedule: Schedule, steps: set[int], middle: float, high: float) -> None:
    for drying in schedule.dryings:
        if drying.step in steps:
            points = (grid.x(drying.start), middle), (grid.x(drying.end), middle)
            sketch.line(VISIBLE if drying.step in schedule.critical else NARROW, *points)
            end = grid.x(drying.end)
            sketch.line(NARROW, (end, middle - 1.2), (end, middle + 1.2))
    for spell in schedule.spells:
        if spell.step in steps:
            start = grid.x((spell.day - 1) * DAY + spell.start)
            end = max(grid.x((spell.day - 1) * DAY + spell.end), start + LEAST_BAR)
            top, foot = _share(schedule, spell)
            bar = rectangle(start, middle - high / 2 + high * top, end, middle - high / 2 + high * foot)
            decides = spell.step in schedule.critical
            sketch.fill(INK if decides else WHITE, bar, name="work")
            sketch.shape(NARROW, bar)


def _share(schedule: Schedule, spell: Spell) -> tuple[float, float]:
    """From where to where of a row's height a bar reaches: all of it where one person builds, or where both work on it; else a half for each."""
    both = replace(spell, hand=1 - spell.hand) in schedule.spells
    if both or not schedule.for_two:
        return 0.0, 1.0
    return (0.0, 0.5) if spell.hand == 0 else (0.5, 1.0)


def _rows(steps: Sequence[Step]) -> list[tuple[str, list[Step]]]:
    rows: list[tuple[str, list[Step]]] = []
    for step in steps:
        if not rows or rows[-1][0] != step.stage:
            rows.append((step.stage, []))
        rows[-1][1].append(step)
    return rows


def _range(steps: Sequence[Step]) -> str:
    first, last = steps[0].number, steps[-1].number
    return str(first) if first == last else f"{first}\u2013{last}"


def _last_moment(schedule: Schedule) -> float:
    ends = [(spell.day - 1) * DAY + spell.end for spell in schedule.spells]
    return max(*ends, *(drying.end for drying in schedule.dryings), 0.0) - 1e-6


def _text(sketch: Sketch, words: str, at: Pt, color: str) -> None:
    sketch.texts.append(TextRun(words, at, LETTER, 400, color, label=sketch.new_label()))


def _alt(derived: Derived, rows: Sequence[tuple[str, list[Step]]]) -> str:
    schedule = derived.schedule
    said = ["Two at the bench."] if schedule.for_two else []
    said += [f"The work over {counted(schedule.days, 'day')} of {schedule.hours_a_day:g} hours, a row for each stage."]
    for stage, steps in rows:
        numbers = {step.number for step in steps}
        days = sorted({spell.day for spell in schedule.spells if spell.step in numbers})
        if days:
            span = f"day {days[0]}" if len(days) == 1 else f"days {days[0]} to {days[-1]}"
            said.append(f"{stage}: {span}.")
    critical = [str(number) for number in schedule.critical]
    if critical:
        said.append(f"The steps that decide the end: {listed(critical, most=60)}.")
    return " ".join(said)
