"""A made-up cabinet of 44 parts with what is hard to draw: shelf-pin holes, mortises, through pegs, mitred mouldings, touching faces.

Millimetres. x to the right, y to the back, z up, as in a plan. Every joint is without play.
"""

from __future__ import annotations

from drawleaf.solids.sweeps import Stretch
from outside.recipe import Body, Recipe, Rod, Sweep, block

WIDTH, DEPTH, HEIGHT = 760.0, 360.0, 1100.0
FRAME = 20.0
BOARD = 18.0
LET_IN = 6.0
LEVELS = {"bottom": 70.0, "divider": 780.0, "top": 1082.0}
"""Undersides of the boards that stand in dadoes."""

STILE = 45.0
RAILS = {"rail low": (70.0, 110.0), "rail middle": (770.0, 800.0), "rail high": (1055.0, 1100.0)}
TENON = 28.0
PEGS = (90.0, 1078.0)
PEG = 4.0
PIN_ROWS, PIN_COLUMNS = 30, (60.0, 320.0)
SHELVES = (300.0, 525.0)
DRAWER = (805.0, 1050.0)


def recipes() -> list[Recipe]:
    """All parts."""
    return [*_case(), *_frame(), *_shelves(), *_drawer(), *_inside(), *_mouldings()]


def _case() -> list[Recipe]:
    parts = []
    for name, outer, inner, side in (("side left", 0.0, BOARD, 1.0), ("side right", WIDTH, WIDTH - BOARD, -1.0)):
        low, high = sorted((outer, inner))
        deep = sorted((inner - side * LET_IN, inner + side * 2))
        cuts: list[Body] = [
            block(*deep, FRAME - 2, DEPTH + 2, z, z + (BOARD if z < 1000 else BOARD + 2)) for z in LEVELS.values()
        ]
        cuts.append(block(*sorted((inner - side * 9, inner + side * 2)), DEPTH - 6, DEPTH + 2, -2, HEIGHT + 2))
        cuts += [_pin_hole(inner, -side, y, row) for y in PIN_COLUMNS for row in range(PIN_ROWS)]
        parts.append(Recipe(name, (block(low, high, FRAME, DEPTH, 0, HEIGHT),), tuple(cuts)))
    between = (BOARD - LET_IN, WIDTH - BOARD + LET_IN)
    for name, z in LEVELS.items():
        parts.append(Recipe(name, (block(*between, FRAME, DEPTH - 6, z, z + BOARD),)))
    parts.append(Recipe("back", (block(BOARD - 9, WIDTH - BOARD + 9, DEPTH - 6, DEPTH, 0, HEIGHT),)))
    return parts


def _pin_hole(face: float, into: float, y: float, row: int) -> Rod:
    return Rod((face - into * 2, y, 150 + 20.5 * row), (into, 0, 0), 2.5, 12)


def _frame() -> list[Recipe]:
    mortises = [(z0 + 6, z1 - 6) for z0, z1 in RAILS.values()]
    parts = []
    for name, x0, x1, inner in (("stile left", 0.0, STILE, 1), ("stile right", WIDTH - STILE, WIDTH, -1)):
        reach = (x1 - TENON, x1 + 2) if inner > 0 else (x0 - 2, x0 + TENON)
        cuts: list[Body] = [block(*reach, 7, 13, *span) for span in mortises]
        cuts += [_peg_hole((x1 - 14) if inner > 0 else (x0 + 14), z) for z in PEGS]
        parts.append(Recipe(name, (block(x0, x1, 0, FRAME, 0, HEIGHT),), tuple(cuts)))
    for (name, (z0, z1)), mortise in zip(RAILS.items(), mortises, strict=True):
        bodies = (
            block(STILE, WIDTH - STILE, 0, FRAME, z0, z1),
            block(STILE - TENON, WIDTH - STILE + TENON, 7, 13, *mortise),
        )
        pegs = [_peg_hole(x, z) for z in PEGS if z0 < z < z1 for x in (STILE - 14, WIDTH - STILE + 14)]
        parts.append(Recipe(name, bodies, tuple(pegs)))
    for number, (x, z) in enumerate((x, z) for x in (STILE - 14, WIDTH - STILE + 14) for z in PEGS):
        parts.append(Recipe(f"peg {number}", (Rod((x, 0, z), (0, 1, 0), PEG, FRAME),)))
    return parts


def _peg_hole(x: float, z: float) -> Rod:
    return Rod((x, -2, z), (0, 1, 0), PEG, FRAME + 4)


def _shelves() -> list[Recipe]:
    parts = []
    for number, wanted in enumerate(SHELVES):
        row = round((wanted - 150) / 20.5)
        z = 150 + 20.5 * row
        nest = [
            Rod((x, y, z), (into, 0, 0), 2.5, 12.0)
            for y in PIN_COLUMNS
            for x, into in ((BOARD + 2, 1), (WIDTH - BOARD - 2, -1))
        ]
        parts.append(
            Recipe(f"shelf {number}", (block(BOARD + 1, WIDTH - BOARD - 1, 25, DEPTH - 8, z + 2.55, z + 20.55),))
        )
        parts += [
            Recipe(
                f"pin {number}.{k}",
                (Rod((rod.start[0] - rod.direction[0] * 12, rod.start[1], z), rod.direction, 2.5, 22.0),),
            )
            for k, rod in enumerate(nest)
        ]
    return parts


