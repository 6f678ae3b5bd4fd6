"""Solid wood, worked out everywhere inside a board: its rings, fibres, pores, rays and knots, so that a face, an edge and an end agree.

A board is cut somewhere out of a tree of its own. The tree's middle runs beside the board; how far away and at which angle decides whether
the board is flat-sawn or quarter-sawn. Proportions of the three kinds of cut, slopes and wander of the tree: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from drawleaf.looks.noise import Floats, Points, bell, cell, noise, roll, wave
from drawleaf.model.colors import Rgb, light
from drawleaf.model.looks import WoodLook

Facing = tuple[float, float, float]
"""The normal of a face in a board's own frame: along the grain, across it, through the thickness."""

_GROUND = 0.30
"""How dark wood is between its rings, from its light colour (0) to its dark one (1)."""
_END_GRAIN = 0.64
"""End grain drinks more finish and throws less light back."""


@dataclass(frozen=True, slots=True)
class Tree:
    """Where a board lies in its tree: the tree's middle at the board's own middle (mm across and through the board), how much it slopes, how
    its rings widen downwards, and their width."""

    across: float
    through: float
    slope: tuple[float, float]
    taper: float
    ring: float


def tree_of(look: WoodLook, seed: int) -> Tree:
    """The tree of a board by its seed."""
    throw = roll(seed, 1)
    flat, rift = throw < 0.68, 0.68 <= throw < 0.90
    turn = 22.0 * bell(seed, 2) if flat else 45.0 + 12.0 * bell(seed, 2) if rift else 82.0 + 6.0 * bell(seed, 2)
    away = look.trunk * (0.55 + 0.95 * roll(seed, 3))
    side = 1.0 if roll(seed, 4) < 0.5 else -1.0
    return Tree(
        away * sin(radians(turn)),
        side * away * cos(radians(turn)),
        (0.008 * bell(seed, 5), 0.008 * bell(seed, 6)),
        0.006 + 0.010 * roll(seed, 7),
        look.rings * (0.8 + 0.45 * roll(seed, 8)),
    )


def wood_color(look: WoodLook, seed: int, at: Points, facing: Facing, texel: float = 0.5) -> Floats:
    """(N, 3) linear RGB of solid wood at points of a board: mm along the grain, across and through it from the board's middle.

    ``facing`` is the normal of the face, in the same frame. ``texel`` is the distance in mm between neighbouring points: what is finer fades
    instead of flickering.
    """
    end = min(1.0, max(0.0, (abs(facing[0]) - 0.35) / 0.5))
    return _shaded(look, seed, wood_darkness(look, seed, at, facing, texel), end * end * (3.0 - 2.0 * end))


def wood_darkness(look: WoodLook, seed: int, at: Points, facing: Facing, texel: float = 0.5) -> Floats:
    """(N) how dark the wood is at points, about 0 for its light colour and 1 for its dark one. Arguments as in ``wood_color``."""
    tree = tree_of(look, seed)
    along, across, through = (np.asarray(values, dtype=np.float32) for values in at)
    bent = 6.0 * wave(seed + 11, along / 340.0), 6.0 * wave(seed + 12, along / 310.0)
    beside = across - (tree.across + tree.slope[0] * along + bent[0])
    above = through - (tree.through + tree.slope[1] * along + bent[1])
    radius = np.hypot(beside, above)
    radius = radius + 2.2 * noise(seed + 21, at, (240.0, 48.0, 48.0)) + 0.7 * noise(seed + 22, at, (85.0, 13.0, 13.0))
    if texel < 2.0:
        radius = radius + 0.16 * noise(seed + 23, at, (28.0, 2.6, 2.6))
    ring = (radius - tree.taper * along) / tree.ring
    knots = _knots(look, seed, tree, along, beside, above, radius) if look.knots else None
    if knots is not None:
        ring = ring + knots[0]
    ring = ring + 0.9 * wave(seed + 31, ring / 4.0)
    number = np.floor(ring)
    share = ring - number
    strength = 0.55 + 0.9 * cell(seed + 41, number.astype(np.int32))
    fall = np.clip((1.0 - share) / 0.07, 0.0, 1.0)
    seen = min(1.0, tree.ring / (2.2 * texel))
    late = (share**look.sharp * fall * strength - 1.0 / (1.0 + look.sharp)) * seen
    dark = _GROUND + look.late * late + 0.8 * look.clouds * noise(seed + 51, at, (310.0, 34.0, 34.0))
    dark = dark + look.streaks * _fibres(seed, at, texel)
    if look.pores is not None:
        dark = dark + _pores(look, seed, at, share, texel)
    if look.rays is not None:
        dark = dark + _ray_darkness(look, tree, facing) * _rays(look, seed, along, beside, above, radius, texel)
    if knots is not None:
        dark = dark + (knots[2] - dark) * knots[1]
    return np.asarray(dark, dtype=np.float32)


def _fibres(seed: int, at: Points, texel: float) -> Floats:
    """Fine streaks along the grain."""
    found = np.zeros(1, np.float32)
    for number, (size, scale) in enumerate(((0.42, (40.0, 0.8)), (0.40, (130.0, 2.4)), (0.30, (9.0, 0.55)))):
        wide = max(scale[1], 0.9 * texel)
        found = found + size * (scale[1] / wide) * noise(seed + 61 + number, at, (scale[0], wide, wide))
    return found


def _pores(look: WoodLook, seed: int, at: Points, share: Floats, texel: float) -> Floats:
    """Pores as short dark strokes; in the early wood of each ring alone, or all over."""
    assert look.pores is not None
    wide = max(look.pores.wide, 0.85 * texel)
    found = np.clip((noise(seed + 71, at, (look.pores.long, wide, wide)) - 0.12) / 0.5, 0.0, 1.0)
    # Strokes that a texel cannot show are fewer and paler, so that the wood is as dark as before.
    found = found * look.pores.dark * (look.pores.wide / wide)
    return found * np.clip((0.42 - share) / 0.24, 0.0, 1.0) if look.pores.early else 0.7 * found


