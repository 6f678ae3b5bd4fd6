"""The same comparison on parts made to be awkward."""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin

import pytest

from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Bore, Part
from drawleaf.model.shapes import Corner, Outline, OutlineCut, PlaneCut, Section
from drawleaf.solids.build import part_solid
from outside.occt import arc_slack, shape_of, volume_and_area
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


def outline(axis: Axis, *corners: tuple[float, ...]) -> Outline:
    return Outline(axis, tuple(Corner(mm(u), mm(v), *turn) for u, v, *turn in corners))


def along_outline(shape: Outline, low: float, high: float, keep: bool, *opens: Face) -> OutlineCut:
    return OutlineCut("shape", shape.axis.high, shape, Span(mm(low), mm(high)), opens, keep, None, HERE)


def moulded(name: str, axis: Axis, shape: Outline, *features) -> Part:
    return replace(part(name, BOARD, *features), grain=axis, section=Section("own", shape))


MITRE = PlaneCut("mitre", Face.LEFT, Point(mm(0.1), mm(0.2), mm(0)), (-cos(pi / 4), sin(pi / 4), 0.0), None, HERE)
TILTED = PlaneCut("end", Face.RIGHT, Point(mm(550), mm(150), mm(9)), (0.9, 0.3, 0.1), None, HERE)
THROUGH = (Face.BOTTOM, Face.TOP)
COVE = outline(Axis.X, (0.2, 0), (300.4, 0), (300.4, 6), (60, 18.25625, -70), (0.2, 18.25625))

SHAPED = [
    part("arched", BOARD, along_outline(outline(Axis.Z, (0.1, 0.2), (600.3, 0.2), (600.3, 200, 120), (300, 250, -40), (0.1, 200)), 0, 18.25625, True, *THROUGH)),
    part("hand hole", BOARD, along_outline(outline(Axis.Z, (200, 100), (300, 100, 180), (300, 140), (200, 140, 180)), 0, 18.25625, False, *THROUGH)),
    part("pocket with arcs", BOARD, along_outline(outline(Axis.Z, (50, 50), (250, 60, 90), (250, 200), (70, 150, -60)), 10, 18.25625, False, Face.TOP)),
    part("across y", BOARD, along_outline(outline(Axis.Y, (0.1, 0), (600.3, 0), (600.3, 18.25625), (300, 12, -10), (0.1, 18.25625)), 0.2, 300.4, True, Face.FRONT, Face.BACK)),
    part("across x", BOARD, along_outline(outline(Axis.X, (100, 4), (200, 4, 90), (210, 14), (100, 14)), 0.1, 600.3, False, Face.LEFT, Face.RIGHT)),
    part("mitred", BOARD, MITRE),
    part("cut off askew", BOARD, MITRE, TILTED, hole(Face.TOP, (300, 150, 18.25625), 20)),
    moulded("cove", Axis.X, COVE),
    moulded("mitred cove", Axis.X, COVE, MITRE, TILTED),
    part("coved", BOARD, *(edge("cove", face, Face.TOP, 8) for face in (Face.FRONT, Face.LEFT))),
    part("beaded", BOARD, edge("bead", Face.FRONT, Face.TOP, 10), edge("bead", Face.TOP, Face.BACK, 6)),
    part("ogee", BOARD, edge("ogee", Face.TOP, Face.RIGHT, 12), edge("ogee", Face.FRONT, Face.BOTTOM, 9)),
]  # fmt: skip


@pytest.mark.parametrize("a_part", [*PARTS, *SHAPED], ids=lambda a_part: a_part.id)
def test_agrees(a_part):
    """Straight things to a millionth, arcs of outlines to the tolerance of their facets."""
    volume, area = volume_and_area(shape_of(a_part))
    more_volume, more_area = arc_slack(a_part)
    assert part_solid(a_part).volume == pytest.approx(volume, rel=1e-6, abs=more_volume)
    assert part_solid(a_part).area == pytest.approx(area, rel=1e-6, abs=more_area)


def test_the_slack_is_small():
    """It forgives facets and nothing else: less than a tenth of a percent of any of these parts."""
    assert all(arc_slack(one)[0] < 1e-3 * part_solid(one).volume for one in SHAPED)


@pytest.mark.parametrize("name", ["bores", "pocket"])
def test_volume_agrees_with_true_cylinders(name):
    a_part = next(one for one in PARTS if one.id == name)
    volume, _ = volume_and_area(shape_of(a_part, faceted=False))
    assert part_solid(a_part).volume == pytest.approx(volume, rel=1e-6)
