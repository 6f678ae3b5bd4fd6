"""No figure that is none: lengths that are nothing or less, decimals that are not their fraction, dates of no calendar."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from typing import Any

from fuzz.outputs_reader.outputs import Outputs

POSITIVE = {"length", "width", "thickness", "diameter", "shank"}
COUNTS = {"quantity", "count", "packs", "coats", "days", "number", "item", "order"}
NOT_BELOW_ZERO = {
    "minutes",
    "wait_hours",
    "active_hours",
    "waiting_hours",
    "area_m2",
    "litres",
    "buy",
    "unpriced",
    "fasteners",
    "depth",
}
HUGE = 1e7
LEAK = re.compile(r"Fraction\(|Length\(|object at 0x|<class |\bTraceback\b|\{\{|\{%")


def _walk(value: Any, key: str = "", path: str = "") -> Iterator[tuple[str, str, Any]]:
    yield key, path, value
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from _walk(inner, name, f"{path}.{name}")
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            yield from _walk(inner, key, f"{path}[{at}]")


def decimals_are_their_fractions(outputs: Outputs) -> Iterator[str]:
    for _, path, value in _walk(outputs.plan):
        if isinstance(value, dict) and "exact" in value:
            whole = Fraction(value["exact"])
            shown, slack = (value["mm"], 1e-4) if "mm" in value else (value["value"], 1e-6)
            if abs(Fraction(shown) - whole) > slack:
                yield f"{path} is {value['exact']}, and told as {shown}"


def sizes_are_sizes(outputs: Outputs) -> Iterator[str]:
    for key, path, value in _walk(outputs.plan):
        if "settings" in path or "checks" in path:
            continue
        if isinstance(value, dict) and "exact" in value:
            least = Fraction(value["exact"])
            if key in POSITIVE and least <= 0 and not (key == "width" and ".joints" in path):
                yield f"{path} is {value['exact']}"
            if least < 0 and key in NOT_BELOW_ZERO:
                yield f"{path} is {value['exact']}"
            if abs(least) > HUGE:
                yield f"{path} is {value['exact']} mm"
        elif isinstance(value, float) and not math.isfinite(value):
            yield f"{path} is {value}"


def counts_are_counts(outputs: Outputs) -> Iterator[str]:
    """At least one of everything; of a pair of slides the second is counted with the first."""
    pairs = {one["item"] for one in outputs.plan["hardware_places"] if one["count"]}
    for key, path, value in _walk(
        {
            **outputs.plan,
            "hardware_places": [
                one for one in outputs.plan["hardware_places"] if one["count"] or one["item"] not in pairs
            ],
        }
    ):
        if "settings" in path or "checks" in path or isinstance(value, bool):
            continue
        if key in COUNTS and isinstance(value, int | float) and (value < 1 or value != int(value)):
            yield f"{path} is {value}"
        if key in NOT_BELOW_ZERO and isinstance(value, int | float) and value < 0:
            yield f"{path} is {value}"


def words_are_words(outputs: Outputs) -> Iterator[str]:
    for _, path, value in _walk(outputs.plan):
        if isinstance(value, str) and LEAK.search(value) and not path.startswith((".plan", ".cut_list")):
            yield f"{path} reads “{value[:60]}”"
        if isinstance(value, str) and path.endswith((".name", ".title")) and not value.strip():
            yield f"{path} is empty"


def dates_are_in_the_calendar(outputs: Outputs) -> Iterator[str]:
    for path, written in (("date", outputs.plan["plan"]["date"]), ("prices_of", outputs.plan["shopping"]["prices_of"])):
        try:
            when = date.fromisoformat(written if len(written) > 7 else f"{written}-01")
        except ValueError:
            yield f"{path} is “{written}”"
        else:
            if not 1900 < when.year < 2200:
                yield f"{path} is “{written}”"


def the_whole_is_as_large_as_its_parts(outputs: Outputs) -> Iterator[str]:
    """Width, depth and height hold every part that stands straight; the mass is that of wood."""
    whole = outputs.plan["overall_mm"]
    upright = [part for part in outputs.plan["parts"] if not part["leans"]]
    for axis, size in zip("xyz", whole, strict=True):
        if size <= 0:
            yield f"the piece is {size} along {axis}"
        if (
            upright
            and max(part["body"][axis][1]["mm"] for part in upright)
            - min(part["body"][axis][0]["mm"] for part in upright)
            > size + 0.1
        ):
            yield f"the piece is {size} along {axis}, and its parts reach further"
    volume = (
        sum(part["length"]["mm"] * part["width"]["mm"] * part["thickness"]["mm"] for part in outputs.plan["parts"])
        / 1e9
    )
    hardware = sum(row["count"] for row in outputs.plan["hardware"]) * 5
    if not volume * 20 <= outputs.plan["mass_kg"] + 0.001 or outputs.plan["mass_kg"] > volume * 1400 + hardware + 0.001:
        yield f"{outputs.plan['mass_kg']} kg for {volume:.6f} cubic metres"


RULES = (
    decimals_are_their_fractions,
    sizes_are_sizes,
    counts_are_counts,
    words_are_words,
    dates_are_in_the_calendar,
    the_whole_is_as_large_as_its_parts,
)
