"""Recipes made into OpenCASCADE shapes, and their lines with OpenCASCADE's exact hidden-line algorithm. A test-only dependency."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

import numpy as np
from OCP.BRep import BRep_Builder
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.GC import GC_MakeArcOfCircle
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.GeomAbs import GeomAbs_Line
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Compound

from drawleaf.draw.sight.view import View
from drawleaf.solids.sweeps import Stretch
from outside.recipe import Block, Body, Recipe, Rod, Sweep, Turning

DEFLECTION = 0.002
"""Millimetres that chords may leave a curve."""


def shape_of(recipe: Recipe):
    """The part with seams between coplanar faces taken out."""
    first, *others = (_body(body) for body in recipe.bodies)
    shape = first
    for other in others:
        shape = BRepAlgoAPI_Fuse(shape, other).Shape()
    for body in recipe.cuts:
        cut = BRepAlgoAPI_Cut(shape, _body(body))
        assert cut.IsDone(), recipe.name
        shape = cut.Shape()
    unify = ShapeUpgrade_UnifySameDomain(shape, True, True, False)
    unify.Build()
    shape = unify.Shape()
    # Tells where faces run smoothly into one another; without it such an edge would be drawn as a sharp one.
    BRepLib.EncodeRegularity_s(shape, 1e-6)
    return shape


def moved(shape, by: Sequence[float]):
    move = gp_Trsf()
    move.SetTranslation(gp_Vec(*map(float, by)))
    return BRepBuilderAPI_Transform(shape, move, True).Shape()


def compound(shapes):
    builder, whole = BRep_Builder(), TopoDS_Compound()
    builder.MakeCompound(whole)
    for shape in shapes:
        builder.Add(whole, shape)
    return whole


def hidden_lines(shape, view: View):
    """OpenCASCADE's exact algorithm; its answer still to be read."""
    right, _, toward = (tuple(map(float, axis)) for axis in view.axes)
    algorithm = HLRBRep_Algo()
    algorithm.Add(shape)
    algorithm.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*toward), gp_Dir(*right))))
    algorithm.Update()
    algorithm.Hide()
    return HLRBRep_HLRToShape(algorithm)


def visible(shape, view: View) -> tuple[list[np.ndarray], list[np.ndarray]]:
    """Visible sharp edges and outlines on paper: straight ones, and chords of curved ones."""
    answer = hidden_lines(shape, view)
    straight, curved = [], []
    for found in (answer.VCompound(), answer.OutLineVCompound()):
        if found is None or found.IsNull():
            continue
        BRepLib.BuildCurves3d_s(found)
        explorer = TopExp_Explorer(found, TopAbs_EDGE)
        while explorer.More():
            curve = BRepAdaptor_Curve(TopoDS.Edge(explorer.Current()))
            if curve.GetType() == GeomAbs_Line:
                ends = [curve.Value(curve.FirstParameter()), curve.Value(curve.LastParameter())]
                straight.append(np.array([(p.X(), p.Y()) for p in ends]))
            else:
                chords = GCPnts_QuasiUniformDeflection(curve, DEFLECTION)
                points = [chords.Value(i + 1) for i in range(chords.NbPoints())]
                curved.append(np.array([(p.X(), p.Y()) for p in points]))
            explorer.Next()
    return straight, curved


def _body(body: Body):
    match body:
        case Block():
            return BRepPrimAPI_MakeBox(gp_Pnt(*body.low), gp_Pnt(*body.high)).Shape()
        case Rod():
            axis = gp_Ax2(gp_Pnt(*body.start), gp_Dir(*body.direction))
            return BRepPrimAPI_MakeCylinder(axis, body.radius, body.length).Shape()
        case Sweep():
            return _sweep(body)
        case Turning():
            return _turning(body)


def _sweep(body: Sweep):
    u, v = np.array(body.u), np.array(body.v)
    face = _face(body.start, body.section, np.array(body.origin), u, v)
    return BRepPrimAPI_MakePrism(face, gp_Vec(*map(float, np.cross(u, v) * body.length))).Shape()


def _turning(body: Turning):
    origin, u, axis = np.array(body.origin), np.array(body.u), np.cross(body.u, body.v)
    face = _face((0.0, body.foot), (*body.section, Stretch((0.0, body.foot))), origin, u, axis)
    return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(*body.origin), gp_Dir(*map(float, axis)))).Shape()


def _face(start: tuple[float, float], section: Sequence[Stretch], origin: np.ndarray, u: np.ndarray, v: np.ndarray):
    """The section as a plane face."""

    def place(x: float, y: float) -> gp_Pnt:
        return gp_Pnt(*map(float, origin + x * u + y * v))

    wire = BRepBuilderAPI_MakeWire()
    at = start
    for one in section:
        if one.turn:
            edge = GC_MakeArcOfCircle(place(*at), place(*_middle(at, one.to, one.turn)), place(*one.to)).Value()
            wire.Add(BRepBuilderAPI_MakeEdge(edge).Edge())
        else:
            wire.Add(BRepBuilderAPI_MakeEdge(place(*at), place(*one.to)).Edge())
        at = one.to
    return BRepBuilderAPI_MakeFace(wire.Wire()).Face()


def _middle(start: tuple[float, float], end: tuple[float, float], turn: float) -> tuple[float, float]:
    """The point halfway along an arc: to the right of the chord for an anticlockwise one."""
    half = radians(turn) / 2
    rise = (1 - cos(half)) / sin(half) / 2
    dx, dy = end[0] - start[0], end[1] - start[1]
    return ((start[0] + end[0]) / 2 + dy * rise, (start[1] + end[1]) / 2 - dx * rise)
