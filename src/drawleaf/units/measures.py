"""Quantities that are no lengths: densities, stiffness, forces, loads, areas, volumes, spread rates. All through Pint.

One registry with exact fractions, made on first use: importing Pint takes a fifth of a second, which ``--help`` need not spend. Values
leave this module as plain numbers in the unit of their kind, never as a Pint quantity: that could not be compared or sent to another
process safely. Authors' lengths have a reader of their own (``source.expressions``), as Pint misreads ``16 1/2 in``.
"""

from __future__ import annotations

import re
import sys
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, overload

from drawleaf.units.definitions import DEFINITIONS

if TYPE_CHECKING:
    from pint import UnitRegistry
    from pint.facets.plain import PlainUnit


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: its name in a sentence, the unit that its values are given in, and one as an author may write it."""

    name: str
    unit: str
    example: str


MASS = Kind("a mass", "kg", "25 kg")
FORCE = Kind("a force", "N", "50 lbf")
LINE_LOAD = Kind("a load on each length", "N/m", "35 lbf/ft")
AREA_LOAD = Kind("a load on each area", "N/m^2", "40 lbf/ft^2")
MASS_ON_LENGTH = Kind("a mass on each length", "kg/m", "60 kg/m")
MASS_ON_AREA = Kind("a mass on each area", "kg/m^2", "200 kg/m^2")
DENSITY = Kind("a density", "kg/m^3", "680 kg/m^3")
STIFFNESS = Kind("a stiffness", "MPa", "8.55 GPa")
AREA = Kind("an area", "m^2", "1.4 m^2")
VOLUME = Kind("a volume", "l", "473 ml")
SPREAD = Kind("a spread rate", "m^2/l", "12 m^2/l")
TIME = Kind("a time", "min", "8 min")
WAIT = Kind("a time", "h", "12 h")
SHARE = Kind("a share", "%", "30 %")
MOVEMENT = Kind("a movement for each percent of moisture", "1/%", "0.0034 /%")
LENGTH = Kind("a length", "mm", "18 mm")
KINDS = (
    LENGTH, AREA, VOLUME, MASS, TIME, FORCE, DENSITY, LINE_LOAD, STIFFNESS, MASS_ON_LENGTH, MASS_ON_AREA, SPREAD, SHARE, MOVEMENT
)  # fmt: skip
"""All kinds, those first that give a dimension its name in messages."""


class Fault(Enum):
    """Why a text is no quantity of the kind that is wanted."""

    NO_FIGURE = "no figure"
    NO_UNIT = "no unit"
    UNKNOWN_UNIT = "unknown unit"
    OTHER_KIND = "another kind"


class NotMeasured(ValueError):  # noqa: N818 - no fault of the program: it becomes a diagnostic
    """A text that is no quantity of the wanted kind. ``detail`` is the unknown unit, or what the quantity is instead."""

    def __init__(self, fault: Fault, detail: str = "") -> None:
        super().__init__(f"{fault.value} {detail}".strip())
        self.fault, self.detail = fault, detail


_NUMBER = r"(?P<number>\d{1,9}(?:\.\d{1,9})?)"
_POWER = r"(?:\*\*|\^)?[23]|[²³]"
_UNIT = rf"(?:sq |cu )?(?:[A-Za-z][a-z_A-Z]{{0,15}}|%)(?:{_POWER})?"
_WRITTEN = re.compile(rf"{_NUMBER}\s*(?P<unit>(?:/\s*)?{_UNIT}(?:\s*[/*·]\s*{_UNIT}){{0,2}})")
_BARE = re.compile(_NUMBER)
_FLUID_OUNCE = re.compile(r"\bfl\.? oz\b")
_RAISED = re.compile(rf"(sq |cu )?([A-Za-z_]+|%)({_POWER})?")


@lru_cache(maxsize=1024)
def measured(text: str, *kinds: Kind) -> tuple[Kind, Fraction]:
    """The quantity that ``text`` states, such as ``680 kg/m^3``: which of ``kinds`` it is, and its exact value in that kind's unit.

    Raises NotMeasured.
    """
    match = _WRITTEN.fullmatch(_FLUID_OUNCE.sub("fl_oz", text.strip()))
    if match is None:
        raise NotMeasured(Fault.NO_UNIT if _BARE.fullmatch(text.strip()) else Fault.NO_FIGURE)
    unit = _unit(_as_pint_writes(match["unit"]))
    for kind in kinds:
        if unit.dimensionality == _unit(kind.unit).dimensionality:
            return kind, _registry().Quantity(Fraction(match["number"]), unit).to(kind.unit).magnitude
    raise NotMeasured(Fault.OTHER_KIND, _name_of(unit))


def value_of(text: str, kind: Kind) -> float:
    """The quantity of that kind that ``text`` states, in the kind's unit. Raises NotMeasured."""
    return float(measured(text, kind)[1])


@cache
def factor(unit: str, to: str) -> Fraction:
    """How many of ``to`` one ``unit`` is, exactly: ``factor("lb", "kg")``. Both are units of ours, of one dimension."""
    return _registry().Quantity(Fraction(1), _unit(unit)).to(_unit(to)).magnitude


@overload
def convert(value: float, unit: str, to: str) -> float: ...
@overload
def convert(value: Fraction, unit: str, to: str) -> Fraction: ...
def convert(value: float | Fraction, unit: str, to: str) -> float | Fraction:
    """A value given in ``unit``, in the unit ``to``; exact where it is a fraction."""
    return value * factor(unit, to) if isinstance(value, Fraction) else value * float(factor(unit, to))


def _as_pint_writes(unit: str) -> str:
    """A unit with its powers and percent signs as Pint reads them: ``lb/ft2`` becomes ``lb/ft**2``, ``/%`` becomes ``1/percent``."""

    def raised(match: re.Match[str]) -> str:
        word, name, power = match.groups()
        name = "percent" if name == "%" else name
        exponent = {"sq ": "2", "cu ": "3"}.get(word or "", "")
        if power:
            exponent = {"²": "2", "³": "3"}.get(power[-1], power[-1])
        return f"{name}**{exponent}" if exponent else name

    text = _RAISED.sub(raised, unit).replace("·", "*")
    return f"1{text}" if text.startswith("/") else text


@cache
def _unit(text: str) -> PlainUnit:
    """Raises NotMeasured for a unit that is not defined."""
    try:
        return _registry().parse_units(text.replace("%", "percent"))
    except _pint().UndefinedUnitError as error:
        names = error.unit_names
        raise NotMeasured(Fault.UNKNOWN_UNIT, names if isinstance(names, str) else next(iter(names))) from None


def _name_of(unit: PlainUnit) -> str:
    """What quantities in that unit are, empty where no kind of ours has its dimension."""
    return next((kind.name for kind in KINDS if _unit(kind.unit).dimensionality == unit.dimensionality), "")


@cache
def _pint() -> Any:
    """Pint without dask: where that is installed Pint imports it and all that it needs, a tenth of a second more for arrays that no quantity
    of ours is."""
    hidden = "dask" not in sys.modules
    if hidden:
        sys.modules["dask"] = None  # type: ignore[assignment]
    try:
        import pint
    finally:
        if hidden:
            del sys.modules["dask"]
    return pint


@cache
def _registry() -> UnitRegistry:
    # Its annotations know neither a registry without Pint's own file nor exact fractions.
    make: Any = _pint().UnitRegistry
    registry = make(None, non_int_type=Fraction, case_sensitive=False)
    for line in DEFINITIONS.splitlines():
        if line:
            registry.define(line)
    return registry
