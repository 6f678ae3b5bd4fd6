"""Bought items and fasteners as plain shapes that a reader knows at a glance. They are for drawings, not for proofs."""

from __future__ import annotations

import numpy as np

from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.plan import Fastener, Fitting
from drawleaf.model.screw_sizes import thickness_of
from drawleaf.solids.cutters import block, box_of, cylinder
from drawleaf.solids.hardware_bodies import SHAPES
from drawleaf.solids.pieces import pin_box
from drawleaf.solids.solid import Solid


def fitting_solid(fitting: Fitting) -> Solid | None:
    """A simple shape by the kind of the item, inside the room that its body takes."""
    if fitting.body is None:
        return None
    low, high = box_of(fitting.body)
    if (high - low).min() <= 0.0:
        return None
    shape = SHAPES.get(fitting.item.family)
    return Solid(block(low, high)) if shape is None else shape(fitting, low, high)


def fastener_solid(fastener: Fastener) -> Solid:
    """A round bar as thick as the shank, with a head where it has one; pointed things are not needed at this scale."""
    item = fastener.item
    length = item.length.mm if item.length else 25.0
    thick = shank_of(item)
    start = np.array(fastener.at.mm)
    bar, curve = cylinder(start, fastener.direction, thick / 2.0, length)
    if item.pin:
        return Solid(bar, (curve,)) if fastener.wide is None else _loose_tenon(fastener)
    head, rim = cylinder(start, fastener.direction, thick, min(2.0, length / 4.0))
    return Solid(bar + head, (curve, rim))


def _loose_tenon(fastener: Fastener) -> Solid:
    """A flat tenon with half-round edges, as loose tenons are sold: they fit the round ends that a router or a bit leaves."""
    assert fastener.wide is not None
    low, high = pin_box(fastener)
    flat, start = fastener.wide.index, np.array(fastener.at.mm)
    radius = shank_of(fastener.item) / 2.0
    middle = low.copy(), high.copy()
    middle[0][flat] += radius
    middle[1][flat] -= radius
    body, curves = block(*middle), []
    for place in (middle[0][flat], middle[1][flat]):
        edge = start.copy()
        edge[flat] = place
        bar, curve = cylinder(
            edge, fastener.direction, radius, fastener.item.length.mm if fastener.item.length else 0.0
        )
        body += bar
        curves.append(curve)
    return Solid(body, tuple(curves))


def shank_of(item: HardwareItem) -> float:
    """The thickness of a fastener's shank in millimetres; that of a common brad where its item does not say."""
    thick = thickness_of(item)
    return 1.2 if thick is None else thick.mm
