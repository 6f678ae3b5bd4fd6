"""How many hinges a door asks for, by its height and its weight: common practice, no source."""

from __future__ import annotations

BY_HEIGHT_MM = ((1000, 2), (1500, 3), (2000, 4))
BY_MASS_KG = ((7.0, 2), (13.0, 3), (18.0, 4))
MOST = 5


def usual_hinges(height_mm: float, mass_kg: float = 0.0) -> int:
    """The number that a door so high and so heavy hangs on: two up to 1 m and 7 kg, one more for each further step."""
    by_height = next((count for limit, count in BY_HEIGHT_MM if height_mm <= limit), MOST)
    by_mass = next((count for limit, count in BY_MASS_KG if mass_kg <= limit), MOST)
    return max(by_height, by_mass)
