"""Templates print true: the rulers measured in the PDF itself, holes where the plan has them, sheets that meet at their marks."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from itertools import pairwise

import pypdf
import pytest
from tests.conftest import PLANS, outcome_of, solids_of
from tests.draw.pdf_lines import level_lines

from drawleaf.book.output.pdf import make_pdf
from drawleaf.book.page.figures import picture_for_print
from drawleaf.draw.paper.frame import extent
from drawleaf.draw.paper.style import VISIBLE
from drawleaf.draw.paper.svg import Sketch, rectangle
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.template.subjects import template_subjects
from drawleaf.draw.template.templates import WIDTH, _draw, _sheets, _words_and_rulers, draw_templates
from drawleaf.language import Words
from drawleaf.units import Length
from shape_trials import derived_of

TRUE = 0.02
"""Millimetres by which a ruler may be out in the PDF (coordinates in the SVG are written to hundredths)."""


def drawn(name: str):
    derived = outcome_of(name).derived
    assert derived is not None
    return draw_templates(derived, solids_of(name))


@pytest.mark.parametrize("name", PLANS)
def test_rulers_are_true_in_the_pdf(name):
    drawings = drawn(name)
    assert drawings
    for paper in ("Letter", "A4"):
        style = f"<style>@page {{ size: {paper}; margin: 12mm }} img {{ display: block; break-after: page }}</style>"
        pictures = "".join(picture_for_print(drawing) for drawing in drawings)
        pdf = pypdf.PdfReader(
            io.BytesIO(make_pdf(f"<html lang='en'><head><title>t</title>{style}</head><body>{pictures}</body></html>"))
        )
        measured = [sorted({round(x1 - x0, 2) for x0, x1, _, _ in level_lines(page)}) for page in pdf.pages]
        lengths = measured[0]
        assert min(abs(length - 100.0) for length in lengths) < TRUE, lengths
        assert min(abs(length - 101.6) for length in lengths) < TRUE, lengths


@pytest.mark.parametrize("name", PLANS)
def test_the_rulers_stand_once_below_the_first_template(name):
    ruled = ["100 mm" in drawing.svg for drawing in drawn(name)]
    assert ruled == [True, *[False] * (len(ruled) - 1)]


def test_the_ruler_test_can_fail():
    drawing = drawn("key-ledge")[0]
    picture = picture_for_print(replace(drawing, width_mm=drawing.width_mm * 0.97, height_mm=drawing.height_mm * 0.97))
    pdf = pypdf.PdfReader(
        io.BytesIO(make_pdf(f"<html lang='en'><head><title>t</title></head><body>{picture}</body></html>"))
    )
    lengths = [x1 - x0 for x0, x1, _, _ in level_lines(pdf.pages[0])]
    assert lengths
    assert min(abs(length - 100.0) for length in lengths) > TRUE


def test_holes_stand_where_the_plan_has_them():
    """Centres of a shelf-pin row on its sheets, against the bores: same pitch, same distance from the edge."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    subject = next(s for s in template_subjects(derived) if s.holes)
    places = sorted(
        {round(hole.up.mm, 3) for hole in subject.holes} | {round(hole.across.mm, 3) for hole in subject.holes}
    )
    sheets = [d for d in drawn("boot-bench") if "hole" in d.title]
    assert len(sheets) == 1
    ups = [sorted(y for _, y in circles(sheet.svg, subject.holes[0].diameter.mm / 2)) for sheet in sheets]
    pitch = 1.25 * 25.4
    assert places
    for row in ups:
        assert len(row) > 2
        assert all(abs(b - a - pitch) < 0.03 for a, b in pairwise(row))
    assert sum(map(len, ups)) >= len(subject.holes)


def test_a_long_row_of_holes_repeats_one_short_strip():
    """Seven holes in a row: the strip shows four of them and says how to go on."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    subject = next(s for s in template_subjects(derived) if s.title == "shelf-pin holes")
    words = " ".join(str(piece) for line in subject.lines for piece in line)
    assert len(subject.holes) == 4
    assert "The row has 7 holes. To go on, lay the first hole on the last one that you marked." in words


def test_sheets_meet_at_their_marks():
    """The same letter stands on both sheets; from a mark to the nearest hole is the same distance on both."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    subject = next(s for s in template_subjects(derived) if s.title == "shelf-pin holes")
    high = replace(subject, high=subject.low + Length.of_mm(200))
    work = project(solids_of("boot-bench"), subject.lay.view, (subject.item.part.id,))
    both = _sheets(high)
    sheets = [_draw(derived, high, work, 1, sheet, both, rulers=False) for sheet in both]
    marks = [circles(sheet.svg, 1.8) for sheet in sheets]
    assert [len(found) for found in marks] == [2, 2]
    spans = [abs(found[0][0] - found[1][0]) for found in marks]
    assert spans[0] == pytest.approx(spans[1], abs=0.03)


