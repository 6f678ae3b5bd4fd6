"""What can be seen of faces: areas worked out by hand."""

from __future__ import annotations

import pytest
import shapely
from tests.conftest import drawn, solids_of

from drawleaf.draw.sight import view as views
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import View
from drawleaf.model.place import Face
from drawleaf.solids.build import build_solids
from solids_scene import hole, part, plan

CUBE = (0, 10, 0, 10, 0, 10)


def test_areas_of_one_behind_another():
    solids = build_solids(plan(part("a", CUBE), part("b", (4, 14, 20, 30, 0, 10))))
    work = project(solids, views.FRONT, ["b", "a"])
    assert work.outline("a").area == pytest.approx(100)
    assert work.outline("b").area == pytest.approx(40)
    assert work.outline("nothing").is_empty


def test_what_shows_through_a_hole():
    block = part("a", CUBE, hole(Face.FRONT, (5, 0, 5), 4))
    solids = build_solids(plan(block, part("b", (0, 10, 20, 30, 0, 10))))
    work = project(solids, views.FRONT, ["a", "b"])
    hole_area = 3.141592653589793 * 4
    assert work.outline("a").area == pytest.approx(100 - hole_area)
    assert work.outline("b").area == pytest.approx(hole_area)


def test_faces_of_a_cube_share_the_isometric_hexagon():
    work = project(build_solids(plan(part("a", CUBE))), views.ISOMETRIC, ["a"])
    assert [round(face.region.area, 6) for face in work.shaded_faces] == [round(100 / 3**0.5, 6)] * 3
    assert sorted(face.normal for face in work.shaded_faces) == [(0, -1, 0), (0, 0, 1), (1, 0, 0)]


def test_crossing_depths():
    """A bar through a ring of parts: before one, behind the other, so no order of painting is right."""
    bars = [
        part("a", (0, 30, 0, 2, 0, 2)),
        part("b", (20, 22, -10, 0, -10, 30)),
        part("c", (5, 7, 2, 12, -10, 30)),
    ]
    work = project(build_solids(plan(*bars)), views.FRONT, ["a", "b", "c"])
    assert work.outline("a").area == pytest.approx(60 - 4)
    assert work.outline("b").area == pytest.approx(80)
    assert work.outline("c").area == pytest.approx(80 - 4)


@pytest.mark.parametrize("view", [views.PICTORIAL, views.ISOMETRIC, views.FRONT, views.PICTORIAL_BACK])
def test_visible_regions_tile_the_whole_outline(view):
    """What is seen of all parts adds up to the shadow of them all, and no two overlap."""
    parts = [
        part("a", CUBE),
        part("b", (10, 30, 2, 8, 0, 10)),
        part("c", (0, 10, 0, 10, 10, 14), hole(Face.TOP, (5, 5, 14), 3)),
        part("d", (-5, 40, 12, 15, -5, 20)),
    ]
    solids = build_solids(plan(*parts))
    work = project(solids, view, [one.id for one in parts])
    alone = [project(solids, view, [one.id]).outline(one.id) for one in parts]
    shadow = shapely.union_all(alone)
    seen = [work.outline(one.id) for one in parts]
    assert sum(region.area for region in seen) == pytest.approx(shadow.area, rel=1e-5)
    assert shapely.union_all(seen).area == pytest.approx(shadow.area, rel=1e-5)


def test_no_face_is_lost_where_areas_become_one() -> None:
    """The side of a case with two rows of pin holes, under a seat on its way down: the strip of its top edge is part of its outline."""
    derived, drawings = drawn("boot-bench")
    step = next(step for step in derived.steps if step.title == "Screw the seat top to the case")
    pane = drawings.steps[step.number].panes[0]
    assert pane.sight is not None
    work = project(
        solids_of("boot-bench"),
        View("step", pane.sight.axes[2], pane.sight.axes[1]),
        pane.shown,
        dict(pane.sight.offsets),
    )
    for an_id in ("case.side", "case.side.mirrored", "seat.top"):
        faces = [face.region.area for face in work.shaded_faces if face.part == an_id]
        assert sum(faces) > 1000
        assert work.outline(an_id).area == pytest.approx(sum(faces), rel=1e-4)
