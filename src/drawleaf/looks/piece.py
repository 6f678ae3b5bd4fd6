"""The piece as bodies: its parts in their wood and coats, its hardware, and what shows of its screws, plugs and pegs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from zlib import crc32

import numpy as np

from drawleaf.looks.boards import Board
from drawleaf.looks.charts import Grain
from drawleaf.looks.coats import Coats, coated, coats_of, mean_color
from drawleaf.looks.scene import STILL, Body, Move, Plain, Triple, Wood, body_of, moved
from drawleaf.model.catalogue import FastenerKind, Material
from drawleaf.model.colors import rgb
from drawleaf.model.looks import WoodLook
from drawleaf.model.plan import Fastener, Fitting, Part, Plan
from drawleaf.model.shapes import Tilt
from drawleaf.solids.bodies import shank_of
from drawleaf.solids.build import Solids
from drawleaf.solids.cutters import cylinder
from drawleaf.solids.solid import Solid

METALS: Mapping[str, Plain] = {
    "steel": Plain((0.56, 0.57, 0.58), 0.26, True),
    "brass": Plain((0.80, 0.58, 0.25), 0.24, True),
    "bronze": Plain((0.20, 0.14, 0.10), 0.34, True),
    "black": Plain((0.018, 0.018, 0.019), 0.32),
    "white": Plain((0.78, 0.78, 0.76), 0.3),
    "wood": Plain((0.62, 0.44, 0.27), 0.45),
}
"""What hardware looks made of. Reflectances by eye."""
_PROUD = 0.12
"""Millimetres that heads and plugs stand out, so that no two faces share a plane."""
_FILLED = 1.1
"""Radius in mm of the filler over a brad."""


def bodies_of(
    plan: Plan,
    solids: Solids,
    shown: Iterable[str],
    coats: Mapping[str, Coats] | None = None,
    moves: Mapping[str, Move] | None = None,
) -> tuple[Body, ...]:
    """The parts and fittings of these ids, with the fasteners between them; ``moves`` are those that do not stand in their place."""
    wanted, moves = set(shown), moves or {}
    coats = coats_of(plan) if coats is None else coats
    places = shifts_in_board(plan.parts)
    found: list[Body] = []
    for part in plan.parts:
        if part.id in wanted:
            wood = Wood(board_of(plan, part, places.get(part.id, 0.0)), grain_of(part), coats.get(part.id, Coats()))
            body = body_of(solids.upright(part.id), wood, _tilted(part.tilt))
            found.append(moved(body, moves.get(part.id, STILL)))
    for fitting in plan.fittings:
        solid = solids.fitting(fitting.id) if fitting.id in wanted else None
        if solid is not None:
            found.append(moved(body_of(solid, METALS[fitting.item.look]), _move_of(fitting, moves)))
    for joint in plan.joints:
        for fastener in joint.fasteners:
            if fastener.through in wanted and fastener.into in wanted and not fastener.temporary:
                found += [moved(one, moves.get(fastener.through, STILL)) for one in _fastener(plan, fastener, coats)]
    return tuple(found)


def look_of(plan: Plan, material: Material) -> WoodLook:
    """How a material looks; by its tint alone where its entry names no look."""
    known = plan.catalogue.looks.get(material.look)
    if known is not None:
        return known
    color = rgb(material.tint)
    dark = round(color[0] * 0.80), round(color[1] * 0.72), round(color[2] * 0.62)
    return WoodLook(material.id, color, dark)


def seed_of(part: Part) -> int:
    """Each part is a board of its own, or shares one with those that are cut from it one after the other."""
    return crc32((f"match {part.match}" if part.match else part.id).encode())


def board_of(plan: Plan, part: Part, shift: float = 0.0) -> Board:
    """A part as wood."""
    length, width, thickness = (extent.mm for extent in part.size)
    strip = part.glue_up.strip_width.mm if part.glue_up else 0.0
    return Board(look_of(plan, part.stock.material), (length, width, thickness), seed_of(part), strip, shift)


def grain_of(part: Part) -> Grain:
    """How the part lies in its wood."""
    axes = part.length_axis.index, part.width_axis.index, part.thickness.index
    return Grain(part.body.center.mm, axes)


def shifts_in_board(parts: Iterable[Part]) -> dict[str, float]:
    """How far along their common board (mm) parts of one ``match`` were cut, in the order in which they stand."""
    groups: dict[str, list[Part]] = {}
    for part in parts:
        if part.match:
            groups.setdefault(part.match, []).append(part)
    found: dict[str, float] = {}
    for group in groups.values():
        start = 0.0
        for part in sorted(group, key=lambda one: (one.body.span(one.length_axis).low, one.body.center.mm)):
            long = part.size[0].mm
            found[part.id] = start + long / 2.0
            start += long + 3.0
    return found


def _tilted(tilt: Tilt | None) -> Move:
    if tilt is None:
        return STILL
    place = np.eye(4)
    place[:3, :3] = np.array(tilt.matrix)
    about = np.array(tilt.about.mm)
    place[:3, 3] = about - place[:3, :3] @ about
    return place


def _move_of(fitting: Fitting, moves: Mapping[str, Move]) -> Move:
    if fitting.id in moves:
        return moves[fitting.id]
    return moves.get(fitting.parts[0], STILL) if fitting.parts else STILL


def _fastener(plan: Plan, fastener: Fastener, coats: Mapping[str, Coats]) -> list[Body]:
    """What could be seen of a fastener from outside: the end of a pin, the head of a screw, a plug or filler over it."""
    look = look_of(plan, plan.part(fastener.through).stock.material)
    item, thick = fastener.item, shank_of(fastener.item)
    on = coats.get(fastener.through, Coats())
    if item.pin:
        if fastener.wide is not None or item.comes_along:
            return []
        tone = coated(mean_color(look) * 0.72, look, on.looks)
        return [_disc(fastener, fastener.at.mm, thick / 2.0, item.length.mm if item.length else 20.0, _color(tone, on))]
    if fastener.plug is not None and fastener.plug.diameter is not None:
        tone = coated(mean_color(look) * 0.93, look, on.looks)
        return [_disc(fastener, fastener.mouth.mm, fastener.plug.diameter.mm / 2.0, 2.0, _color(tone, on))]
    if fastener.open_wide is not None:  # the shade of a deep hole
        return [_disc(fastener, fastener.mouth.mm, fastener.open_wide.mm / 2.0, 1.0, METALS["black"])]
    if fastener.sunk or item.kind == FastenerKind.BRAD:
        radius = _FILLED if item.kind == FastenerKind.BRAD else thick
        tone = coated(mean_color(look) * 0.88, look, on.looks)
        return [_disc(fastener, fastener.mouth.mm, radius, 1.0, _color(tone, on))]
    head = _disc(fastener, fastener.at.mm, thick, 1.0, METALS["steel"])
    slot = _disc(fastener, fastener.at.mm, 0.42 * thick, 0.6, METALS["black"], 2.0 * _PROUD)
    return [head, slot]


def _disc(fastener: Fastener, at: Triple, radius: float, deep: float, material: Plain, proud: float = _PROUD) -> Body:
    way = np.array(fastener.direction)
    bar, rim = cylinder(np.array(at) - proud * way, fastener.direction, radius, deep + proud)
    return body_of(Solid(bar, (rim,)), material)


def _color(tone: np.ndarray, coats: Coats) -> Plain:
    return Plain((float(tone[0]), float(tone[1]), float(tone[2])), coats.roughness)
