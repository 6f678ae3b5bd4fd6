"""Quantities in data files: any unit of the right kind does, and what has none, or another kind's, is told with the line as it should be."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.resources import product_folder
from drawleaf.source.library import load_library

WOOD = """elm board:
  name: Elm board
  form: board
  tint: "#e8d3b0"
  density: 560 kg/m^3
  solid: true
  stiffness: 9.2 GPa
  radial: 0.0014 /%
  tangential: 0.0034 /%
  aisle: Boards
"""
OIL = """tung oil:
  name: Tung oil
  kind: oil
  method: wipe
  coverage: 12 m^2/l
  recoat: 24 h
  cure: 7 days
  containers:
    half litre: 500 ml
  cleanup: Mineral spirits.
"""
GLUE = """hide glue:
  name: Hide glue
  unit: jar
  covers: 1.2 m^2
  aisle: Glue
"""
WORK = """round-over:
  once: 8 min
  each: 4 min
  ways:
    - name: file
      tools: [block plane]
"""
KINDS = {"materials": WOOD, "finishes": OIL, "consumables": GLUE, "methods": WORK}


def load(folder: Path, kind: str, text: str):
    path = folder / "shared" / f"{kind}.yaml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return load_library([product_folder("shared"), path.parent])


@pytest.mark.parametrize(
    ("kind", "line", "bare"),
    [
        ("materials", "density: 560 kg/m^3", "density: 560"),
        ("materials", "stiffness: 9200 MPa", "stiffness: 9200"),
        ("materials", "radial: 0.0014 /%", "radial: 0.0014"),
        ("finishes", "coverage: 12 m^2/l", "coverage: 12"),
        ("finishes", "half litre: 0.5 l", "half litre: 0.5"),
        ("consumables", "covers: 1.2 m^2", "covers: 1.2"),
        ("methods", "each: 4 min", "each: 4"),
        ("finishes", "recoat: 24 h", "recoat: 24"),
    ],
)
def test_a_bare_figure_is_told_with_the_line_as_it_should_be(tmp_path: Path, kind: str, line: str, bare: str) -> None:
    key = bare.split(":")[0]
    good = KINDS[kind]
    old = next(one.strip() for one in good.splitlines() if one.strip().startswith(f"{key}:"))
    wrong = good.replace(old, bare)
    _, found = load(tmp_path, kind, wrong)
    assert [one.code for one in found] == ["wrong-quantity"]
    told = found[0]
    assert told.position is not None
    assert wrong.splitlines()[told.position.line - 1].strip() == bare
    assert told.message == f"“{bare.split(': ')[1]}” has no unit"
    assert told.mend == f"Write “{line}”."
    # The mend, typed, is sound and means what the bare figure meant.
    mended, found = load(tmp_path, kind, wrong.replace(bare, line))
    assert found == ()
    assert mended.catalogue == load(tmp_path, kind, good)[0].catalogue


@pytest.mark.parametrize(
    ("value", "message"),
    [
        ("560 lb", "“560 lb” is a mass, not a density"),
        ("560 kg/m^2", "“560 kg/m^2” is a mass on each area, not a density"),
        ("560 stones/m^3", "“560 stones/m^3”: there is no unit “stones”"),
        ("heavy", "“heavy” is not a density"),
        ("5 lb*ft", "“5 lb*ft” is not a density"),
    ],
)
def test_another_kind_or_unit_is_told(tmp_path: Path, value: str, message: str) -> None:
    _, found = load(tmp_path, "materials", WOOD.replace("560 kg/m^3", value))
    assert [(one.code, one.message) for one in found] == [("wrong-quantity", message)]
    assert found[0].mend == "Write it like “density: 680 kg/m^3”."
    assert found[0].position is not None
    assert found[0].position.line == 5


def test_all_bare_figures_of_an_entry_are_told_at_once(tmp_path: Path) -> None:
    old = WOOD.replace(" kg/m^3", "").replace("9.2 GPa", "9200").replace(" /%", "")
    _, found = load(tmp_path, "materials", old)
    assert [one.mend for one in found] == [
        "Write “density: 560 kg/m^3”.",
        "Write “stiffness: 9200 MPa”.",
        "Write “radial: 0.0014 /%”.",
        "Write “tangential: 0.0034 /%”.",
    ]


def test_any_unit_of_the_right_kind_does(tmp_path: Path) -> None:
    """By hand: 35 lb/ft^3 is 35 x 0.45359237 / 0.3048^3 = 560.65 kg/m^3; 1334340 psi is 9.2 GPa; 500 ft^2/gal is 46.45 / 3.7854 m^2/l."""
    library, found = load(
        tmp_path, "materials", WOOD.replace("560 kg/m^3", "35 lb/ft^3").replace("9.2 GPa", "1334340 psi")
    )
    assert found == ()
    wood = library.catalogue.materials["elm board"]
    assert wood.density == pytest.approx(560.65, abs=0.01)
    assert wood.stiffness == pytest.approx(9200, abs=0.1)
    library, found = load(tmp_path, "finishes", OIL.replace("12 m^2/l", "500 ft^2/gal").replace("500 ml", "1 pint"))
    assert found == ()
    oil = library.catalogue.finishes["tung oil"]
    assert oil.coverage == pytest.approx(12.271, abs=0.001)
    assert oil.containers[0][1] == pytest.approx(0.473176473, rel=1e-12)


def test_nothing_is_told_as_out_of_bounds(tmp_path: Path) -> None:
    _, found = load(tmp_path, "materials", WOOD.replace("560 kg/m^3", "0 kg/m^3"))
    assert [(one.code, one.message, one.cause) for one in found] == [
        ("wrong-value", "“0 kg/m^3” is not allowed here", "“density” must be more than 0.")
    ]


def test_the_keys_that_had_their_unit_in_their_name_are_told(tmp_path: Path) -> None:
    _, found = load(
        tmp_path, "finishes", OIL.replace("recoat: 24 h", "recoat_hours: 24").replace("cure: 7 days", "cure_hours: 168")
    )
    assert [(one.code, one.mend) for one in found] == [
        ("unknown-key", "Write it with its unit: “recoat: 12 h”."),
        ("unknown-key", "Write it with its unit: “cure: 7 days”."),
    ]


def test_specific_gravity_is_oven_dry(tmp_path: Path) -> None:
    """White ash, 0.60 in the Wood Handbook (Table 5-3a, from memory), weighs 672 kg/m^3 at 12%: its holes are those of 0.60, not of 0.672."""
    library, _ = load(tmp_path, "materials", WOOD)
    assert library.catalogue.materials["ash lumber"].specific_gravity == pytest.approx(0.60)
    assert library.catalogue.materials["ash lumber"].mass(1e9) == pytest.approx(672)
