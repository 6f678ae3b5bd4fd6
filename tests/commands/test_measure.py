"""``drawleaf measure`` against sizes worked out by hand from the source of the boot bench."""

from __future__ import annotations

import re
from functools import cache

import pytest

from conftest import ROOT
from drawleaf.commands.measure import Ruler, open_ruler


@cache
def ruler(edition: str | None = None) -> Ruler:
    found, diagnostics, _ = open_ruler(ROOT / "plans" / "boot-bench", edition)
    assert found is not None, diagnostics
    return found


def told(question: str, edition: str | None = None) -> str:
    answer = ruler(edition).answer(question)
    assert answer.mistake is None, answer.mistake
    return answer.text()


@pytest.mark.parametrize(
    ("question", "inches", "mm"),
    [
        ("width", "42", "1066.8"),
        ("width / 2", "21", "533.4"),
        ("case.side.right", "23/32", "18.26"),
        ("case.side.mirrored.left", "41-9/32", "1048.54"),
        ("case.bottom.wide", "40-9/16", "1030.29"),  # 42 less two sides of 23/32
        ("width - 2 * stock.case.thickness", "40-9/16", "1030.29"),
        ("case.side.left to case.side.mirrored.right", "42", "1066.8"),
        ("stock.back.thickness", "7/32", "5.2"),
    ],
)
def test_lengths(question: str, inches: str, mm: str) -> None:
    assert f": {inches} in ({mm} mm)" in told(question)


@pytest.mark.parametrize(
    ("asked", "meant"), [("dividr", "case.divider"), ("case.sied", "case.side"), ("widht", "width")]
)
def test_a_misspelt_name_is_told_with_the_nearest(asked: str, meant: str) -> None:
    mistake = ruler().answer(asked).mistake
    assert mistake is not None
    assert meant in mistake.mend or meant.split(".")[-1] in mistake.mend


def test_what_rounding_hides_is_told() -> None:
    assert "more exactly 0.2047 in" in told("stock.back.thickness")  # 5.2 / 25.4
    assert "more exactly" not in told("width")


def test_numbers() -> None:
    assert told("width / depth") == "width / depth: 2.709677 (84/31)"  # 42 / 15-1/2


def test_an_edition_is_measured_as_it_is() -> None:
    assert "48 in" in told("width", "wide")
    assert "1066.8" in told("width", "metric")


def test_a_part_tells_its_size_faces_mass_and_centre() -> None:
    text = told("case.bottom")
    # Let in 1/4 at both ends, 23/32 thick; from the front to the back panel, 15-1/2 less 5.2 mm.
    assert "size: 41-1/16 in" in text
    assert "as it is cut, with what its joints take" in text
    assert "as it is cut" not in told("case.side.original")
    assert "bottom: 3 in" in text
    volume = 41.0625 * 25.4 * (15.5 * 25.4 - 5.2) * 23 / 32 * 25.4 / 1e9
    mass = float(re.search(r"wood: ([\d.]+) kg", text).group(1))  # type: ignore[union-attr]
    density = ruler().plan.part("case.bottom").stock.material.density
    assert mass == pytest.approx(volume * density, rel=0.02)  # the notches and grooves are small
    assert "z 3-11/32 in" in text  # a little under the middle of 3 to 3-23/32: the grooves are in the top


def test_the_whole_weighs_what_its_parts_do() -> None:
    def mass(question: str) -> float:
        return float(re.search(r"wood: ([\d.]+) kg", told(question)).group(1))  # type: ignore[union-attr]

    whole = mass("everything")
    assert whole == pytest.approx(sum(mass(a.id) for a in ruler().plan.assemblies if a.parent is None), abs=0.03)


@pytest.mark.parametrize("question", ["case.side to case.side.mirrored", "case.side.mirrored to case.side"])
def test_clearance_between_solids(question: str) -> None:
    text = told(question)
    assert "left to right: gap of 40-9/16 in" in text
    assert "bottom to top: overlap of 18-1/4 in" in text
    assert "least distance: 40-9/16 in (1030.29 mm)" in text


def test_the_least_distance_is_the_solids_own() -> None:
    """The edging is clear of the divider by 1/16 sideways and by more frontways: nearest by the sideways gap alone."""
    text = told("shelves.shelf.1 to case.divider")
    assert "left to right: gap of 1/16 in" in text
    assert "least distance: 1/16 in (1.59 mm)" in text


def test_parts_that_touch() -> None:
    assert "least distance: they touch" in told("case.divider to frame.middle")


@pytest.mark.parametrize(
    ("question", "code", "mend"),
    [
        ("divider", "unknown-name", "case.divider"),
        ("case.sid.right", "unknown-name", "side"),
        ("widht", "unknown-name", "width"),
        ("case.side.rihgt", "unknown-face", "right"),
        ("width +", "syntax", ""),
        ("case.side to width", "not-a-length", "part to part"),
        ("width to width / depth", "not-a-length", ""),
    ],
)
def test_mistakes_are_explained(question: str, code: str, mend: str) -> None:
    mistake = ruler().answer(question).mistake
    assert mistake is not None
    if code != "syntax":
        assert mistake.code == code
    assert mend in mistake.mend
    assert "Traceback" not in ruler().answer(question).text()


def test_without_a_question_everything_is_listed() -> None:
    text = "\n".join(answer.text() for answer in ruler().overview())
    assert "width: 42 in" in text
    assert text.count(" × ") >= 2 * len(ruler().plan.parts)
