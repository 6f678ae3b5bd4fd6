"""Quantities as the data files of ``shared/`` write them: ``680 kg/m^3``, ``8.55 GPa``, ``12 m^2/l``.

Each name here is the type of a field: the text is read when the entry is, so that all that is wrong in an entry is reported at once, and the
field holds a plain number in the unit that is named here.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from drawleaf.units import measures
from drawleaf.units.measures import Fault, Kind, NotMeasured

NO_QUANTITY = "no_quantity"
"""The kind of the validator's error; its context has ``message``, ``cause`` and ``mend``, in which ``{key}`` stands for the key."""


def _reader(kind: Kind, unit: str, example: str | None = None) -> Callable[[Any], Any]:
    """Reads a quantity of that kind; ``unit`` is the one that a bare figure is most likely meant in."""

    def read(value: Any) -> Any:
        if not isinstance(value, str):
            return value  # the validator says what shape is wanted
        text = value.strip()
        try:
            return measures.value_of(text, kind)
        except NotMeasured as error:
            mend = f"Write it like “{{key}}: {example or kind.example}”."
            match error.fault:
                case Fault.NO_UNIT:
                    message, mend = f"“{text}” has no unit", f"Write “{{key}}: {text} {unit}”."
                case Fault.UNKNOWN_UNIT:
                    message = f"“{text}”: there is no unit “{error.detail}”"
                case Fault.OTHER_KIND if error.detail:
                    message = f"“{text}” is {error.detail}, not {kind.name}"
                case _:
                    message = f"“{text}” is not {kind.name}"
            context = {"message": message, "cause": f"“{{key}}” is {kind.name}, with its unit.", "mend": mend}
            raise PydanticCustomError(NO_QUANTITY, "{message}", context) from None

    return read


_Positive = Field(gt=0)

Density = Annotated[float, _Positive, BeforeValidator(_reader(measures.DENSITY, "kg/m^3"))]
"""Kilograms in a cubic metre."""
Stiffness = Annotated[float, _Positive, BeforeValidator(_reader(measures.STIFFNESS, "MPa"))]
"""Megapascals."""
Movement = Annotated[float, _Positive, BeforeValidator(_reader(measures.MOVEMENT, "/%"))]
"""Share of the width for each percent of moisture."""
Area = Annotated[float, _Positive, BeforeValidator(_reader(measures.AREA, "m^2"))]
"""Square metres."""
SpreadRate = Annotated[float, _Positive, BeforeValidator(_reader(measures.SPREAD, "m^2/l"))]
"""Square metres from a litre."""
Volume = Annotated[float, _Positive, BeforeValidator(_reader(measures.VOLUME, "l"))]
"""Litres."""
Minutes = Annotated[float, Field(ge=0), BeforeValidator(_reader(measures.TIME, "min"))]
"""Minutes."""
Hours = Annotated[float, _Positive, BeforeValidator(_reader(measures.WAIT, "h"))]
"""Hours."""
Percent = Annotated[float, Field(ge=0, le=200), BeforeValidator(_reader(measures.SHARE, "%"))]
"""Percent."""
