"""Shelves: what carries them, how far they sag, what the message tells."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import figure, found

from drawleaf.checks import beams
from drawleaf.checks.beams import Strip
from drawleaf.checks.plain import plain
from drawleaf.checks.shelf_sag import Case
from drawleaf.checks.supports import Spans
from drawleaf.model.checks import Load, LoadKind, Verdict
from drawleaf.model.place import Axis

SIZES = st.floats(5, 60)
SPANS = st.floats(100, 2000)


@given(SPANS, SIZES, SIZES)
def test_sag_grows_with_the_cube_of_the_span(span: float, wide: float, thick: float) -> None:
    rigid = beams.bending_stiffness(Strip(wide, thick, 0, 9000))
    once = beams.sag(beams.UNIFORM_SIMPLE, 50, span, rigid)
    assert beams.sag(beams.UNIFORM_SIMPLE, 50, 2 * span, rigid) == pytest.approx(8 * once)


@given(SPANS, SIZES, SIZES)
def test_twice_as_thick_sags_an_eighth(span: float, wide: float, thick: float) -> None:
    def sag(t: float) -> float:
        return beams.sag(beams.UNIFORM_SIMPLE, 50, span, beams.bending_stiffness(Strip(wide, t, 0, 9000)))

    assert sag(2 * thick) == pytest.approx(sag(thick) / 8)


@given(SIZES, SIZES, st.floats(-50, 50), st.floats(0.1, 0.9))
def test_a_board_cut_in_two_and_glued_is_the_same_board(wide: float, high: float, bottom: float, share: float) -> None:
    whole = beams.bending_stiffness(Strip(wide, high, bottom, 9000))
    lower = Strip(wide, high * share, bottom, 9000)
    upper = Strip(wide, high * (1 - share), bottom + high * share, 9000)
    assert beams.bending_stiffness(lower, upper) == pytest.approx(whole)


@given(st.floats(0.01, 2), SIZES)
def test_the_longest_span_just_passes(per_mm: float, thick: float) -> None:
    rigid = beams.bending_stiffness(Strip(250, thick, 0, 9000))
    span = beams.longest_span(beams.UNIFORM_SIMPLE, per_mm, rigid, 144)
    assert beams.sag(beams.UNIFORM_SIMPLE, per_mm * span, span, rigid) == pytest.approx(span / 144)


@pytest.mark.parametrize(("span", "verdict"), [(600, Verdict.PASS), (900, Verdict.ADVICE), (1100, Verdict.STOP)])
def test_verdicts(case, span: float, verdict: Verdict) -> None:
    """18 mm birch plywood under 40 lb a square foot: passes to about 0.8 m for good, to about 1.02 m on the first day."""
    result = found(case(span=span), "shelf-sag", "case.shelf")
    assert result.verdict is verdict


def test_the_figures_by_hand(case) -> None:
    """800 x 250 x 18 mm, 8550 N/mm2, 1915 N/m2 and its own 680 kg/m3: I = 121500 mm4, w = 0.509 N/mm, sag 5wL4/384EI = 2.61 mm."""
    result = found(case(span=800), "shelf-sag", "case.shelf")
    assert figure(result, "clear span") == 800
    assert figure(result, "sag on the first day") == pytest.approx(2.61, abs=0.01)
    assert figure(result, "sag after years") == pytest.approx(5.23, abs=0.01)
    assert figure(result, "limit") == pytest.approx(5.56, abs=0.01)


def test_the_stop_names_a_span_and_a_remedy_that_pass(case) -> None:
    outcome = case(span=1100)
    result = found(outcome, "shelf-sag", "case.shelf")
    longest = figure(result, "longest span")
    assert found(case(span=longest), "shelf-sag", "case.shelf").verdict is Verdict.PASS
    assert outcome.failed
    message = next(one for one in outcome.diagnostics if one.code == "shelf-sag")
    assert "limit is 7.6 mm" in message.message
    assert "edging" in message.mend


def test_the_edging_that_the_remedy_names_is_enough(case) -> None:
    """The strip as told, glued on, makes the same shelf pass."""
    result = found(case(span=1000), "shelf-sag", "case.shelf")
    values = dict(result.remedy.values)
    edging = (
        "      edging: {stock: oak, thickness: y, grain: x, left: shelf.left, right: shelf.right, "
        f"back: shelf.front, top: shelf.top, high: {values['high'].mm} mm}}"
    )
    after = found(
        case(span=1000, parts=edging, joints="      - {butt: edging, to: shelf, with: [glue]}"),
        "shelf-sag",
        "case.shelf",
    )
    assert after.verdict is Verdict.PASS
    assert figure(after, "edge stiffer by its edging") > 100


def test_an_unglued_edging_counts_for_nothing(case) -> None:
    edging = "      edging: {stock: oak, thickness: y, grain: x, left: shelf.left, right: shelf.right, back: shelf.front, top: shelf.top, high: 60 mm}"
    result = found(
        case(parts=edging, joints="      - {butt: edging, to: shelf, with: [brads]}"), "shelf-sag", "case.shelf"
    )
    bare = found(case(), "shelf-sag", "case.shelf")
    assert figure(result, "sag on the first day") == figure(bare, "sag on the first day")


def test_the_authors_load_counts(case) -> None:
    light = found(case(more="checks: {loads: [{on: case.shelf, load: display}]}"), "shelf-sag", "case.shelf")
    heavy = found(case(more="checks: {loads: [{on: case.shelf, load: 100 kg}]}"), "shelf-sag", "case.shelf")
    assert figure(light, "sag on the first day") < figure(heavy, "sag on the first day")
    # 100 kg over 600 x 250: 980.665 N and its own weight, 18 N: 5 x 998.7 x 600^3 / (384 x 8550 x 121500)
    assert figure(heavy, "sag on the first day") == pytest.approx(2.704, abs=0.005)


def test_an_upright_under_its_middle_halves_the_span(case) -> None:
    upright = "      upright: {stock: ply, thickness: x, grain: z, left: 550 - 9 + 18 mm, front: 0, back: deep, bottom: 0, top: shelf.bottom}"
    upright = upright.replace("550 - 9 + 18 mm", "559 mm")
    outcome = case(span=1100, parts=upright, joints="      - {butt: upright, to: shelf, with: [glue, screws]}")
    result = found(outcome, "shelf-sag", "case.shelf")
    assert figure(result, "clear span") == 541
    assert result.verdict is Verdict.PASS


def test_a_waiver_lets_it_pass_with_its_reason(case) -> None:
    waive = "checks: {waive: [{check: shelf-sag, on: case.shelf, reason: Blankets only.}]}"
    outcome = case(span=1100, more=waive)
    assert not outcome.failed
    result = found(outcome, "shelf-sag", "case.shelf")
    assert (result.waived, result.verdict) == ("Blankets only.", Verdict.STOP)


def test_a_waiver_that_waives_nothing_is_told(case) -> None:
    outcome = case(more="checks: {waive: [{check: shelf-sag, reason: Blankets only.}]}")
    assert [one.code for one in outcome.diagnostics if one.code == "idle-waiver"]


@pytest.mark.parametrize(
    ("checks", "code"),
    [
        ("waive: [{check: shelf-sagging, reason: x}]", "unknown-check"),
        ("loads: [{on: case.shelf, load: elephants}]", "unknown-load"),
        ("loads: [{on: case.shelf, load: 0 kg}]", "unknown-load"),
        ("loads: [{on: case.shell, load: books}]", "unknown-part"),
        ("humidity: [60, 30]", "humidity"),
        ('waive: [{check: shelf-sag, reason: " "}]', "waiver-without-reason"),
    ],
)
def test_mistakes_in_checks_are_told(case, checks: str, code: str) -> None:
    outcome = case(more=f"checks: {{{checks}}}")
    assert code in [one.code for one in outcome.diagnostics if one.is_error]


def test_words_are_in_the_booklets_units(case) -> None:
    outcome = case()
    result = found(outcome, "shelf-sag", "case.shelf")
    assert outcome.derived is not None
    words = plain(result.words, outcome.derived.plan.lengths)
    assert "600 mm clear" in words
    assert "kg/m²" in words
    assert " in " not in words.replace(" in total", "")


@pytest.mark.parametrize(("kind", "stays"), [("sitting", False), ("lying", False), ("total", True)])
def test_people_get_up_again(kind: LoadKind, stays: bool) -> None:
    """What stands on a board bends it more after years, between its supports and beyond them; somebody who sits or lies there does not."""
    for spans in (Spans(Axis.X, 800.0, 0.0), Spans(Axis.X, 100.0, 300.0)):
        case = Case(spans, 90.0, 1e9, 1e9, 1e9, 5.0, Load((), kind, 1000.0, kind, ""), 0.0, Strip(90.0, 20.0, 0.0, 9e3))
        assert case.lasting(1.5) == pytest.approx(case.first * (1.5 if stays else 1.0))