def test_two_holes_far_apart_take_a_story_stick_on_one_sheet():
    """The ledge hangs from two screws: their distance is told, and each is shown full size below the edge that is held level."""
    (stick,) = [d for d in drawn("key-ledge") if "story stick" in d.title]
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    subject = next(s for s in template_subjects(derived) if s.stick)
    first, second = subject.holes
    texts = re.findall(r"<text[^>]*>([^<]*)</text>", stick.svg)
    assert str((second.across - first.across).inches) in texts
    assert len(circles(stick.svg, first.diameter.mm / 2)) == 2


def circles(svg: str, radius: float) -> list[tuple[float, float]]:
    """Middles of all circles of that radius."""
    found = []
    for left, level, r, right in re.findall(r"M(-?[\d.]+) (-?[\d.]+)A([\d.]+) [\d.]+ 0 1 1 (-?[\d.]+)", svg):
        if abs(float(r) - radius) < 0.011:
            found.append(((float(left) + float(right)) / 2, float(level)))
    return found


PLATE = """\
assemblies:
  plate:
    parts:
      plate: {stock: board, thickness: z, grain: x, left: 0, right: 16, front: 0, back: 4, bottom: 0}
    machining:
      - {in: plate, shape: {face: top, outline: OUTLINE}}
      - {in: plate, bore: {face: top, at: {x: 8, y: 2}, diameter: 3/4}}
"""
BOTH_ALIKE = "[{x: 0, y: 0}, {x: 16, y: 0}, {x: 16, y: 1}, {x: 8, y: 4}, {x: 0, y: 1}]"
ONE_HIGHER = BOTH_ALIKE.replace("{x: 0, y: 1}", "{x: 0, y: 2}")


def test_of_a_shape_that_is_its_own_mirror_image_one_half_is_printed() -> None:
    """16 in are 406 mm and take three sheets of 150 that overlap by 12; half of it takes two. The hole on the middle line stands on it."""
    derived = derived_of(PLATE.replace("OUTLINE", BOTH_ALIKE))
    (half,) = (one for one in template_subjects(derived) if "shape" in one.title)
    assert half.title == "half shape, plate"
    assert (half.left.mm, half.right.mm) == (0.0, pytest.approx(8 * 25.4))
    assert [(hole.across.mm, hole.up.mm) for hole in half.holes] == [(pytest.approx(8 * 25.4), pytest.approx(2 * 25.4))]
    assert any("turn it over on that line" in "".join(map(str, line)) for line in half.lines)


@pytest.mark.parametrize(
    "plate",
    [
        PLATE.replace("OUTLINE", ONE_HIGHER),
        PLATE.replace("OUTLINE", BOTH_ALIKE).replace("x: 8, y: 2", "x: 7, y: 2"),
    ],
)
def test_a_shape_or_a_hole_that_differs_on_one_side_is_printed_whole(plate: str) -> None:
    (whole,) = (one for one in template_subjects(derived_of(plate)) if "shape" in one.title)
    assert whole.half is None
    assert (whole.left.mm, whole.right.mm) == (0.0, pytest.approx(16 * 25.4))


def test_the_middle_line_is_named_and_the_edges_of_the_board_are_drawn() -> None:
    """The tote's end: its handle hole lies on the middle line, its round top leaves the board's corner bare."""
    first, second = drawn("tool-tote")
    assert "middle line" in first.svg
    assert "middle line" in second.svg
    assert "top end" in second.svg


def test_words_stand_beside_a_template_where_they_take_no_more_height() -> None:
    """The shelf-pin strip had seven lines below it and 90 mm of bare paper at its right."""

    def sketched(wide: float, high: float) -> Sketch:
        sketch = Sketch()
        sketch.shape(VISIBLE, rectangle(0.0, 0.0, wide, high))
        return sketch

    words = [("Lay the edge of the template on the front edge of the wood.",)] * 6
    for wide, high, beside in ((60.0, 100.0, True), (60.0, 20.0, False), (120.0, 100.0, False)):
        sketch = sketched(wide, high)
        _words_and_rulers(sketch, Words(), words, high + 9.0, rulers=False)
        left, _, right, low = extent(sketch)
        assert right - left <= WIDTH
        assert (low < high + 1.0, right > wide + 20.0 and low < high + 1.0) == (beside, beside)
