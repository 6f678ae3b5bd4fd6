"""The same comparison on parts made to be awkward."""

from __future__ import annotations

from math import cos, pi, sin

import pytest

from drawleaf.model.place import Face, Point
from drawleaf.model.plan import Bore
from drawleaf.solids.build import part_solid
from outside.occt import shape_of, volume_and_area
from solids_scene import HERE, cut, edge, hole, mm, part

BOARD = (0.1, 600.3, 0.2, 300.4, 0, 18.25625)
SLOPE = 15 * pi / 180

PARTS = [
    part("plain", BOARD),
    part("cuts", BOARD, cut((100, 118, 0.2, 300.4, 12, 18.25625), Face.TOP, Face.FRONT, Face.BACK), cut((0.1, 600.3, 290, 300.4, 10, 18.25625), Face.TOP, Face.BACK, Face.LEFT, Face.RIGHT)),
    part("bores", BOARD, hole(Face.TOP, (50, 50, 18.25625), 6.35, 9), hole(Face.FRONT, (200, 0.2, 9), 8, 30), hole(Face.TOP, (300, 150, 18.25625), 31.75), hole(Face.LEFT, (0.1, 150, 9), 10, 60)),
    part("crossing", BOARD, hole(Face.TOP, (50, 10, 18.25625), 12), hole(Face.FRONT, (50, 0.2, 9), 9, 40), cut((40, 60, 0.2, 30, 6, 18.25625), Face.TOP, Face.FRONT)),
    part("corners", BOARD, *(edge("round-over", face, Face.TOP, 6.35) for face in (Face.FRONT, Face.LEFT, Face.RIGHT))),
    part("all round", BOARD, *(edge("round-over", face, Face.TOP, 4) for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT)), *(edge("chamfer", face, Face.BOTTOM, 3) for face in (Face.FRONT, Face.BACK, Face.LEFT, Face.RIGHT))),
    part("upright", BOARD, edge("round-over", Face.FRONT, Face.TOP, 5), edge("round-over", Face.FRONT, Face.LEFT, 5), edge("round-over", Face.LEFT, Face.TOP, 5)),
    part("pocket", BOARD, Bore("pocket", Face.BOTTOM, Point(mm(40), mm(150), mm(0)), (-cos(SLOPE), 0.0, sin(SLOPE)), mm(9.5), mm(30), None, HERE)),
]  # fmt: skip


@pytest.mark.parametrize("a_part", PARTS, ids=lambda a_part: a_part.id)
def test_agrees(a_part):
    volume, area = volume_and_area(shape_of(a_part))
    assert part_solid(a_part).volume == pytest.approx(volume, rel=1e-6)
    assert part_solid(a_part).area == pytest.approx(area, rel=1e-6)


@pytest.mark.parametrize("name", ["bores", "pocket"])
def test_volume_agrees_with_true_cylinders(name):
    a_part = next(one for one in PARTS if one.id == name)
    volume, _ = volume_and_area(shape_of(a_part, faceted=False))
    assert part_solid(a_part).volume == pytest.approx(volume, rel=1e-6)
