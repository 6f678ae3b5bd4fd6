"""A place in a drawing names the part that is seen there, as the drawing's own regions have it."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.conftest import outcome_of, solids_of

from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.picture.panes import clipped, show, show_alone
from drawleaf.draw.picture.picture import Window, inner_point
from drawleaf.draw.piece.explosion import Moving, explode
from drawleaf.draw.piece.shown import everything
from drawleaf.draw.sight.cutting import cut_at
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import FRONT, PICTORIAL
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Axis
from drawleaf.preview.pointing import part_at
from drawleaf.solids.build import Solids

WINDOW = Window(0.25, (85.0, 60.0))


@pytest.fixture(scope="module")
def solids() -> Solids:
    outcome = outcome_of("key-ledge")
    assert outcome.derived is not None
    return solids_of("key-ledge")


def drawing_of(sketch: Sketch) -> Drawing:
    return Drawing("one", "step", "One", "", "", 170.0, 120.0, None, tuple(sketch.panes))


def agreed(solids: Solids, work: Linework, drawing: Drawing) -> int:
    """How many bodies are found well inside the largest stretch that is seen of them; fails where another is found."""
    found = 0
    for body in work.shown:
        region = work.outline(body)
        place = inner_point(region) if region.area * WINDOW.factor**2 > 1.0 else None
        if place:
            assert part_at(drawing, solids, *WINDOW.at(*place)) == body
            found += 1
    return found


@pytest.mark.parametrize("view", [FRONT, PICTORIAL], ids=lambda view: view.name)
def test_every_part_is_found_in_its_own_region(solids: Solids, view) -> None:
    work, sketch = project(solids, view, everything(solids.plan)), Sketch()
    show(sketch, work, WINDOW)
    assert agreed(solids, work, drawing_of(sketch)) >= 4


def test_parts_pulled_apart_are_found_where_they_are_drawn(solids: Solids) -> None:
    explosion = explode(solids, [Moving(part.id, (part.id,)) for part in solids.plan.parts])
    work = project(solids, PICTORIAL, tuple(part.id for part in solids.plan.parts), explosion.offsets)
    assert any(any(offset) for offset in explosion.offsets.values())
    sketch = Sketch()
    show(sketch, work, WINDOW, explosion.offsets)
    assert agreed(solids, work, drawing_of(sketch)) == len(solids.plan.parts)


def test_a_section_shows_what_is_cut_and_what_lies_behind(solids: Solids) -> None:
    low, high = (f(part.body.span(Axis.X).middle.mm for part in solids.plan.parts) for f in (min, max))
    cut = cut_at(solids, Axis.X, (low + high) / 2 + 7.0, everything(solids.plan))
    sketch = Sketch()
    show(sketch, cut.work, WINDOW, nearest=cut.depth)
    drawing = drawing_of(sketch)
    assert agreed(solids, cut.work, drawing) >= 2
    for body, face in cut.regions.items():
        place = inner_point(face)
        assert place
        assert part_at(drawing, solids, *WINDOW.at(*place)) == body


def test_a_place_that_shows_nothing_names_nothing(solids: Solids) -> None:
    work, sketch = project(solids, FRONT, everything(solids.plan)), Sketch()
    show(sketch, work, WINDOW)
    left, top, _, _ = WINDOW.box(work.bounds)
    drawing = drawing_of(sketch)
    assert part_at(drawing, solids, left - 5.0, top - 5.0) is None
    assert part_at(drawing, solids, left - 0.3, top + 1.0) is not None, "a hair beside the outline is still the part"
    assert part_at(Drawing("none", "cover", "", "", "", 1.0, 1.0, None), solids, 0.5, 0.5) is None


def test_panes_move_with_the_sketch_and_later_ones_lie_above(solids: Solids) -> None:
    work, sketch = project(solids, FRONT, everything(solids.plan)), Sketch()
    show(sketch, work, WINDOW)
    show_alone(sketch, "one.alone", (0.0, 0.0, 300.0, 300.0))
    moved = drawing_of(sketch.moved(30.0, 20.0))
    assert part_at(moved, solids, 329.0, 319.0) == "one.alone"
    assert part_at(moved, solids, 25.0, 15.0) is None
    sketch.panes = clipped(sketch.panes, (10.0, 10.0), 5.0)
    assert Counter(pane.box for pane in sketch.panes)[5.0, 5.0, 15.0, 15.0] >= 1
