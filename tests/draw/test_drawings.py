"""The drawings of a small case: legible, one path a style, the same every time, and as accepted before."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from tests.draw import samples
from tests.draw.legibility import faults, styles_drawn_twice
from tests.draw.test_example_drawings import with_lengths

from drawleaf.draw.drawings import Desk, draw_all
from drawleaf.model.drawings import Drawing
from drawleaf.second_process import in_two_processes
from drawleaf.solids.build import Solids, build_solids
from drawleaf.units import Units

KEPT = ("part-03", "elevation-side", "board-01", "sheet-01", "step-01")
"""Small drawings whose text is kept. To accept changed ones: ``pytest tests/draw --golden``, then look at the difference."""


@cache
def solids() -> Solids:
    """Those of the case, which have no units."""
    return build_solids(samples.case_derived().plan)


@cache
def drawings(units: Units) -> tuple[Drawing, ...]:
    """All of them in inches; in others those that show lengths."""
    derived = samples.case_derived(units)
    return draw_all(derived, solids()).all() if units is Units.INCH else with_lengths(derived, solids(), 1)


@pytest.mark.parametrize("units", list(Units))
def test_every_drawing_can_be_read(units):
    found = {drawing.id: faults(drawing.svg) for drawing in drawings(units)}
    assert {name: wrong for name, wrong in found.items() if wrong} == {}


@pytest.mark.parametrize("units", list(Units))
def test_one_path_for_each_line_style(units):
    assert [styles_drawn_twice(drawing.svg) for drawing in drawings(units)] == [[]] * len(drawings(units))


@pytest.mark.parametrize("units", list(Units))
def test_every_size_of_an_elevation_is_level(units):
    """Read without turning the page: also those beside upright lines, and those of a row below the view."""
    elevations = [drawing for drawing in drawings(units) if drawing.kind == "elevation"]
    assert elevations
    assert [drawing.id for drawing in elevations if "rotate(" in drawing.svg] == []


def test_the_legibility_test_can_fail():
    text = '<text x="{x}" y="5" font-family="a" font-size="{s}" font-weight="400" text-anchor="start" fill="#000">word</text>'
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20">'
        + text.format(x=3, s=3.8)
        + text.format(x=6, s=3.5)
    )
    svg += (
        '<path class="dimension" d="M0 4L10 4" stroke="#000" stroke-width="0.25"/>'
        + text.format(x=18, s=3.8)
        + "</svg>"
    )
    said = " ".join(faults(svg))
    for fault in ("overlaps", "outside the frame", "too small", "leaves the frame", "crossed by a dimension line"):
        assert fault in said


def test_the_same_plan_gives_the_same_drawings():
    derived = samples.case_derived()
    again = draw_all(derived, build_solids(derived.plan)).all()
    assert [drawing.svg for drawing in again] == [drawing.svg for drawing in drawings(Units.INCH)]


def test_two_processes_make_the_same_drawings():
    """Whoever makes a drawing, whatever was made before it in the same process."""
    derived = samples.case_derived()
    shared = draw_all(derived, build_solids(derived.plan), share=in_two_processes)
    assert [drawing.svg for drawing in shared.all()] == [drawing.svg for drawing in drawings(Units.INCH)]


def test_drawings_made_in_another_order_are_the_same():
    """The last step first: what is worked out once for several drawings does not depend on which of them asks first."""
    derived = samples.case_derived()
    desk = Desk(derived, build_solids(derived.plan))
    steps = {drawing.id: drawing.svg for step in reversed(derived.steps) for drawing in desk.step(step)[:1]}
    assert steps
    assert steps == {drawing.id: drawing.svg for drawing in drawings(Units.INCH) if drawing.id in steps}


@pytest.mark.parametrize("name", KEPT)
def test_drawing_is_as_accepted(name, golden):
    drawing = next(drawing for drawing in drawings(Units.INCH) if drawing.id == name)
    golden(f"{name}.svg", drawing.svg)


def test_drawings_follow_the_part():
    """A deeper dado changes the drawing and its words."""
    derived = samples.case_derived()
    side = derived.cut_list.items[3].part
    dado = replace(side.features[0], box=samples.box("13/32", "23/32", "0", "10", "3", "3-23/32"))
    item = replace(derived.cut_list.items[3], parts=(replace(side, features=(dado, *side.features[1:])),))
    changed = replace(
        derived,
        cut_list=replace(derived.cut_list, items=(*derived.cut_list.items[:3], item, derived.cut_list.items[4])),
    )
    before, after = (Desk(d, build_solids(d.plan)).part(d.cut_list.items[3])[0] for d in (derived, changed))
    assert before.svg in {drawing.svg for drawing in drawings(Units.INCH)}
    assert "1/4 deep" in before.alt
    assert "5/16 deep" in after.alt
    assert before.svg != after.svg
