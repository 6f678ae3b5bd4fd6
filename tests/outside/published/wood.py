"""Species and panels: weight, stiffness, movement."""

from __future__ import annotations

from tests.outside.published import Known, Published
from tests.outside.published.catalogue import catalogue

HANDBOOK = "USDA FPL Wood Handbook"
# Material, handbook row, specific gravity at 12%, stiffness in MPa with its table, CR and CT with how they are known.
SPECIES: tuple[tuple[str, str, float, float, str, float, float, Known], ...] = (
    ("red oak board", "northern red oak", 0.63, 12500, "GTR-282 Table 5-3a", 0.00158, 0.00369, "read"),
    ("white oak board", "white oak", 0.68, 12300, "GTR-282 Table 5-3a", 0.00180, 0.00365, "read"),
    ("maple board", "sugar maple", 0.63, 12600, "GTR-282 Table 5-3a", 0.00165, 0.00353, "read"),
    ("poplar board", "yellow-poplar", 0.42, 10900, "GTR-282 Table 5-3a", 0.00158, 0.00289, "memory"),
    ("beech board", "American beech", 0.64, 11900, "GTR-282 Table 5-3a", 0.00190, 0.00431, "read"),
    ("construction lumber", "coast Douglas-fir", 0.48, 13400, "GTR-282 Table 5-3a", 0.00165, 0.00267, "memory"),
)


def _species() -> list[Published]:
    found = []
    for material, row, gravity, stiffness, table, radial, tangential, known in SPECIES:

        def read(key: str, name: str = material) -> float:
            return float(getattr(catalogue().materials[name], key) or 0.0)

        # Density at 12%: G x 1.12, equation 4-7.
        found += [
            Published(
                f"{row}: weight at 12% moisture",
                gravity * 1120,
                "kg/m3",
                3.0,
                HANDBOOK,
                "GTR-282 Table 5-3b, eq. 4-7",
                "read",
                lambda r=read: r("density"),
            ),
            Published(
                f"{row}: stiffness", stiffness, "MPa", 1.0, HANDBOOK, table, "read", lambda r=read: r("stiffness")
            ),
            Published(
                f"{row}: movement across quarter-sawn wood, per %",
                radial,
                "1/%",
                5e-6,
                HANDBOOK,
                "GTR-190 Table 13-5 (CR)",
                known,
                lambda r=read: r("radial"),
            ),
            Published(
                f"{row}: movement across flat-sawn wood, per %",
                tangential,
                "1/%",
                5e-6,
                HANDBOOK,
                "GTR-190 Table 13-5 (CT)",
                known,
                lambda r=read: r("tangential"),
            ),
        ]
    return found


def _stiffness(name: str) -> float:
    return catalogue().materials[name].stiffness or 0.0


FIGURES = (
    *_species(),
    Published(
        "pine boards: stiffness of eastern white pine, the least stiff that a store sells as pine (1.24 million psi)",
        8550,
        "MPa",
        20,
        HANDBOOK,
        "GTR-282 Table 5-3b",
        "read",
        lambda: _stiffness("pine board"),
    ),
    Published(
        "pine boards: movement of ponderosa, the more lively of the pines sold",
        0.00216,
        "1/%",
        5e-6,
        HANDBOOK,
        "GTR-190 Table 13-5",
        "memory",
        lambda: catalogue().materials["pine board"].tangential or 0.0,
    ),
    Published(
        "birch plywood: upper end of the range for plywood",
        8550,
        "MPa",
        1,
        HANDBOOK,
        "GTR-190 Table 12-1",
        "read",
        lambda: _stiffness("birch plywood"),
    ),
    Published(
        "fir plywood: 950,000 psi",
        6550,
        "MPa",
        1,
        "Architectural Woodwork Standards, ed. 1 (2009)",
        "4.4.14.10",
        "read",
        lambda: _stiffness("fir plywood"),
    ),
    Published(
        "MDF over 12 to 19 mm, dry: least stiffness",
        2200,
        "MPa",
        0.5,
        "EN 622-5:2009",
        "Table 3",
        "memory",
        lambda: _stiffness("MDF"),
    ),
)
