"""Nothing is named that is not there, and nothing is there that nobody names."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from fuzz.outputs_reader.outputs import Outputs


def _twice(names: Iterable) -> list:
    return [name for name, count in Counter(names).items() if count > 1]


def ids_are_unique(outputs: Outputs) -> Iterator[str]:
    plan = outputs.plan
    for what, names in (
        ("part", [one["id"] for one in plan["parts"]]),
        ("joint", [one["id"] for one in plan["joints"]]),
        ("fitting", [one["id"] for one in plan["hardware_places"]]),
        ("step", [one["id"] for one in plan["steps"]]),
        ("operation", [one["id"] for step in plan["steps"] for one in step["operations"]]),
        ("row of the cut list", [one["item"] for one in plan["cut_list"]]),
        ("hardware", [one["item"] for one in plan["hardware"]]),
        ("tool", [one["tool"] for one in plan["tools"]]),
    ):
        yield from (f"{what} “{name}” stands twice" for name in _twice(names))


def parts_that_are_named_exist(outputs: Outputs) -> Iterator[str]:
    plan, parts = outputs.plan, outputs.parts
    named = [
        *((f"joint {one['id']}", [one["part"], one["into"]]) for one in plan["joints"]),
        *(
            (f"a fastener of {one['id']}", [by["through"], by["into"]])
            for one in plan["joints"]
            for by in one["driven"]
        ),
        *((f"fitting {one['id']}", one["parts"]) for one in plan["hardware_places"]),
        *((f"step {one['number']}", one["parts"]) for one in plan["steps"]),
        *((f"operation {by['id']}", by["parts"]) for one in plan["steps"] for by in one["operations"]),
        *((f"check {one['check']}", one["parts"]) for one in plan["checks"]),
        *((f"check {one['check']}", one["fit_to_opening"]) for one in plan["checks"]),
        *((f"layout {one['number']}", [by["part"] for by in one["placed"]]) for one in outputs.layouts),
    ]
    for where, names in named:
        yield from (f"{where} names part “{name}”" for name in names if name not in parts)


def every_part_has_work(outputs: Outputs) -> Iterator[str]:
    worked = {part for step in outputs.plan["steps"] for part in step["parts"]}
    yield from (f"no step has part “{part}”" for part in outputs.parts if part not in worked)


def steps_that_are_named_exist(outputs: Outputs) -> Iterator[str]:
    numbers = {step["number"] for step in outputs.plan["steps"]}
    ids = {step["id"] for step in outputs.plan["steps"]}
    for tool in outputs.plan["tools"]:
        yield from (f"tool “{tool['tool']}” is for step {number}" for number in tool["steps"] if number not in numbers)
    for check in outputs.plan["checks"]:
        yield from (f"check {check['check']} names step “{name}”" for name in check["steps"] if name not in ids)


def what_a_step_uses_is_on_a_list(outputs: Outputs) -> Iterator[str]:
    plan = outputs.plan
    hardware = {row["item"] for row in plan["hardware"]}
    tools = {row["tool"]: set(row["steps"]) for row in plan["tools"]}
    supplies = {row["item"] for row in plan["consumables"]} | {row["product"] for row in plan["finishes"]}
    for step in plan["steps"]:
        where = f"step {step['number']}"
        yield from (f"{where} uses “{one['item']}”" for one in step["hardware"] if one["item"] not in hardware)
        yield from (f"{where} uses up “{one}”" for one in step["supplies"] if one not in supplies)
        yield from (f"{where} takes up “{one}”" for one in step["tools"] if step["number"] not in tools.get(one, ()))
    used = {(number, tool) for tool, steps in tools.items() for number in steps}
    known = {(step["number"], tool) for step in plan["steps"] for tool in step["tools"]}
    yield from (f"“{tool}” is listed for step {number}, which does without" for number, tool in sorted(used - known))


def what_is_bought_is_used(outputs: Outputs) -> Iterator[str]:
    """Each piece of hardware goes in in some step, as many as the list counts."""
    used: Counter[str] = Counter()
    for step in outputs.plan["steps"]:
        used.update({one["item"]: one["count"] for one in step["hardware"]})
    for row in outputs.plan["hardware"]:
        if used[row["item"]] != row["count"]:
            yield f"{row['count']} of “{row['item']}” are bought, and the steps use {used[row['item']]}"


RULES = (
    ids_are_unique,
    parts_that_are_named_exist,
    every_part_has_work,
    steps_that_are_named_exist,
    what_a_step_uses_is_on_a_list,
    what_is_bought_is_used,
)
