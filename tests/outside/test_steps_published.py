"""What the steps say about screws, finish, noise and dust, held against published figures. Each row says how it is known."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from tests.conftest import ROOT

from drawleaf.model.catalogue import Catalogue
from drawleaf.model.screw_sizes import shank
from drawleaf.setting_out.screws import clearance_hole, pilot_hole
from drawleaf.source.library import load_library

# ASME B18.6.1 (1981, R2021). Basic diameter: the standard's own rule, from memory (#8 and #10 also seen cited to it); largest body:
# read in the data file of a public fastener library. Root diameter: NDS Appendix L, Table L3, from memory.
SCREWS = [
    # number, basic diameter, largest body, root diameter (inches)
    (6, "0.138", "0.142", "0.113"),
    (7, "0.151", "0.155", "0.122"),
    (8, "0.164", "0.168", "0.131"),
    (9, "0.177", "0.181", "0.142"),
    (10, "0.190", "0.194", "0.152"),
    (12, "0.216", "0.220", "0.171"),
    (14, "0.242", "0.246", "0.196"),
]
SIXTY_FOURTH = Fraction(1, 64)


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    library, found = load_library([ROOT / "shared"])
    assert found == ()
    return library.catalogue


@pytest.mark.parametrize(("gauge", "basic", "body", "root"), SCREWS)
def test_shanks_are_those_of_the_standard(gauge: int, basic: str, body: str, root: str) -> None:
    assert shank(gauge).inches == Fraction(basic)


@pytest.mark.parametrize(("gauge", "basic", "body", "root"), SCREWS)
def test_a_screw_turns_in_its_clearance_hole(gauge: int, basic: str, body: str, root: str) -> None:
    """The hole is no smaller than the basic diameter, and no more than a bit's step larger."""
    hole = clearance_hole(gauge).inches
    assert Fraction(basic) <= hole < Fraction(basic) + SIXTY_FOURTH


@pytest.mark.parametrize(("gauge", "basic", "body", "root"), SCREWS)
@pytest.mark.parametrize(("gravity", "share"), [(0.35, "0.7"), (0.55, "0.7"), (0.63, "1"), (0.68, "1")])
def test_pilot_holes_follow_the_rule(gauge: int, basic: str, body: str, root: str, gravity: float, share: str) -> None:
    """NDS 12.1.5, read in a reprint: 70% of the root diameter up to a gravity of 0.6; above it the whole root, 12.1.5.3 from memory; the root is about two thirds of the
    shank (Wood Handbook, chapter 8, read). The bit is the nearest 1/64 in."""
    hole = pilot_hole(gauge, gravity).inches
    assert abs(hole - Fraction(share) * Fraction(2, 3) * Fraction(basic)) <= SIXTY_FOURTH / 2
    assert hole < Fraction(root), "the thread must bite"


def test_catalogue_screws_have_the_standards_diameters(catalogue: Catalogue) -> None:
    published = {gauge: Fraction(basic) for gauge, basic, _, _ in SCREWS}
    seen = set()
    for item in catalogue.hardware.values():
        if item.kind in ("wood screw", "pan-head screw") and item.gauge in published:
            assert item.diameter is not None
            assert item.diameter.inches == published[item.gauge], item.id
            seen.add(item.gauge)
    assert {6, 8, 10} <= seen


# Coverage in square feet a gallon and coat, as makers print it.
COVERAGE = [
    # kind of finish, least, most, source
    ("polyurethane", 300, 500, "Data sheets: 300-400 and 350-450 (read at docslib.org 10498266, scribd 817293091); 500 (read, maker's guide)"),
    ("stain", 200, 650, "Oil stains: 200-400 (read, secondary) to 450-650 on smooth wood (read, secondary)"),
]  # fmt: skip
SQ_M_A_LITRE = 0.09290304 / 3.785411784


@pytest.mark.parametrize(("word", "least", "most", "source"), COVERAGE)
def test_coverage_lies_between_what_makers_print(
    catalogue: Catalogue, word: str, least: float, most: float, source: str
) -> None:
    found = [product for name, product in catalogue.finishes.items() if word in name]
    assert found
    for product in found:
        assert least * SQ_M_A_LITRE <= product.coverage <= most * SQ_M_A_LITRE, (product.id, source)


PAGE = (ROOT / "docs" / "safety-references.md").read_text(encoding="utf-8")


def row(start: str) -> str:
    """The row of the page that begins so."""
    (line,) = [line for line in PAGE.splitlines() if line.startswith(f"| {start}")]
    return line


# NIOSH Pocket Guide 0667, 29 CFR 1910.1000 Table Z-1, ACGIH 2007: read. 29 CFR 1910.95 Table G-16, NIOSH 98-126: from memory.
LIMITS = [
    ("Noise, limit for a working day", "90 dBA, halved for each 5 dB"),
    ("Noise, action level", "85 dBA"),
    ("Noise, recommended limit", "85 dBA, halved for each 3 dB"),
    ("Wood dust, recommended limit", "1 mg/m3"),
    ("Wood dust, legal limit, total", "15 mg/m3"),
    ("Wood dust, legal limit, respirable", "5 mg/m3"),
    ("Dust of western redcedar", "0.5 mg/m3"),
]


@pytest.mark.parametrize(("what", "figure"), LIMITS)
def test_limits_on_the_page(what: str, figure: str) -> None:
    assert f"| {figure}" in row(what)


def hours(level: float, limit: float, exchange: float) -> float:
    """How long a level may last: eight hours at the limit, halved for each exchange above it."""
    return 8 / 2 ** ((level - limit) / exchange)


def test_the_noise_tables_follow_their_rule() -> None:
    """29 CFR 1910.95 Table G-16 (from memory): 95 dBA 4 h, 100 dBA 2 h, 105 dBA 1 h; and what the page works out from both limits."""
    assert [hours(level, 90, 5) for level in (95, 100, 105)] == [4, 2, 1]
    assert hours(100, 85, 3) * 60 == pytest.approx(15)
    assert "after 2 hours and the NIOSH one after\n15 minutes" in PAGE


def test_the_cautions_give_the_same_limits(catalogue: Catalogue) -> None:
    dust, noise = catalogue.cautions["wood dust"].source, catalogue.cautions["noise"].source
    assert all(figure in dust for figure in ("1 mg/m3", "15 mg/m3", "5 mg/m3", "1910.1000"))
    assert "85 dBA over 8 hours, halved for each 3 dB" in noise
    assert "1910.133" in catalogue.cautions["eyes"].source


def test_every_federal_clause_of_a_caution_is_on_the_page(catalogue: Catalogue) -> None:
    named = {clause for one in catalogue.cautions.values() for clause in re.findall(r"\b19\d\d\.\d+", one.source)}
    assert {"1910.213", "1926.304"} <= named
    assert [clause for clause in sorted(named) if clause not in PAGE] == []
