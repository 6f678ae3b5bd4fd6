"""Equilibrium moisture and the movement that follows from it."""

from __future__ import annotations

from tests.outside.published import Known, Published
from tests.outside.published.catalogue import catalogue

from drawleaf.joinery.moisture import equilibrium_moisture, movement

HANDBOOK = "USDA FPL Wood Handbook"
# Temperature in C as the table converts it from F, relative humidity, moisture content as printed.
TABLE_4_2 = (
    (-1.1, 75, 14.9),
    (21.1, 5, 1.3),
    (21.1, 10, 2.5),
    (21.1, 20, 4.5),
    (21.1, 30, 6.2),
    (21.1, 40, 7.7),
    (21.1, 50, 9.2),
    (21.1, 60, 11.0),
    (21.1, 65, 12.0),
    (21.1, 70, 13.1),
    (21.1, 75, 14.4),
    (21.1, 90, 20.5),
    (37.8, 50, 8.7),
    (37.8, 90, 19.5),
)


def _moved(what: str, args: tuple[float, float, float, float], value: float, unit: str, within: float, **source: str):
    known: Known = "read" if source["known"] == "read" else "arithmetic"
    return Published(what, value, unit, within, source["source"], source["table"], known, lambda: movement(*args))


def _mixed_grain(name: str) -> float:
    wood = catalogue().materials[name]
    return ((wood.radial or 0.0) + (wood.tangential or 0.0)) / 2


FIGURES = (
    *(
        Published(
            f"moisture that wood comes to at {celsius} °C and {humidity}% relative humidity",
            value,
            "%",
            0.06,
            HANDBOOK,
            "GTR-282 Table 4-2",
            "read",
            lambda c=celsius, h=humidity: equilibrium_moisture(c, h),
        )
        for celsius, humidity, value in TABLE_4_2
    ),
    Published(
        "moisture at 20 °C and 65%, the standard room for testing wood",
        12.0,
        "%",
        0.01,
        HANDBOOK,
        "GTR-282 eq. 4-5",
        "read",
        lambda: equilibrium_moisture(20, 65),
    ),
    Published(
        "moisture at 20 °C and 85%",
        18.0,
        "%",
        0.01,
        HANDBOOK,
        "GTR-282 eq. 4-5",
        "read",
        lambda: equilibrium_moisture(20, 85),
    ),
    _moved(
        "white fir flooring 232 mm wide, 8% to 11%",
        (232.0, 0.00245, 8, 11),
        1.7,
        "mm",
        0.05,
        source=HANDBOOK,
        table="GTR-190 ch. 13, worked example of eq. 13-2",
        known="read",
    ),
    _moved(
        "the same in inches, 9.15 in",
        (9.15, 0.00245, 8, 11),
        0.067,
        "in",
        0.0005,
        source=HANDBOOK,
        table="GTR-190 ch. 13, worked example of eq. 13-2",
        known="read",
    ),
    _moved(
        "a 5 in board with coefficient 0.00129, 3% more moisture",
        (5.0, 0.00129, 6, 9),
        0.019,
        "in",
        0.0005,
        source="National flooring trade publication A200",
        table="dimensional change example",
        known="read",
    ),
    Published(
        "red oak of mixed grain: about 1% of the width for 4% of moisture",
        1.0,
        "%",
        0.1,
        "American Wood Council, remark on the ASD/LRFD manual",
        "answer on shrinkage",
        "read",
        lambda: movement(100.0, _mixed_grain("red oak board"), 8, 12),
    ),
)