def _ray_darkness(look: WoodLook, tree: Tree, facing: Facing) -> float:
    """Rays that are paler than the wood shine where they are cut broadside; seen from their edges they are dark strokes like all others."""
    assert look.rays is not None
    if look.rays.dark >= 0.0:
        return look.rays.dark
    away = max(1e-6, float(np.hypot(tree.across, tree.through)))
    broadside = min(1.0, abs(facing[1] * tree.through - facing[2] * tree.across) / away)
    return look.rays.dark * (1.4 * broadside - 0.4)


def _rays(
    look: WoodLook, seed: int, along: Floats, beside: Floats, above: Floats, radius: Floats, texel: float
) -> Floats:
    """Rays are thin upright sheets that run from the middle of the tree outwards: short strokes on flat-sawn faces, flakes on quarter-sawn ones,
    spokes on ends, all by one rule."""
    rays = look.rays
    assert rays is not None
    wide = max(rays.wide, 0.5 * texel)
    pitch = 2.6 * wide
    tangent = np.arctan2(beside, above) * np.float32(look.trunk)
    tangent = tangent + 0.8 * wave(seed + 81, along / 60.0)
    column = np.floor(tangent / pitch).astype(np.int32)
    shell = np.floor(radius / 24.0 + 7.0 * cell(seed + 82, column)).astype(np.int32)
    pace = 1.5 * rays.long
    place = along / pace + cell(seed + 83, column, shell)
    row = np.floor(place).astype(np.int32)
    there = cell(seed + 84, column, shell, row) < rays.share
    long = 0.35 + 0.65 * cell(seed + 85, row, column)
    up = (place - row - 0.5) * (2.0 * pace) / (rays.long * long)
    out = (tangent / pitch - column - 0.5) * (2.0 * pitch / wide)
    body = np.clip(1.35 * (1.0 - up * up - out * out), 0.0, 1.0)
    return (rays.wide / wide) * body * there


def _knots(
    look: WoodLook, seed: int, tree: Tree, along: Floats, beside: Floats, above: Floats, radius: Floats
) -> tuple[Floats, Floats, Floats]:
    """Branches that grew out of the tree's middle: how far they push the rings aside (in rings), where they are (0 to 1), how dark they are."""
    shape = np.broadcast_shapes(along.shape, beside.shape, above.shape)
    pushed, there, dark = (np.zeros(shape, np.float32) for _ in range(3))
    middle = np.arctan2(-tree.across, -tree.through)
    every = 1000.0 / look.knots
    first, last = int(np.floor(along.min() / every)) - 1, int(np.ceil(along.max() / every)) + 1
    for number in range(first, last + 1):
        throw = [roll(seed + 91, number, which) for which in range(5)]
        height = (number + throw[0]) * every
        # Only branches that grow towards the board are met; its whole width is within their reach.
        turn = middle + (throw[1] - 0.5) * 1.5
        out = beside * np.float32(sin(turn)) + above * np.float32(cos(turn))
        off = beside * np.float32(cos(turn)) - above * np.float32(sin(turn))
        up = along - (height + 0.25 * out)
        thick = (0.045 + 0.055 * throw[2]) * np.clip(out, 12.0, None)
        far = np.hypot(up / 1.15, off) / thick
        near = (far < 5.0) & (out > 0.0)
        if not near.any():
            continue
        far = np.where(near, far, 9.0)
        pushed += (3.2 * np.exp(-0.55 * far * far) - 1.4 * np.exp(-0.16 * far * far)) * near
        inside = np.clip((1.06 - far) / 0.12, 0.0, 1.0)
        rings = 0.5 + 0.5 * np.sin(far * (7.0 + 5.0 * throw[3])) * np.clip(far * 2.5, 0.0, 1.0)
        rim = np.exp(-(((far - 1.0) / 0.10) ** 2))
        tone = 0.72 + 0.30 * throw[4] + 0.16 * rings + 0.7 * rim
        halo = 0.35 * np.exp(-(((far - 1.2) / 0.5) ** 2))
        weight = np.maximum(np.maximum(inside, rim), halo * near)
        dark = np.where(weight > there, tone, dark)
        there = np.maximum(there, weight)
    return pushed, there, dark


def _shaded(look: WoodLook, seed: int, dark: Floats, end: float) -> Floats:
    """Colours between the light one and the dark one; each board has a tone and a hue of its own."""
    pale, deep = linear(look.light), linear(look.dark)
    color = pale + (deep - pale) * np.clip(dark, -0.15, 1.6)[..., None]
    tone = 1.0 + 0.055 * bell(seed, 9)
    hue = 0.011 * bell(seed, 10)
    tint = np.array([1.0 + hue, 1.0, 1.0 - hue], np.float32) * np.float32(tone * (1.0 - (1.0 - _END_GRAIN) * end))
    return np.clip(color * tint, 0.004, 0.98).astype(np.float32)


def linear(color: Rgb) -> Floats:
    """(3) the light that an sRGB colour (0 to 255) throws back, from 0 to 1."""
    return np.array([light(channel) for channel in color], np.float32)


def to_srgb(shares: Floats) -> Floats:
    """The reverse of ``linear``, as shares from 0 to 1: (N, 3) as given."""
    share = np.clip(shares, 0.0, 1.0)
    return np.where(share <= 0.0031308, share * 12.92, 1.055 * share ** (1.0 / 2.4) - 0.055).astype(np.float32)
