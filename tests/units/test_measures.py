"""Quantities that are no lengths: exact factors, what may be written, and what is refused."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pytest
from pint import UnitRegistry

from drawleaf.resolve.checking import NAMED_LOADS
from drawleaf.source.library_lengths import literal_length
from drawleaf.units import Length
from drawleaf.units.measures import (
    AREA,
    AREA_LOAD,
    DENSITY,
    FORCE,
    KINDS,
    LINE_LOAD,
    MASS,
    MOVEMENT,
    SHARE,
    SPREAD,
    STIFFNESS,
    TIME,
    VOLUME,
    Fault,
    Kind,
    NotMeasured,
    convert,
    factor,
    measured,
    value_of,
)


@pytest.mark.parametrize(
    ("unit", "to", "exact"),
    [
        ("in", "mm", "25.4"),
        ("ft", "m", "0.3048"),
        ("lb", "kg", "0.45359237"),
        ("lbf", "N", "4.4482216152605"),
        ("kgf", "N", "9.80665"),
        ("ft^2", "m^2", "0.09290304"),
        ("gal", "l", "3.785411784"),
        ("qt", "l", "0.946352946"),
        ("board_foot", "in^3", "144"),
        ("fl_oz", "ml", "29.5735295625"),
    ],
)
def test_factors_are_those_of_sp_811_to_the_last_digit(unit: str, to: str, exact: str) -> None:
    """NIST Special Publication 811 (2008), appendix B: the factors printed in bold are exact (from memory)."""
    assert factor(unit, to) == Fraction(exact)


def test_a_pound_a_square_inch_is_as_sp_811_rounds_it() -> None:
    """SP 811 prints 6.894 757 E+03 pascals (from memory)."""
    assert float(factor("psi", "Pa")) == pytest.approx(6894.757, abs=0.0005)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("680 kg/m^3", DENSITY, "680"),
        ("680 kg/m3", DENSITY, "680"),
        ("680kg/m³", DENSITY, "680"),
        ("8.55 GPa", STIFFNESS, "8550"),
        ("8550 MPa", STIFFNESS, "8550"),
        ("8550 N/mm2", STIFFNESS, "8550"),
        ("12 m^2/l", SPREAD, "12"),
        ("12 m²/l", SPREAD, "12"),
        ("12 sq m/l", SPREAD, "12"),
        ("473 ml", VOLUME, "0.473"),
        ("1 quart", VOLUME, "0.946352946"),
        ("8 fl oz", VOLUME, "0.2365882365"),
        ("1.4 m^2", AREA, "1.4"),
        ("35 lbf", FORCE, "155.6877565341175"),
        ("8 min", TIME, "8"),
        ("1.5 hours", TIME, "90"),
        ("30 %", SHARE, "30"),
        ("0.0034 /%", MOVEMENT, "0.0034"),
        ("60 lb", MASS, "27.2155422"),
    ],
)
def test_quantities_are_read_exactly(text: str, kind: Kind, value: str) -> None:
    assert measured(text, kind) == (kind, Fraction(value))


def test_a_load_by_hand() -> None:
    """35 lbf/ft: 35 x 4.4482216152605 N over 0.3048 m; 50 lbf/ft^2 over its square."""
    assert value_of("35 lbf/ft", LINE_LOAD) == pytest.approx(35 * 4.4482216152605 / 0.3048, rel=1e-15)
    assert measured("50 lbf/ft^2", AREA_LOAD)[1] == 50 * Fraction("4.4482216152605") / Fraction("0.09290304")
    assert NAMED_LOADS["books"][1] == pytest.approx(2394.0, abs=0.1)


@pytest.mark.parametrize(
    ("text", "kind", "fault", "detail"),
    [
        ("620", DENSITY, Fault.NO_UNIT, ""),
        ("heavy", DENSITY, Fault.NO_FIGURE, ""),
        ("", DENSITY, Fault.NO_FIGURE, ""),
        ("-3 kg", MASS, Fault.NO_FIGURE, ""),
        ("1e9 kg", MASS, Fault.NO_FIGURE, ""),
        ("9 m**9**9**9", AREA, Fault.NO_FIGURE, ""),
        ("__import__('os')", AREA, Fault.NO_FIGURE, ""),
        ("680 lb", DENSITY, Fault.OTHER_KIND, "a mass"),
        ("680 kg/m^2", DENSITY, Fault.OTHER_KIND, "a mass on each area"),
        ("9 lbf*ft", FORCE, Fault.OTHER_KIND, ""),
        ("680 kgs/m^3/foo", DENSITY, Fault.UNKNOWN_UNIT, "foo"),
        ("680 stones", MASS, Fault.UNKNOWN_UNIT, "stones"),
    ],
)
def test_what_is_refused_and_why(text: str, kind: Kind, fault: Fault, detail: str) -> None:
    with pytest.raises(NotMeasured) as refused:
        value_of(text, kind)
    assert (refused.value.fault, refused.value.detail) == (fault, detail)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_the_example_of_each_kind_is_of_that_kind(kind: Kind) -> None:
    assert value_of(kind.example, kind) > 0


def test_values_leave_as_plain_numbers() -> None:
    """A Pint quantity that is pickled comes back in another registry, so none may reach a room or a process."""
    assert type(measured("12 m^2/l", SPREAD)[1]) is Fraction
    assert type(value_of("12 m^2/l", SPREAD)) is float
    assert type(convert(1.0, "m^2", "ft^2")) is float
    assert type(convert(Fraction(1), "m^2", "ft^2")) is Fraction


@pytest.mark.parametrize("unit", ["16-1/2 in", "16 1/2 in", "3' 6-1/2\"", "1.000.000 mm"])
def test_pint_does_not_read_lengths_as_authors_write_them(unit: str) -> None:
    """Why lengths have a reader of their own: Pint, asked directly, refuses these or, worse, reads another length without a word."""
    meant = {
        "16-1/2 in": Fraction("16.5"),
        "16 1/2 in": Fraction("16.5"),
        "3' 6-1/2\"": Fraction("42.5"),
        "1.000.000 mm": Fraction(1000000) / Fraction("25.4"),
    }[unit]
    registry = UnitRegistry(non_int_type=Fraction)
    try:
        found = registry.Quantity(unit)
    except Exception:
        return
    assert found.dimensionless or found.to("inch").magnitude != meant


def test_our_reader_reads_what_pint_misreads() -> None:
    assert literal_length("16 1/2 in") == Length.of_inches(Fraction(33, 2))
    assert UnitRegistry(non_int_type=Fraction).Quantity("16 1/2 in").to("inch").magnitude == 8


def test_help_does_not_import_pint() -> None:
    code = "import sys\nsys.argv = ['drawleaf', '--help']\nfrom drawleaf.cli import main\ntry:\n    main()\nfinally:\n    assert 'pint' not in sys.modules, 'pint'"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "check" in done.stdout
