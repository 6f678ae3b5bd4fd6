"""What every kind of settings is: named values, and none where there is nothing to set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from fractions import Fraction

from drawleaf.units import Length

Value = Length | Fraction | int | str | bool


@dataclass(frozen=True, slots=True)
class Settings:
    """No settings; every other kind adds its own. Angles are in degrees, counts are whole numbers."""

    def named(self) -> Iterator[tuple[str, Value]]:
        """Each setting that there is, with its name: ``("strip width", 2-1/4 in)``."""
        for one in fields(self):
            value = getattr(self, one.name)
            if value is not None:
                yield one.name.replace("_", " "), value


NO_SETTINGS = Settings()
