"""Checks in plain text, for the command line; and the units that a quantity is printed in, for every reader."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from drawleaf.model.checks import CheckResult, Fine, Quantity, Sentence, Value
from drawleaf.units import Length, LengthFormat, Units, round_to, trimmed
from drawleaf.units.measures import convert

# Each kind: the unit of its values, the inch booklet's unit and the words for it, the metric one's. Loads are printed as weights.
_UNITS: dict[str, tuple[str, tuple[str, str], tuple[str, str]]] = {
    "mass": ("kg", ("lb", "lb"), ("kg", "kg")),
    "force": ("N", ("lbf", "lb"), ("kgf", "kg")),
    "area load": ("N/m^2", ("lbf/ft^2", "lb/sq ft"), ("kgf/m^2", "kg/m²")),
    "line load": ("N/m", ("lbf/ft", "lb/ft"), ("kgf/m", "kg/m")),
}
_BARE = {"percent": "%", "factor": "×", "degrees": "°"}
_CLOSE = ("%", "×", "°")


def quantity(value: Quantity, form: LengthFormat) -> str:
    """A quantity in the booklet's units: ``50 lb/sq ft``, ``4.8%``, or both with the second in brackets."""
    if value.kind in _BARE:
        return _figure(value.value, _BARE[value.kind])
    unit, *shown_in = _UNITS[value.kind]
    inch, metric = (_figure(convert(value.value, unit, to), words) for to, words in shown_in)
    if form.units is Units.INCH:
        return inch
    return metric if form.units is Units.MM else f"{inch} ({metric})"


def fine(value: Fine, form: LengthFormat) -> str:
    """A small length as a decimal: two places in inches, one in millimetres."""
    inch = _decimal(value.length.inches, 2, "in")
    metric = _decimal(value.length.exact_mm, 1, "mm")
    if form.units is Units.INCH:
        return inch
    return metric if form.units is Units.MM else f"{inch} ({metric})"


def _decimal(number: Fraction, places: int, unit: str) -> str:
    step = Fraction(1, 10**places)
    rounded = round_to(number, step)
    if not rounded and number:
        return f"under {float(step):.{places}f} {unit}"
    return f"{float(rounded):.{places}f} {unit}"


def _figure(number: float, unit: str) -> str:
    places = 0 if abs(number) >= 20 else 2 if unit == "×" else 1
    text = trimmed(number, places)
    return f"{text}{unit}" if unit in _CLOSE else f"{text} {unit}"


def shown(value: Value, form: LengthFormat) -> str:
    """Any value of a check as text."""
    match value:
        case Length():
            return form.text(value)
        case Fine():
            return fine(value, form)
        case Quantity():
            return quantity(value, form)
        case _:
            return str(value)


def said(sentence: Sentence, show: Callable[[Value], str]) -> str:
    """A sentence with its figures."""
    return sentence.template.format(**{name: show(value) for name, value in sentence.values})


def plain(sentence: Sentence, form: LengthFormat) -> str:
    """A sentence as plain text in these units."""
    return said(sentence, lambda value: shown(value, form))


def report_line(result: CheckResult, form: LengthFormat) -> str:
    """One line for the command line: verdict, what was checked, what was found, and why the author accepts it."""
    verdict = "waived" if result.waived else result.verdict.value
    reason = f" Accepted: {result.waived}" if result.waived else ""
    return f"{verdict:7} {result.title}: {plain(result.words, form)}{reason}"
