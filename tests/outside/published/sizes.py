"""Dressed sizes of boards, thickness of sheets, board feet, units."""

from __future__ import annotations

from fractions import Fraction

from tests.outside.published import Published
from tests.outside.published.catalogue import catalogue

from drawleaf.derive.layout.boards import _board_feet
from drawleaf.model.catalogue import Stock
from drawleaf.model.lists import BoardLayout
from drawleaf.units import MM_PER_INCH, Length

PS20 = "PS 20 American Softwood Lumber Standard"
# Nominal width of a board or of dimension lumber, and its dressed dry width in inches.
BOARDS = (
    ("1x2", 1.5),
    ("1x3", 2.5),
    ("1x4", 3.5),
    ("1x5", 4.5),
    ("1x6", 5.5),
    ("1x8", 7.25),
    ("1x10", 9.25),
    ("1x12", 11.25),
)
LUMBER = (("2x2", 1.5), ("2x4", 3.5), ("2x6", 5.5), ("2x8", 7.25), ("2x10", 9.25), ("2x12", 11.25), ("4x4", 3.5))
# Performance category with the band that PS 1 leaves for its thickness, in inches.
PLYWOOD = (("15/32", "1/2", 0.438, 0.500), ("23/32", "3/4", 0.688, 0.750), ("11/32", "3/8", 0.313, 0.375))
# Nominal mm of sanded birch plywood with the band that EN 315 leaves.
BIRCH = ((12, 11.3, 12.5), (9, 8.5, 9.4), (18, 17.1, 18.7))


def board(material: str, name: str) -> tuple[float, float]:
    """Dressed thickness and width in inches as the catalogue has it."""
    found = next(size for size in catalogue().materials[material].boards if size.name == name)
    return float(found.thickness.inches), float(found.width.inches)


def actual(material: str, nominal: Length) -> Length:
    return catalogue().materials[material].usual_thickness(nominal)


def _inches(text: str) -> Length:
    return Length.of_inches(Fraction(text))


FIGURES = (
    *(
        Published(
            f"width of a dressed {name}",
            width,
            "in",
            0.0,
            PS20,
            "Table 3, dry",
            "read",
            lambda n=name: board("pine board", n)[1],
        )
        for name, width in BOARDS
    ),
    *(
        Published(
            f"width of a dressed {name}",
            width,
            "in",
            0.0,
            PS20,
            "Table 3, dry",
            "read",
            lambda n=name: board("construction lumber", n)[1],
        )
        for name, width in LUMBER
    ),
    Published(
        "thickness of a dressed 1 in board",
        0.75,
        "in",
        0.0,
        PS20,
        "Table 3, dry",
        "read",
        lambda: board("pine board", "1x4")[0],
    ),
    Published(
        "thickness of dressed 2 in lumber",
        1.5,
        "in",
        0.0,
        PS20,
        "Table 3, dry",
        "read",
        lambda: board("construction lumber", "2x4")[0],
    ),
    Published(
        "thickness of a 4/4 hardwood board as most yards dress it",
        0.75,
        "in",
        0.0,
        "Hardwood yard's size chart",
        "4/4, S4S",
        "read",
        lambda: board("red oak board", "1x4")[0],
    ),
    *(
        Published(
            f"fir plywood sold as {label} in: within the band of performance category {category}",
            (low + high) / 2,
            "in",
            (high - low) / 2 + 0.0005,
            "PS 1 (2019)",
            "thickness by performance category",
            "read",
            lambda n=label: float(actual("fir plywood", _inches(n)).inches),
        )
        for category, label, low, high in PLYWOOD
    ),
    *(
        Published(
            f"birch plywood of {nominal} mm: within the sanded tolerance",
            (low + high) / 2,
            "mm",
            (high - low) / 2,
            "EN 315",
            "sanded panels, as a producer declares",
            "read",
            lambda n=nominal: actual("birch plywood", Length.of_mm(n)).mm,
        )
        for nominal, low, high in BIRCH
    ),
    Published(
        "birch plywood of 3/4 in: under its label by no more than 3/64",
        0.75 - 3 / 128,
        "in",
        3 / 128,
        "ANSI/HPVA HP-1",
        "thickness tolerance",
        "memory",
        lambda: float(actual("birch plywood", _inches("3/4")).inches),
    ),
    Published(
        "an inch", 25.4, "mm", 0.0, "NIST Special Publication 811", "appendix B", "read", lambda: float(MM_PER_INCH)
    ),
    Published(
        "board feet of 1 in × 12 in × 10 ft",
        10,
        "bd ft",
        0.0,
        "Timber yard's glossary",
        "board foot",
        "read",
        lambda: board_feet("pine board", "1x12", 120),
    ),
    Published(
        "board feet of a 2x4, 8 ft long: nominal sizes count",
        16 / 3,
        "bd ft",
        1e-9,
        "NIST Handbook 130",
        "softwood lumber",
        "memory",
        lambda: board_feet("construction lumber", "2x4", 96),
    ),
)


def board_feet(material: str, name: str, long: int) -> float:
    """Board feet that the lists count for one board of a nominal section."""
    wood = catalogue().materials[material]
    size = next(size for size in wood.boards if size.name == name)
    stock = Stock("wood", name, wood, name, size.thickness, size.width, (), wood.boards)
    board = BoardLayout(1, stock, size, Length.of_inches(long), (), (), (), Fraction(0))
    return float(_board_feet([board]) or 0)
