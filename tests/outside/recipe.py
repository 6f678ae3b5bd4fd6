"""Parts told as recipes: bodies put together, bodies cut away. Made into solids by our own modeller and by OpenCASCADE."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Part
from drawleaf.solids.sweeps import Stretch

Point = tuple[float, float, float]
OVERSHOOT = 2.0


@dataclass(frozen=True)
class Block:
    """An upright block between two corners."""

    low: Point
    high: Point


@dataclass(frozen=True)
class Rod:
    """A round bar."""

    start: Point
    direction: Point
    radius: float
    length: float


@dataclass(frozen=True)
class Sweep:
    """A section of lines and arcs, run along ``u x v``."""

    start: tuple[float, float]
    section: tuple[Stretch, ...]
    origin: Point
    u: Point
    v: Point
    length: float


@dataclass(frozen=True)
class Turning:
    """A section from the axis out and back to it, carried round; corners are (radius, height)."""

    foot: float
    section: tuple[Stretch, ...]
    origin: Point
    u: Point
    v: Point


Body = Block | Rod | Sweep | Turning


@dataclass(frozen=True)
class Recipe:
    """One part."""

    name: str
    bodies: tuple[Body, ...]
    cuts: tuple[Body, ...] = ()


def block(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> Block:
    return Block((x0, y0, z0), (x1, y1, z1))


def of_part(part: Part) -> Recipe:
    """A part of a plan, from its features alone, true round where it is round."""
    body = [(span.low.mm, span.high.mm) for span in (part.body.x, part.body.y, part.body.z)]
    low, high = zip(*body, strict=True)
    return Recipe(part.id, (Block(low, high),), tuple(_tool(feature, part) for feature in part.features))


def _tool(feature: BoxCut | Bore | EdgeProfile, part: Part) -> Body:
    match feature:
        case BoxCut():
            spans = (feature.box.x, feature.box.y, feature.box.z)
            low, high = [span.low.mm for span in spans], [span.high.mm for span in spans]
            for face in feature.open:
                (low if face.side < 0 else high)[face.axis.index] += OVERSHOOT * face.side
            return Block(tuple(low), tuple(high))
        case Bore():
            direction = np.array(feature.direction) / np.linalg.norm(feature.direction)
            radius = feature.diameter.mm / 2
            slant = max(abs(float(direction @ np.array(feature.face.normal))), 0.01)
            before = OVERSHOOT + radius / slant
            start = np.array(feature.start.mm) - before * direction
            length = before + feature.depth.mm if feature.depth else 3000.0
            return Rod(tuple(start.tolist()), tuple(direction.tolist()), radius, length)
        case EdgeProfile():
            return _edge(feature, part)


def _edge(profile: EdgeProfile, part: Part) -> Sweep:
    one, other = profile.edge
    size, out = profile.size.mm, OVERSHOOT
    run = ({0, 1, 2} - {one.axis.index, other.axis.index}).pop()
    span = (part.body.x, part.body.y, part.body.z)[run]
    u, v = -np.array(one.normal, dtype=float), -np.array(other.normal, dtype=float)
    forward = np.cross(u, v)[run] > 0
    corner = np.zeros(3)
    corner[one.axis.index], corner[other.axis.index] = part.body.face(one).mm, part.body.face(other).mm
    corner[run] = span.low.mm - out if forward else span.high.mm + out
    if profile.kind == "chamfer":
        section = (Stretch((size + out, -out)), Stretch((-out, size + out)), Stretch((-out, -out)))
    else:
        section = (
            Stretch((size, -out)),
            Stretch((size, 0)),
            Stretch((0, size), -90),
            Stretch((-out, size)),
            Stretch((-out, -out)),
        )
    return Sweep(
        (-out, -out), section, tuple(corner.tolist()), tuple(u.tolist()), tuple(v.tolist()), span.extent.mm + 2 * out
    )
