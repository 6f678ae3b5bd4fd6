"""Parts made a second time with OpenCASCADE, from the features alone, for comparison. A test-only dependency.

Flat features are exact. Bores come in two kinds: true cylinders, and the same regular polygons as the solids (``faceted``); round-overs
only as the same facets, whose distance from the true arc is stated and tested in ``tests/solids``.
"""

from __future__ import annotations

from math import cos, pi, sin, sqrt

import numpy as np
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps

from drawleaf.model.place import Box
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Part
from drawleaf.solids.cutters import arc_facets, facets_of


def shape_of(part: Part, faceted: bool = True):
    """The part as an OpenCASCADE shape."""
    shape = _box(part.body, ())
    for feature in part.features:
        match feature:
            case BoxCut():
                tool = _box(feature.box, feature.open)
            case Bore():
                tool = _bore(feature, faceted)
            case EdgeProfile():
                tool = _edge(feature, part)
        cut = BRepAlgoAPI_Cut(shape, tool)
        assert cut.IsDone()
        shape = cut.Shape()
    return shape


def volume_and_area(shape) -> tuple[float, float]:
    inside, surface = GProp_GProps(), GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, inside)
    BRepGProp.SurfaceProperties_s(shape, surface)
    return inside.Mass(), surface.Mass()


def _box(box: Box, open_faces):
    low = [span.low.mm for span in (box.x, box.y, box.z)]
    high = [span.high.mm for span in (box.x, box.y, box.z)]
    for face in open_faces:
        (low if face.side < 0 else high)[face.axis.index] += 3.0 * face.side
    return BRepPrimAPI_MakeBox(gp_Pnt(*low), gp_Pnt(*high)).Shape()


def _prism(points: np.ndarray, along: np.ndarray):
    outline = BRepBuilderAPI_MakePolygon()
    for point in points:
        outline.Add(gp_Pnt(*map(float, point)))
    outline.Close()
    face = BRepBuilderAPI_MakeFace(outline.Wire())
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(*map(float, along))).Shape()


def _bore(bore: Bore, faceted: bool):
    direction = np.array(bore.direction) / np.linalg.norm(bore.direction)
    radius = bore.diameter.mm / 2
    slant = abs(float(direction @ np.array(bore.face.normal)))
    before = 2.0 + radius / max(slant, 0.01) * sqrt(1 - min(1.0, slant) ** 2)
    start = np.array(bore.start.mm) - before * direction
    length = before + bore.depth.mm if bore.depth else 3000.0
    if not faceted:
        axis = gp_Ax2(gp_Pnt(*map(float, start)), gp_Dir(*map(float, direction)))
        return BRepPrimAPI_MakeCylinder(axis, radius, length).Shape()
    count = facets_of(radius)
    equal = radius * sqrt(pi / (count / 2 * sin(2 * pi / count)))
    # First corner: towards x for an upright bore, else towards the top.
    helper = np.array([1.0, 0, 0]) if abs(direction[2]) > 0.9 else np.array([0, 0, 1.0])
    first = helper - direction * (direction @ helper)
    first /= np.linalg.norm(first)
    second = np.cross(direction, first)
    turns = [2 * pi * i / count for i in range(count)]
    ring = np.array([start + equal * (cos(t) * first + sin(t) * second) for t in turns])
    return _prism(ring, direction * length)


def _edge(profile: EdgeProfile, part: Part):
    one, other = profile.edge
    size, out = profile.size.mm, 2.0
    run = ({0, 1, 2} - {one.axis.index, other.axis.index}).pop()
    spans = (part.body.x, part.body.y, part.body.z)
    corner = np.zeros(3)
    corner[one.axis.index], corner[other.axis.index] = part.body.face(one).mm, part.body.face(other).mm
    corner[run] = spans[run].low.mm - out
    if profile.kind == "chamfer":
        outline = [(-out, -out), (size + out, -out), (-out, size + out)]
    else:
        count = arc_facets(size)
        arc = [(size * (1 - sin(pi / 2 * i / count)), size * (1 - cos(pi / 2 * i / count))) for i in range(count + 1)]
        outline = [(-out, -out), (size, -out), *arc, (-out, size)]
    u, v = -np.array(one.normal), -np.array(other.normal)
    along = np.zeros(3)
    along[run] = spans[run].extent.mm + 2 * out
    return _prism(np.array([corner + a * u + b * v for a, b in outline]), along)
