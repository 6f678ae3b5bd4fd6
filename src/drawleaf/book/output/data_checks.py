"""What the workshop checks found, as data for ``plan.json``."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from drawleaf.checks.plain import plain
from drawleaf.model.checks import CheckResult, Fine, Quantity, Value
from drawleaf.units import Length, LengthFormat

UNITS = {
    "mass": "kg",
    "force": "N",
    "area load": "N/m2",
    "line load": "N/m",
    "percent": "%",
    "factor": "1",
    "degrees": "deg",
}
"""What a quantity of each kind counts in the data, whatever the booklet prints."""
PLACES = 4


def check_data(result: CheckResult, form: LengthFormat, length: Callable[[Length], Any]) -> dict[str, Any]:
    """One finding. Its words are in the plan's units, its figures as everywhere in the data; ``length`` writes a length."""
    return {
        "check": result.check, "title": result.title, "verdict": result.verdict.value, "what": result.what,
        "parts": list(result.parts), "words": plain(result.words, form), "held_against": plain(result.limit, form),
        "remedy": plain(result.remedy, form), "waived": result.waived, "source": result.source,
        "steps": list(result.steps), "caution": result.caution or None, "fit_to_opening": list(result.fit),
        "figures": [{"name": one.name, "value": _figure(one.value, length)} for one in result.figures],
    }  # fmt: skip


def _figure(value: Value, length: Callable[[Length], Any]) -> Any:
    match value:
        case Length():
            return length(value)
        case Fine():
            return length(value.length)
        case Quantity():
            # Adding nothing turns a negative zero into zero.
            return {"value": round(value.value, PLACES) + 0.0, "unit": UNITS[value.kind]}
        case _:
            return value
