"""Every drawing of the example plans, read back: nothing overlaps, nothing is small, nothing leaves its frame."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from tests.conftest import PLANS, outcome_of
from tests.draw.legibility import faults, styles_drawn_twice

from drawleaf.draw.drawings import draw_all
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings
from drawleaf.solids.build import build_solids
from drawleaf.units import LengthFormat, Units

EACH = pytest.mark.parametrize(
    ("name", "units"), [(name, units) for name in PLANS for units in (Units.INCH, Units.BOTH)]
)


@cache
def drawn(name: str, units: Units) -> tuple[Derived, Drawings]:
    derived = outcome_of(name).derived
    assert derived is not None
    form = replace(derived.plan.lengths, units=units)
    assert isinstance(form, LengthFormat)
    derived = replace(derived, plan=replace(derived.plan, lengths=form))
    return derived, draw_all(derived, build_solids(derived.plan))


@EACH
def test_lettering_and_frames(name, units):
    found = {drawing.id: faults(drawing.svg) for drawing in drawn(name, units)[1].all()}
    assert {drawing: wrong for drawing, wrong in found.items() if wrong} == {}


@EACH
def test_one_path_for_each_line_style(name, units):
    assert [drawing.id for drawing in drawn(name, units)[1].all() if styles_drawn_twice(drawing.svg)] == []


@EACH
def test_drawings_fit_their_place_on_the_page(name, units):
    too_wide = [(d.id, d.width_mm) for d in drawn(name, units)[1].all() if d.width_mm > 170.0 or d.height_mm > 200.0]
    assert too_wide == []


@pytest.mark.parametrize("name", PLANS)
def test_every_part_and_step_is_drawn(name):
    derived, drawings = drawn(name, Units.INCH)
    assert set(drawings.parts) == {item.number for item in derived.cut_list.items}
    assert set(drawings.steps) == {step.number for step in derived.steps if step.scene and not step.scene.layout}
    assert len({drawing.id for drawing in drawings.all()}) == len(drawings.all())


@pytest.mark.parametrize("name", PLANS)
def test_every_cut_list_number_is_in_an_exploded_view(name):
    derived, drawings = drawn(name, Units.INCH)
    shown = {word for drawing in drawings.exploded for word in _texts(drawing.svg)}
    assert {str(item.number) for item in derived.cut_list.items} <= shown


def _texts(svg: str) -> list[str]:
    return [line.split(">")[1].split("<")[0] for line in svg.splitlines() if line.startswith("<text")]
