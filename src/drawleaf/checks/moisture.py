"""Wood and the air: equilibrium moisture, and how much a board swells and shrinks."""

from __future__ import annotations

from drawleaf.model.catalogue import Material
from drawleaf.model.checks import CheckSettings

ROOM_C = 21.1

EMC_SOURCE = "equilibrium moisture: Wood Handbook FPL-GTR-282 eq. 4-5 (read in notes that quote it)"
MOVEMENT_SOURCE = f"Wood Handbook FPL-GTR-190 eq. 13-2, Table 13-5 (read in a reprint); {EMC_SOURCE}"


def equilibrium_moisture(celsius: float, humidity: float) -> float:
    """Moisture content in percent that wood comes to at a temperature and relative humidity (percent).

    Wood Handbook FPL-GTR-282, equation 4-5 with its constants for degrees Celsius.
    """
    t, h = celsius, humidity / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = k1 * kh + 2 * k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + bound / (1 + k1 * kh + k1 * k2 * kh**2))


def moisture_range(settings: CheckSettings) -> tuple[float, float]:
    """Driest and dampest moisture content, in percent, in the climate that the author named."""
    low, high = settings.humidity
    return equilibrium_moisture(ROOM_C, low), equilibrium_moisture(ROOM_C, high)


def movement(width: float, coefficient: float, start: float, end: float) -> float:
    """Change of a width between two moisture contents (percent), in the width's own unit; swelling is positive.

    Wood Handbook FPL-GTR-190, equation 13-2. It is stated for 6% to 14%.
    """
    return width * coefficient * (end - start)


def coefficient(material: Material) -> float:
    """Movement per % across the face of a board: tangential, as if it were flat-sawn throughout, which is the worst case. Zero for
    sheets, which hardly move."""
    return (material.tangential or 0.0) if material.solid else 0.0
