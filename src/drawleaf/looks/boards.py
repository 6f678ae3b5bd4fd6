"""What a part is made of, board by board: a strip or several glued side by side, plywood with its plies, fibreboard."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from drawleaf.looks.noise import Floats, Points, cell, noise, roll
from drawleaf.looks.wood import Facing, linear, wood_color
from drawleaf.model.looks import Build, WoodLook

_NEXT_STRIP = 7919
_GLUE_LINE, _GLUE_DARK = 0.35, 0.22
_PLY_GLUE, _PLY_GLUE_DARK = 0.13, 0.45
_LEAF = 190.0
"""Millimetres to the width of a sliced veneer; its neighbours are turned over like the pages of a book."""


@dataclass(frozen=True, slots=True)
class Board:
    """A part as wood. ``size`` is its length along the grain, width and thickness in mm; ``seed`` tells its boards from others. ``strip`` is the
    width in mm of the strips that it is glued up from, 0 for one piece. ``shift`` is how far along its board it was cut, in mm."""

    look: WoodLook
    size: tuple[float, float, float]
    seed: int
    strip: float = 0.0
    shift: float = 0.0


def board_color(board: Board, at: Points, facing: Facing, texel: float) -> Floats:
    """(N, 3) linear RGB at points of a part in mm from its middle (along, across, through); ``facing`` is the normal of the face in the same
    frame, ``texel`` the distance in mm between points."""
    look = board.look
    along, across, through = at
    at = along + np.float32(board.shift), across, through
    match look.build:
        case Build.PRESSED:
            return _fibreboard(board, at, facing)
        case Build.ROTARY | Build.SLICED:
            return _plywood(board, at, facing, texel)
    strip = board.strip or look.strips

    def one(seed: int, points: Points) -> Floats:
        return wood_color(look, seed, points, facing, texel)

    return _in_strips(board, at, strip, one) if strip and strip < board.size[1] - 1.0 else one(board.seed, at)


def _in_strips(
    board: Board, at: Points, strip: float, one: Callable[[int, Points], Floats], glue: bool = True
) -> Floats:
    """Strip by strip across the board; each is a board of its own, with a thin line of glue between."""
    along, across, through = at
    place = (across + np.float32(board.size[1] / 2.0)) / np.float32(strip)
    number = np.floor(np.clip(place, 0.0, board.size[1] / strip - 1e-4)).astype(np.int64)
    shape = np.broadcast_shapes(along.shape, across.shape, through.shape)
    found = np.empty((*shape, 3), np.float32)
    runs = [dimension for dimension, size in enumerate(across.shape) if size > 1]
    for index in np.unique(number).tolist():
        middle = np.float32((index + 0.5) * strip - board.size[1] / 2.0)
        seed = board.seed + _NEXT_STRIP * index
        if len(runs) <= 1:
            inside = np.flatnonzero(number.reshape(-1) == index)
            cut = [slice(None)] * len(shape)
            if runs:
                cut[runs[0]] = slice(int(inside[0]), int(inside[-1]) + 1)
            piece = [_cut(values, cut) for values in (along, across, through)]
            found[tuple(cut)] = one(seed, (piece[0], piece[1] - middle, piece[2]))
        else:
            inside = np.broadcast_to(number, shape) == index
            a, b, c = (np.broadcast_to(values, shape)[inside] for values in (along, across, through))
            found[inside] = one(seed, (a, b - middle, c))
    if glue:
        inner = (place > 0.5) & (place < board.size[1] / strip - 0.5)
        near = np.abs(place - np.round(place)) * strip < _GLUE_LINE
        found = found * (1.0 - _GLUE_DARK * (near & inner).astype(np.float32))[..., None]
    return found


def _cut(values: Floats, cut: list[slice]) -> Floats:
    """A stretch of an array, along the dimensions in which it is spread out."""
    return values[tuple(part if size > 1 else slice(None) for part, size in zip(cut, values.shape, strict=True))]


def _plywood(board: Board, at: Points, facing: Facing, texel: float) -> Floats:
    """Faces of veneer; on the edges the plies, turned crosswise in turn, with glue between them."""
    if abs(facing[2]) > 0.8:
        side = 1 if facing[2] > 0 else 2
        return _veneer(board, board.seed + side, at, texel)
    thick = board.size[2]
    plies = _plies(thick, board.look.plies)
    along, across, through = at
    place = np.clip((through + np.float32(thick / 2.0)) / np.float32(thick / plies), 0.0, plies - 1e-4)
    number = np.floor(place).astype(np.int32)
    crosswise = number % 2 == 1
    end_on = crosswise if abs(facing[0]) < abs(facing[1]) else ~crosswise
    run = across if abs(facing[0]) > abs(facing[1]) else along
    tone = 0.86 + 0.22 * cell(board.seed + 301, number)
    streaks = noise(board.seed + 302, (run, through, np.zeros(1, np.float32)), (9.0, 0.45, 1.0))
    grain = noise(board.seed + 303, (run, through, np.zeros(1, np.float32)), (1.1, 0.6, 1.0))
    light, dark = linear(board.look.light), linear(board.look.dark)
    share = 0.35 + np.where(end_on, 0.18 * grain, 0.16 * streaks)
    color = light + (dark - light) * np.asarray(share, np.float32)[..., None]
    shade = tone * np.where(end_on, 0.66, 0.94)
    line = np.abs(place - np.round(place)) * (thick / plies)
    inner = (place > 0.5) & (place < plies - 0.5)
    wide = max(_PLY_GLUE, 0.5 * texel)
    shade = shade * (1.0 - _PLY_GLUE_DARK * (_PLY_GLUE / wide) * ((line < wide) & inner))
    return np.clip(color * np.asarray(shade, np.float32)[..., None], 0.004, 0.98).astype(np.float32)


def _plies(thick: float, ply: float) -> int:
    """An odd number of plies, three or more."""
    return max(3, 2 * round((thick / max(ply, 0.3) - 1.0) / 2.0) + 1)


def _veneer(board: Board, seed: int, at: Points, texel: float) -> Floats:
    look = board.look
    if look.build is Build.SLICED:
        flat = replace(look, trunk=3.0 * look.trunk, rings=1.2 * look.rings)

        def leaf(turned: int, points: Points) -> Floats:
            # One leaf after the other of one log: each is its neighbour's picture in a mirror.
            over = -1.0 if ((turned - seed) // _NEXT_STRIP) % 2 else 1.0
            return wood_color(flat, seed, (points[0], points[1] * np.float32(over), points[2]), (0.0, 0.0, 1.0), texel)

        return _in_strips(replace(board, seed=seed), at, _LEAF, leaf, glue=False)
    # A log turned against a knife: its rings are met again and again at a low angle, in broad uneven bands.
    along, across, through = at
    flat_at = along, across, np.zeros(1, np.float32)
    depth = 2.1 * noise(seed + 401, flat_at, (520.0, 120.0, 1.0)) + 0.8 * noise(seed + 402, flat_at, (190.0, 42.0, 1.0))
    depth = depth + 0.22 * noise(seed + 403, flat_at, (60.0, 10.0, 1.0))
    depth = depth + 3.0 * roll(seed, 404) + 0.0 * through
    ring = depth * (3.6 / look.rings) / 1.5
    share = ring - np.floor(ring)
    late = share**look.sharp * np.clip((1.0 - share) / 0.10, 0.0, 1.0) - 1.0 / (1.0 + look.sharp)
    dark = 0.30 + look.late * late + look.clouds * 0.7 * noise(seed + 405, flat_at, (330.0, 60.0, 1.0))
    fine = 0.0
    for number, (size, scale) in enumerate(((0.45, (34.0, 0.9)), (0.4, (110.0, 2.6)), (0.3, (8.0, 0.6)))):
        wide = max(scale[1], 0.9 * texel)
        fine = fine + size * (scale[1] / wide) * noise(seed + 411 + number, flat_at, (scale[0], wide, 1.0))
    dark = dark + look.streaks * fine
    light, deep = linear(look.light), linear(look.dark)
    tone = np.float32(1.0 + 0.05 * (2.0 * roll(seed, 406) - 1.0))
    return np.clip((light + (deep - light) * np.clip(dark, -0.15, 1.6)[..., None]) * tone, 0.004, 0.98).astype(
        np.float32
    )


def _fibreboard(board: Board, at: Points, facing: Facing) -> Floats:
    """Even and brown; edges show that the core is looser than the skin."""
    fine = noise(board.seed + 501, at, (1.3, 1.3, 0.8)) * 0.5 + noise(board.seed + 502, at, (5.0, 5.0, 3.0)) * 0.3
    share = 0.35 + board.look.streaks * fine
    if abs(facing[2]) < 0.8:
        core = 1.0 - np.abs(at[2]) * np.float32(2.0 / board.size[2])
        share = share + 0.35 * np.clip(core * 2.0, 0.0, 1.0) + 0.3 * fine * board.look.streaks
    light, dark = linear(board.look.light), linear(board.look.dark)
    return np.clip(light + (dark - light) * np.asarray(share, np.float32)[..., None], 0.004, 0.98).astype(np.float32)
