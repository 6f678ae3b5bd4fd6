"""Hours are the sum of the steps', work comes after what it waits for, and only what dries keeps anyone waiting."""

from __future__ import annotations

from collections.abc import Iterator

from fuzz.outputs_reader.outputs import Outputs

LONGEST_WAIT_HOURS = 24 * 14
LONGEST_STEP_MINUTES = 60 * 60
DRIES = ("glue", "filler", "epoxy", "cement", "paint", "stain", "wax", "primer")
"""In the names of consumables that are wet at first."""
ROUNDED = 0.006
"""Minutes and hours are told to two places."""


def steps_are_numbered(outputs: Outputs) -> Iterator[str]:
    numbers = [step["number"] for step in outputs.plan["steps"]]
    if not numbers:
        yield "there are no steps"
    if numbers != list(range(1, len(numbers) + 1)):
        yield f"the steps are numbered {numbers}"


def a_step_takes_as_long_as_its_operations(outputs: Outputs) -> Iterator[str]:
    for step in outputs.plan["steps"]:
        work = step["operations"]
        where = f"step {step['number']}"
        if not work:
            yield f"{where} has no operation"
            continue
        if abs(step["minutes"] - sum(one["minutes"] for one in work)) > ROUNDED * (len(work) + 1):
            yield f"{where} takes {step['minutes']} minutes, its operations {sum(one['minutes'] for one in work)}"
        if abs(step["wait_hours"] - max(one["wait_hours"] for one in work)) > ROUNDED:
            yield f"{where} waits {step['wait_hours']} hours, its operations {[one['wait_hours'] for one in work]}"
        if step["minutes"] > LONGEST_STEP_MINUTES:
            yield f"{where} takes {step['minutes']} minutes"


def hours_are_the_sum_of_the_steps(outputs: Outputs) -> Iterator[str]:
    schedule, steps = outputs.plan["schedule"], outputs.plan["steps"]
    minutes, waits = sum(step["minutes"] for step in steps), sum(step["wait_hours"] for step in steps)
    if abs(schedule["active_hours"] * 60 - minutes) > ROUNDED * (len(steps) + 10):
        yield f"{schedule['active_hours']} hours of work, the steps have {minutes} minutes"
    if schedule["waiting_hours"] > waits + ROUNDED * (len(steps) + 1):
        yield f"{schedule['waiting_hours']} hours of waiting, the steps have {waits}"
    days = schedule["days"]
    if days < 1 or days > schedule["active_hours"] / 0.5 + waits / 6 + len(steps) + 2:
        yield f"{days} days for {schedule['active_hours']} hours of work and {waits} of waiting"


def only_what_dries_is_waited_for(outputs: Outputs) -> Iterator[str]:
    """A step that is waited for uses what dries, or closes work in which a step since the last wait did."""
    finishes, wet = {row["product"] for row in outputs.plan["finishes"]}, False
    for step in outputs.plan["steps"]:
        wet = wet or any(one in finishes or any(word in one for word in DRIES) for one in step["supplies"])
        if step["wait_hours"] and not wet:
            yield f"step {step['number']} waits {step['wait_hours']} hours and nothing dries"
        if step["wait_hours"] > LONGEST_WAIT_HOURS:
            yield f"step {step['number']} waits {step['wait_hours']} hours"
        if step["wait_hours"]:
            wet = False


def work_comes_after_what_it_needs(outputs: Outputs) -> Iterator[str]:
    done: set[str] = set()
    for step in outputs.plan["steps"]:
        own = {one["id"] for one in step["operations"]}
        for one in step["operations"]:
            late = [name for name in one["after"] if name not in done | own or name == one["id"]]
            if late:
                yield f"step {step['number']}: {one['id']} comes before {', '.join(late)}"
        done |= own


RULES = (
    steps_are_numbered,
    a_step_takes_as_long_as_its_operations,
    hours_are_the_sum_of_the_steps,
    only_what_dries_is_waited_for,
    work_comes_after_what_it_needs,
)
