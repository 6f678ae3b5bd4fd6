"""Profiles along outlines against OpenCASCADE, which chamfers and rounds the edges of the sawn body itself; and splines."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from OCP.BRep import BRep_Tool
from OCP.BRepFilletAPI import BRepFilletAPI_MakeChamfer, BRepFilletAPI_MakeFillet
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp, TopExp_Explorer
from OCP.TopoDS import TopoDS

from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.solids.build import part_solid, upright_solid
from drawleaf.solids.cutters import ARC_TOLERANCE
from outside.occt import arc_slack, shape_of, volume_and_area
from shape_trials import BOX, FRAME, derived_of

PLATE = """\
assemblies:
  plate:
    parts:
      plate: {stock: board, thickness: z, grain: x, left: 0, right: 12, front: 0, back: 5, bottom: 0}
    machining:
      - {in: plate, SHAPE}
      - {in: plate, PROFILE}
"""
STADIUM = "shape: {face: top, outline: [{x: 2, y: 0}, {x: 10, y: 0, rise: 2}, {x: 10, y: 4}, {x: 2, y: 4, rise: 2}]}"
WAVY = "shape: {face: top, outline: [{x: 0, y: 0}, {x: 12, y: 0}, {x: 12, y: 4, rise: -1}, {x: 6, y: 4, rise: 1}, {x: 0, y: 4}]}"
HOLE = "cutout: {face: top, at: {x: 6, y: 2-1/2}, wide: 5, deep: 2-1/2, round: 1}"
SPLINED = FRAME.replace("with: [glue]", "spline: {thickness: 1/8, depth: 3/8}, with: [glue]")


@pytest.mark.parametrize("shape", [STADIUM, WAVY, HOLE], ids=["stadium", "wavy", "opening"])
@pytest.mark.parametrize("kind", ["chamfer", "round_over"])
def test_rims_agree(shape: str, kind: str) -> None:
    """To the tolerance of the facets, along the rim and round the profile."""
    rim = "opening" if shape is HOLE else "outline"
    text = PLATE.replace("SHAPE", shape).replace("PROFILE", f"{kind}: {{edges: [{rim}-top], size: 1/4}}")
    part = derived_of(text).plan.part("plate.plate")
    bare = replace(part, features=tuple(one for one in part.features if not isinstance(one, EdgeProfile)))
    size = 25.4 / 4
    body = shape_of(bare)
    make = BRepFilletAPI_MakeChamfer(body) if kind == "chamfer" else BRepFilletAPI_MakeFillet(body)
    for edge in _rim(body, part, shape is HOLE):
        make.Add(size, edge)
    volume, _ = volume_and_area(make.Shape())
    around = 12 * 25.4 * 4
    slack = arc_slack(bare)[0] + around * size * ARC_TOLERANCE * (pi / 2 if kind == "round_over" else 1.0)
    assert part_solid(part).volume == pytest.approx(volume, abs=slack)
    removed = volume_and_area(shape_of(bare))[0] - volume
    assert slack < 0.15 * removed


def _rim(body, part: Part, opening: bool):
    """The edges at the top face: of the outline, or of the opening."""
    top, found = part.body.z.high.mm, []
    explorer = TopExp_Explorer(body, TopAbs_EDGE)
    while explorer.More():
        edge = TopoDS.Edge(explorer.Current())
        ends = [BRep_Tool.Pnt_s(TopExp.FirstVertex_s(edge)), BRep_Tool.Pnt_s(TopExp.LastVertex_s(edge))]
        inside = all(25.4 < p.X() < 11 * 25.4 and 10 < p.Y() < 4.9 * 25.4 for p in ends)
        known = any(edge.IsSame(other) for other in found)
        if all(abs(p.Z() - top) < 1e-6 for p in ends) and (inside or not opening) and not known:
            found.append(edge)
        explorer.Next()
    return found


@pytest.mark.parametrize("text", [BOX, SPLINED], ids=["case", "frame"])
def test_splines_and_their_slots_agree(text: str) -> None:
    parts = derived_of(text).plan.parts
    assert sum(bool(part.brought) for part in parts) == 4
    for part in parts:
        solid = upright_solid(part)
        volume, area = volume_and_area(shape_of(part))
        assert solid.volume == pytest.approx(volume, rel=1e-6), part.id
        assert solid.area == pytest.approx(area, rel=1e-6), part.id
