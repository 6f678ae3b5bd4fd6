"""Recipes made into our own solids."""

from __future__ import annotations

import numpy as np
from manifold3d import Manifold, OpType

from drawleaf.solids import cutters
from drawleaf.solids.solid import Curve, Solid
from drawleaf.solids.sweeps import sweep
from drawleaf.solids.turning import turn
from outside.recipe import Block, Body, Recipe, Rod, Sweep, Turning


def solid_of(recipe: Recipe) -> Solid:
    curves: list[Curve] = []
    shape = Manifold.batch_boolean([_body(body, curves) for body in recipe.bodies], OpType.Add)
    if recipe.cuts:
        shape -= Manifold.batch_boolean([_body(body, curves) for body in recipe.cuts], OpType.Add)
    return Solid(shape, tuple(curves))


def _body(body: Body, curves: list[Curve]) -> Manifold:
    match body:
        case Block():
            return cutters.block(np.array(body.low), np.array(body.high))
        case Rod():
            bar, curve = cutters.cylinder(np.array(body.start), body.direction, body.radius, body.length)
            curves.append(curve)
            return bar
        case Sweep():
            u, v = np.array(body.u), np.array(body.v)
            frame = np.array([u, v, np.cross(u, v)])
            bar, found = sweep(body.start, body.section, np.array(body.origin), frame, body.length)
            curves.extend(found)
            return bar
        case Turning():
            u, v = np.array(body.u), np.array(body.v)
            bar, found = turn(body.foot, body.section, np.array(body.origin), np.array([u, v, np.cross(u, v)]))
            curves.extend(found)
            return bar