def _drawer() -> list[Recipe]:
    z0, z1 = DRAWER
    low, high = z0 + 12, z1 - 30
    left, right = 62.0, WIDTH - 62.0
    front, back = 22.0, 330.0
    groove = (low + 12, low + 18)
    across = (left + 7, right - 7)
    knob = (WIDTH / 2, -20.0, (z0 + z1) / 2)
    return [
        *(
            Recipe(name, (block(x, x + 15, front, back, low, high),), (block(*inner, front - 2, back + 2, *groove), block(*inner, front + 5, front + 20, low - 2, high + 2)))
            for name, x, inner in (("drawer left", left, (left + 7, left + 17)), ("drawer right", right - 15, (right - 17, right - 7)))
        ),
        Recipe("drawer front", (block(*across, front + 5, front + 20, low, high),), (block(left, right, front + 13, front + 22, *groove),)),
        Recipe("drawer back", (block(left + 15, right - 15, back - 20, back - 5, groove[1], high),)),
        Recipe("drawer bottom", (block(*across, front + 13, back, *groove),)),
        Recipe("false front", (block(30, WIDTH - 30, -20, 0, z0, z1),), (_edge(30, WIDTH - 30, -20, z1),)),
        Recipe("knob", (Rod(knob, (0, -1, 0), 9, 14), Rod((knob[0], -34, knob[2]), (0, -1, 0), 17, 10))),
        *(Recipe(name, (block(x0, x1, 24, 340, low - 12, low),)) for name, x0, x1 in (("runner left", BOARD, 75.0), ("runner right", WIDTH - 75.0, WIDTH - BOARD))),
    ]  # fmt: skip


def _edge(x0: float, x1: float, y: float, z: float) -> Sweep:
    """Round-over of 6 along the upper front edge."""
    section = (Stretch((6, -2)), Stretch((6, 0)), Stretch((0, 6), -90), Stretch((-2, 6)), Stretch((-2, -2)))
    return Sweep((-2, -2), section, (x1 + 2, y, z), (0, 1, 0), (0, 0, -1), x1 - x0 + 4)


def _inside() -> list[Recipe]:
    return [
        Recipe("cleat", (block(BOARD, WIDTH - BOARD, DEPTH - 24, DEPTH - 6, 1040, LEVELS["top"]),)),
        Recipe("kick", (block(BOARD, WIDTH - BOARD, 60, 78, 0, LEVELS["bottom"]),)),
        *(
            Recipe(f"block {k}", (block(x, x + 30, 78, 108, 40, LEVELS["bottom"]),))
            for k, x in enumerate((100.0, 365.0, 630.0))
        ),
    ]


OGEE = (
    Stretch((10, 0)),
    Stretch((10, 8)),
    Stretch((16, 20), -53.13010235415598),
    Stretch((22, 32), 53.13010235415598),
    Stretch((26, 32)),
    Stretch((26, 40)),
    Stretch((0, 40)),
    Stretch((0, 0)),
)
"""A crown section: outwards and up. Two arcs that turn into one another, between two fillets."""


def _mouldings() -> list[Recipe]:
    """Round the top and, upside down, round the foot, mitred at the front corners."""
    return [
        piece for name, z, up in (("crown", HEIGHT - 40.0, 1.0), ("base", 40.0, -1.0)) for piece in _round(name, z, up)
    ]


def _round(name: str, z: float, up: float) -> list[Recipe]:
    front, left, right = (0.0, -1.0, 0.0), (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)
    runs = (
        (f"{name} front", front, (0.0, 0.0), (WIDTH, 0.0)),
        (f"{name} left", left, (0.0, 0.0), (0.0, DEPTH)),
        (f"{name} right", right, (WIDTH, 0.0), (WIDTH, DEPTH)),
    )
    parts = []
    for label, out, (x0, y0), (x1, y1) in runs:
        along = (up * out[1], -up * out[0], 0.0)
        start = min(((x0, y0), (x1, y1)), key=lambda p: p[0] * along[0] + p[1] * along[1])
        reach = 60.0
        origin = (start[0] - along[0] * reach, start[1] - along[1] * reach, z)
        length = abs(x1 - x0) + abs(y1 - y0) + 2 * reach
        run = Sweep((0, 0), OGEE, origin, out, (0, 0, up), length)
        parts.append(Recipe(label, (run,), _mitres(label, z)))
    return parts


def _mitres(label: str, z: float) -> tuple[Body, ...]:
    """What a saw at 45 degrees takes off: all that lies beyond the planes through the front corners."""
    far = 200.0
    beyond = block(-far, WIDTH + far, DEPTH, DEPTH + far, z - far, z + far)
    if label.endswith("front"):
        return (
            _wedge((0, 0), (-far, -far), (-far, far), z),
            _wedge((WIDTH, 0), (WIDTH + far, far), (WIDTH + far, -far), z),
        )
    if label.endswith("left"):
        return (_wedge((0, 0), (-far, -far), (far, -far), z, (far, 0)), beyond)
    return (_wedge((WIDTH, 0), (WIDTH + far, -far), (WIDTH - far, -far), z, (WIDTH - far, 0)), beyond)


def _wedge(*corners: tuple[float, float] | float) -> Sweep:
    points = [corner for corner in corners if not isinstance(corner, float)]
    (z,) = (corner for corner in corners if isinstance(corner, float))
    area = sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(points, points[1:] + points[:1], strict=True))
    if area < 0:
        points.reverse()
    return Sweep(
        points[0], tuple(Stretch(p) for p in [*points[1:], points[0]]), (0, 0, z - 100), (1, 0, 0), (0, 1, 0), 200
    )


def holes() -> int:
    """Shelf-pin holes in all."""
    return 2 * len(PIN_COLUMNS) * PIN_ROWS
