"""Parts made a second time with OpenCASCADE, from the features alone, upright, for comparison. A test-only dependency.

Flat features are exact. Bores come in two kinds: true cylinders, and the same regular polygons as the solids (``faceted``); round-overs
only as the same facets, whose distance from the true arc is stated and tested in ``tests/solids``. Outlines and sections always have their
true arcs: ``arc_slack`` is what the facets of the solids may differ from them.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, hypot, pi, radians, sin, sqrt

import numpy as np
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakePrism
from OCP.collections import List_TopoDS_Shape
from OCP.gp import gp_Ax2, gp_Dir, gp_Pln, gp_Pnt, gp_Vec
from OCP.GProp import GProp_GProps

from drawleaf.derive.cut_list.shape_key import shape_keys
from drawleaf.model.place import Axis, Box
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Part
from drawleaf.model.shapes import Outline, OutlineCut, PlaneCut
from drawleaf.solids.cutters import ARC_TOLERANCE, arc_facets, facets_of
from drawleaf.solids.sweeps import Stretch
from outside.recipe import Sweep
from outside.recipe_occ import _sweep as swept


def shape_of(part: Part, faceted: bool = True):
    """The part as an OpenCASCADE shape."""
    shape = _box(part.body, ()) if part.section is None else _section(part)
    if not part.features:
        return shape
    tools = List_TopoDS_Shape()
    for feature in part.features:
        match feature:
            case BoxCut():
                tool = _box(feature.box, feature.open)
            case Bore():
                tool = _bore(feature, faceted)
            case EdgeProfile():
                tool = _edge(feature, part)
            case OutlineCut():
                tool = _outlined(feature)
            case PlaneCut():
                tool = _beyond(feature)
        tools.Append(tool)
    # All at once: one after another each cut would look at all faces of those before it.
    cut, blank = BRepAlgoAPI_Cut(), List_TopoDS_Shape()
    blank.Append(shape)
    cut.SetArguments(blank)
    cut.SetTools(tools)
    cut.Build()
    assert cut.IsDone()
    return cut.Shape()


def one_of_each(parts: Iterable[Part]) -> list[Part]:
    """The parts without those that stand the same way and are cut the same as one before: their solids are made alike."""
    return list(
        {
            (part.length_axis, part.thickness, part.size, shape_keys(part)[0]): part for part in reversed([*parts])
        }.values()
    )


def arc_slack(part: Part) -> tuple[float, float]:
    """How much volume and area the facets of a part's outlines, section and moulded edges may be off: a segment's area is two thirds of
    its chord by its height, and the height is at most the stated tolerance."""
    volume = area = 0.0
    curves = [(cut.outline, cut.span.extent.mm) for cut in part.features if isinstance(cut, OutlineCut)]
    if part.section is not None:
        curves.append((part.section.outline, part.body.extent(part.length_axis).mm))
    for outline, length in curves:
        arcs = sum(_arc_length(outline, number) for number in range(len(outline.corners)))
        volume += arcs * length * ARC_TOLERANCE
        area += arcs * (2.0 * ARC_TOLERANCE + length * 2e-3)
    for edge in part.features:
        if isinstance(edge, EdgeProfile) and edge.kind in ("cove", "ogee", "bead"):
            run = max(part.body.extent(axis).mm for axis in Axis)
            volume += edge.size.mm * 2.0 * run * ARC_TOLERANCE
            area += edge.size.mm * 2.0 * run * 2e-3
    return volume, area


def _arc_length(outline: Outline, number: int) -> float:
    one, other = outline.corners[number], outline.corners[(number + 1) % len(outline.corners)]
    if not one.turn:
        return 0.0
    chord = hypot((other.u - one.u).mm, (other.v - one.v).mm)
    half = radians(abs(one.turn)) / 2.0
    return chord * half / sin(half)


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


def _section(part: Part):
    """The blank of a moulding, or a true cylinder."""
    section = part.section
    span = part.body.span(section.outline.axis)
    if not section.round:
        return _run(section.outline, span.low.mm, span.high.mm)
    a, b = section.outline.axis.others()
    start, direction = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    for axis in (a, b):
        start[axis.index] = part.body.span(axis).middle.mm
    start[section.outline.axis.index], direction[section.outline.axis.index] = span.low.mm, 1.0
    return BRepPrimAPI_MakeCylinder(
        gp_Ax2(gp_Pnt(*start), gp_Dir(*direction)), part.body.extent(a).mm / 2, span.extent.mm
    ).Shape()


def _run(outline: Outline, low: float, high: float):
    """An outline with its true arcs, run along its axis."""
    corners = outline.corners
    section = tuple(
        Stretch((after.u.mm, after.v.mm), one.turn)
        for one, after in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
    u, v = (np.eye(3)[axis.index] for axis in outline.axis.others())
    # The run goes along u x v, which for y points to the front.
    forward = np.cross(u, v)[outline.axis.index] > 0
    origin = np.eye(3)[outline.axis.index] * (low if forward else high)
    start = (corners[0].u.mm, corners[0].v.mm)
    return swept(Sweep(start, section, tuple(origin), tuple(u), tuple(v), high - low))


def _outlined(cut: OutlineCut):
    axis = cut.outline.axis
    low = cut.span.low.mm - (2.0 if axis.low in cut.open else 0.0)
    high = cut.span.high.mm + (2.0 if axis.high in cut.open else 0.0)
    inside = _run(cut.outline, low, high)
    if not cut.keep:
        return inside
    size, place = [8000.0] * 3, [-4000.0] * 3
    size[axis.index], place[axis.index] = high - low, low
    around = BRepPrimAPI_MakeBox(gp_Pnt(*place), *size).Shape()
    return BRepAlgoAPI_Cut(around, inside).Shape()


def _beyond(cut: PlaneCut):
    """A large block on the far side of the plane."""
    point, normal = gp_Pnt(*cut.point.mm), gp_Dir(*cut.normal)
    face = BRepBuilderAPI_MakeFace(gp_Pln(point, normal), -4000.0, 4000.0, -4000.0, 4000.0).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(normal) * 8000.0).Shape()


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
    if profile.kind in ("cove", "ogee", "bead"):
        return _moulded(profile, part, run)
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


def _moulded(profile: EdgeProfile, part: Part, run: int):
    """A cove, ogee or bead with its true arcs, drawn from their meaning: quarter circles of the stated radii."""
    one, other = profile.edge
    size, out = profile.size.mm, 2.0
    half, step = size / 2, size / 5
    middle = {
        "cove": (Stretch((size, 0)), Stretch((0, size), 90)),
        "ogee": (Stretch((size, 0)), Stretch((half, half), -90), Stretch((0, size), 90)),
        "bead": (Stretch((size, step)), Stretch((step, size), -90)),
    }[profile.kind]
    section = (Stretch((size, -out)), *middle, Stretch((-out, size)), Stretch((-out, -out)))
    u, v = -np.array(one.normal), -np.array(other.normal)
    span = (part.body.x, part.body.y, part.body.z)[run]
    corner = np.zeros(3)
    corner[one.axis.index], corner[other.axis.index] = part.body.face(one).mm, part.body.face(other).mm
    corner[run] = span.low.mm - out if np.cross(u, v)[run] > 0 else span.high.mm + out
    return swept(Sweep((-out, -out), section, tuple(corner), tuple(u), tuple(v), span.extent.mm + 2 * out))
