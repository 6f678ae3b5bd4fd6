"""Sizes in names that stand in a drawing are figures as all others are, and no line break parts one."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drawleaf.draw.paper.balloons import PlacedBalloon, Tag, draw_balloons
from drawleaf.draw.paper.lettering import label, length_label, place
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.paper.wrapping import wrapped
from drawleaf.units import Length, LengthFormat


def texts(sketch: Sketch) -> list[str]:
    return [run.text for run in sketch.texts]


def test_a_size_in_words_has_a_fraction_on_the_slant():
    sketch = Sketch()
    place(sketch, label("12 #8 x 1-1/4 in screws"), (0.0, 0.0))
    assert texts(sketch) == ["12 #8 ×", "1", "¹⁄₄", "in screws"]


def test_the_value_of_a_dimension_has_a_stacked_fraction():
    sketch = Sketch()
    place(sketch, length_label(LengthFormat(), Length.of_inches(Fraction(5, 4))), (0.0, 0.0))
    assert texts(sketch) == ["1", "1", "4"]


def test_words_with_a_fraction_are_little_higher_than_words_without():
    plain, sized = (label(f"Rip to {size} in, twice").height for size in ("1", "1-1/4"))
    assert sized < 1.3 * plain


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        ("8 mending plates, 1/2 in", ["8 mending", "plates,", "¹⁄₂", "in"]),
        ("24 round-head wood screws, #8 x 3/4 in", ["24 round-head wood", "screws, #8 ×", "³⁄₄", "in"]),
    ],
)
def test_the_name_beside_a_fitting_keeps_its_size_in_one_line(name: str, lines: list[str]):
    sketch = Sketch()
    draw_balloons(sketch, [PlacedBalloon(Tag(name, (0.0, 0.0), named=True), (30.0, 0.0), 1.0)])
    assert texts(sketch) == lines


def test_a_broken_line_keeps_the_times_sign():
    """The ``x`` was a word of its own once its line was cut into words."""
    lines = wrapped([("Drive #8 x 1-1/4 in screws",)], label("Drive #8 × ").width)
    sketch = Sketch()
    place(sketch, label(lines), (0.0, 0.0))
    assert "x" not in " ".join(texts(sketch))
    assert "×" in " ".join(texts(sketch))
