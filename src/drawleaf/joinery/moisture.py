"""Wood and the air: equilibrium moisture, and how much a board swells and shrinks."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.catalogue import Material
from drawleaf.model.checks import CheckSettings
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.units import ZERO, Length

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


def change_over(distance: Length, material: Material, settings: CheckSettings) -> Length:
    """How much that much wood across the grain grows from the driest to the dampest weeks of the climate that the author named; zero
    for sheets. To a thousandth of a millimetre. The ``distance`` is from where the wood is held fast to where it must be free to slide:
    half the width of a table top fixed along its middle, all of it where it is fixed along one edge."""
    dry, damp = moisture_range(settings)
    grown = movement(distance.mm, coefficient(material), dry, damp)
    return Length(Fraction(round(grown * 1000), 1000))


def seasonal_change(part: Part, settings: CheckSettings, axis: Axis | None = None) -> Length:
    """How much a part grows along an axis from the driest to the dampest weeks; across its width where no axis is given.

    Zero along the grain, for sheets, and for solid wood whose grain the plan leaves open. For a top against a breadboard end or
    against its fasteners, a panel in grooves, a door in its frame: the room in all must be no less than this, and a slot as long as
    ``change_over`` its own distance from where the wood is held."""
    along = part.width_axis if axis is None else axis
    if part.grain is None or along is part.grain:
        return ZERO
    return change_over(part.body.extent(along), part.stock.material, settings)
