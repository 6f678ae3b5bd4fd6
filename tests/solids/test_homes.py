"""Bodies at home: the same as in their places but for the place, and one for all that are shaped alike."""

from __future__ import annotations

import numpy as np
import pytest

from drawleaf.model.place import Point
from drawleaf.model.plan import Plan
from drawleaf.solids.again import build_again
from drawleaf.solids.build import build_solids
from drawleaf.units import Length
from shape_trials import derived_of
from solids_scene import example

EXAMPLES = ("key-ledge", "boot-bench", "record-cabinet", "trestle-table", "step-stool", "tool-tote")
ROUNDED = """\
assemblies:
  plate:
    parts:
      plate: {stock: board, thickness: z, grain: x, left: 3, right: 15, front: 8, back: 12, bottom: 2}
    machining:
      - {in: plate, shape: {face: top, outline: [{x: 5, y: 8}, {x: 13, y: 8, rise: 2}, {x: 13, y: 12}, {x: 5, y: 12, rise: 2}]}}
      - {in: plate, round_over: {edges: [outline-top], size: 1/4}}
"""


def compare(plan: Plan) -> None:
    """Every body at home against the one that was made in its place."""
    solids = build_solids(plan)
    for an_id in (*(part.id for part in plan.parts), *(fitting.id for fitting in plan.fittings)):
        home, there = solids.at_home(an_id), solids.body(an_id)
        if home.solid is None or there is None:
            assert home.solid is there, an_id
            continue
        assert home.solid.volume == pytest.approx(there.volume, rel=1e-9), an_id
        assert np.allclose(home.solid.bounds + home.at, there.bounds, atol=1e-6), an_id
        assert np.allclose(np.array(home.solid.centroid) + home.at, there.centroid, atol=1e-6), an_id
        box = solids.box(an_id)
        assert box is not None
        assert np.allclose(box, there.bounds, atol=1e-6), an_id


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_body_at_home_is_the_body_in_its_place(name: str) -> None:
    compare(example(name))


def test_a_profile_along_an_outline_comes_home_with_its_part() -> None:
    compare(derived_of(ROUNDED).plan)


def test_like_shapes_are_one_body_wherever_they_stand() -> None:
    plan = example("boot-bench")
    solids = build_solids(plan)
    shelves = [part.id for part in plan.parts if part.name == "Shelf"]
    one, other = (solids.at_home(shelf) for shelf in shelves)
    assert one.solid is other.solid
    assert one.at != other.at


def test_what_was_made_of_a_shape_is_kept_while_it_is_used() -> None:
    plan = example("key-ledge")
    last = build_solids(plan)
    home = last.at_home(plan.parts[0].id).solid
    again = build_again(last, plan)
    assert again.at_home(plan.parts[0].id).solid is home
    for _ in range(4):
        again = build_again(again, plan)
    assert not again.homes.shapes, "nobody asked for it in so many rounds"


def test_a_part_elsewhere_is_the_same_part() -> None:
    part = example("tool-tote").parts[0]
    by = Point(*map(Length.of_mm, (3, -40, 500)))
    assert part.moved(by).body.low == part.body.low.shifted(by)
    assert part.moved(by).moved(-by) == part
