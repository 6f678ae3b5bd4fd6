"""Loose shelves that go in at a slant: in through an opening that is narrower than they are long, then levelled.

The piece is looked at from the front. The shelf is a rectangle turned about the front-to-back axis. It can come in if, at some angle,
it passes everything that it travels by on its way from the front (or the back), and can then be turned level and lowered. Other loose
shelves lie on the floor of the bay meanwhile. Parts count as their whole blocks, which errs on the safe side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import Polygon, box, get_coordinates, intersects, polygons, prepare, union_all
from shapely.affinity import rotate, translate

from drawleaf.model.place import Axis
from drawleaf.model.plan import Plan, Vector

ANGLES = tuple(range(6, 63, 4))
TURN_STEP = 3
SHIFTS_MM = (0.0, -12.0, 12.0, -24.0, 24.0)
RISE_MM = 15.0
PLAY_MM = 0.4
WAYS_OUT: tuple[Vector, ...] = ((0.0, -1.0, 0.0), (0.0, 1.0, 0.0))

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Block:
    """A part as a rectangle seen from the front, with its reach from front to back."""

    x: Span
    y: Span
    z: Span

    @property
    def outline(self) -> Polygon:
        return box(self.x[0], self.z[0], self.x[1], self.z[1])


class Tilts:
    """Answers for one plan whether parts can leave at a slant."""

    def __init__(self, plan: Plan) -> None:
        loose = {assembly.id for assembly in plan.assemblies if assembly.loose}
        carried = {fitting.moving for fitting in plan.fittings}
        self._shelves = {part.id: part.assembly for part in plan.parts if part.assembly in loose - carried}
        self._blocks = {
            part.id: Block(
                *((part.body.span(axis).low.mm, part.body.span(axis).high.mm) for axis in (Axis.X, Axis.Y, Axis.Z))
            )
            for part in plan.parts
        }

    def way_out(self, moving: tuple[str, ...], standing: tuple[str, ...]) -> Vector | None:
        """The way out, front first, that the parts can take together at some angle; None where there is none."""
        shelf = _around([self._blocks[part] for part in moving])
        home = {self._shelves.get(part) for part in moving}
        mates = [self._blocks[part] for part in standing if self._shelves.get(part, "") in home]
        others = [self._blocks[part] for part in standing if self._shelves.get(part, "") not in home]
        others += _lying(mates, others, shelf)
        if not others:
            return WAYS_OUT[0]
        height, others = _around(others).z, _within_reach(shelf, others)
        beside = _obstacle([other for other in others if _overlap(other.y, shelf.y)])
        for way in WAYS_OUT:
            swept = (float("-inf"), shelf.y[1]) if way[1] < 0 else (shelf.y[0], float("inf"))
            passed = _obstacle([other for other in others if _overlap(other.y, swept)])
            if _passes(shelf, passed, beside, height):
                return way
        return None


def _lying(mates: Sequence[Block], others: Sequence[Block], shelf: Block) -> list[Block]:
    """The other shelves of the bay, laid on its floor one on the other."""
    if not mates:
        return []
    below = [other.z[1] for other in others if _overlap(other.x, shelf.x) and _overlap(other.y, shelf.y)]
    floor = max(
        (top for top in below if top <= min(mate.z[0] for mate in (*mates, shelf)) + PLAY_MM), default=mates[0].z[0]
    )
    thick = mates[0].z[1] - mates[0].z[0]
    levels = sorted({mate.z[0] for mate in mates})
    return [
        Block(mate.x, mate.y, (floor + levels.index(mate.z[0]) * thick, floor + (levels.index(mate.z[0]) + 1) * thick))
        for mate in mates
    ]


def _within_reach(shelf: Block, others: Sequence[Block]) -> list[Block]:
    """Those that the shelf could touch however it is turned: of a long wall, what stands about its own bay."""
    low, high = shelf.x
    reach = np.hypot(high - low, shelf.z[1] - shelf.z[0]) / 2 + max(SHIFTS_MM)
    middle = (low + high) / 2
    return [other for other in others if other.x[0] < middle + reach and middle - reach < other.x[1]]


def _passes(shelf: Block, passed: Polygon, beside: Polygon, height: Span) -> bool:
    level = _shrunk(shelf)
    if level.is_empty:
        return False
    offsets = np.array(list(_offsets(shelf, height)))
    for angle in ANGLES:
        for sign in (1, -1):
            corners = get_coordinates(rotate(level, sign * angle, origin="center"))
            tilted = polygons(corners[None] + offsets[:, None])
            for free in np.flatnonzero(~intersects(passed, tilted)).tolist():
                if _levels(level, sign * angle, offsets[free, 1], beside):
                    return True
    return False


def _offsets(shelf: Block, height: Span) -> Iterator[tuple[float, float]]:
    """Places to try: nearest to the shelf's own place first."""
    middle = (shelf.z[0] + shelf.z[1]) / 2
    steps = int((height[1] - height[0]) / RISE_MM)
    rises = sorted((height[0] + step * RISE_MM - middle for step in range(steps + 1)), key=abs)
    for shift in SHIFTS_MM:
        for rise in (0.0, *rises):
            yield shift, rise


def _levels(level: Polygon, angle: float, rise: float, beside: Polygon) -> bool:
    """Whether the shelf can be turned level at that height above its place, and lowered or lifted straight to it."""
    raised = translate(level, 0.0, rise)
    steps = max(1, int(abs(angle) / TURN_STEP))
    if any(beside.intersects(rotate(raised, angle * step / steps, origin="center")) for step in range(steps + 1)):
        return False
    return not beside.intersects(union_all([level, raised]).envelope)


def _shrunk(block: Block) -> Polygon:
    """A hair smaller all round: what only touches may slide."""
    return box(block.x[0] + PLAY_MM, block.z[0] + PLAY_MM, block.x[1] - PLAY_MM, block.z[1] - PLAY_MM)


def _obstacle(blocks: Sequence[Block]) -> Polygon:
    found = union_all([block.outline for block in blocks])
    prepare(found)
    return found  # type: ignore[return-value]


def _around(blocks: Sequence[Block]) -> Block:
    def span(name: str) -> Span:
        spans = [getattr(block, name) for block in blocks]
        return (min(low for low, _ in spans), max(high for _, high in spans))

    return Block(span("x"), span("y"), span("z"))


def _overlap(a: Span, b: Span) -> bool:
    return a[0] < b[1] - PLAY_MM and b[0] < a[1] - PLAY_MM
