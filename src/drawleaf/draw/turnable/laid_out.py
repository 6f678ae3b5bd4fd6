"""A step at the saw, to be turned: its sheets or boards lie before the piece, and each part goes from where it is cut to where it stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
from manifold3d import Manifold, OpType

from drawleaf.draw.turnable.bodies import NOWHERE, body_of, whole_axes
from drawleaf.draw.turnable.shapes import Shapes, rounded
from drawleaf.draw.turnable.strips import strip_middle
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import BoardLayout, Placed, SheetLayout
from drawleaf.model.plan import Part
from drawleaf.model.steps import Step
from drawleaf.model.turnable import Axes, Lying, Standing, Stock, Turning, Vector
from drawleaf.solids.build import Solids
from drawleaf.solids.outlines import leaning
from drawleaf.solids.solid import Solid
from drawleaf.units import Length

Laid = SheetLayout | BoardLayout

MOST_TURNS = 6
"""So many rows of the cut list go one after the other; with more, several go at once."""
_APART, _BETWEEN = 0.2, 0.25
"""How far stock lies before the piece, in shares of the piece's size; and from the next, in shares of a piece of stock's width."""


@dataclass(frozen=True, slots=True)
class _Bare:
    """A sheet or board as it lies: its low corner and its size in millimetres."""

    kind: str
    layout: Laid
    at: np.ndarray
    size: np.ndarray


def laid_scene(derived: Derived, solids: Solids, step: Step, drawing: Drawing, shapes: Shapes) -> Turning | None:
    """The stock of a step at the saw and the whole piece; None where no layout holds its parts."""
    stocks = _lying(derived, solids, step)
    if not stocks:
        return None
    kerf = derived.plan.making.kerf.mm
    turns = _turns(derived, step)
    standing, bares, named, moved = [], [], [], set[str]()
    for bare in stocks:
        name = f"{bare.kind} {bare.layout.number}"
        named.append(Stock(name, bare.kind.capitalize(), bare.layout.number, _sides(bare), bare.layout.stock.name))
        bares.append(Standing(name, shapes.number(_holed(bare, kerf)), rounded(bare.at)))
        for piece in bare.layout.placed:
            found = _piece(solids, bare, piece, step, turns, shapes)
            if found is not None:
                standing.append(found)
                moved |= {piece.part} if found.new else set()
    standing += [
        Standing(part.id, placed[0], placed[1])
        for part in derived.plan.parts
        if part.id not in moved and (placed := body_of(solids, part.id, shapes)) is not None
    ]
    return Turning(
        drawing.id,
        step.number,
        whole_axes(),
        (0.0, 0.0, 1.0),
        0.0,
        (0.0, 0.0),
        (*standing, *bares),
        stocks=tuple(named),
    )


def _lying(derived: Derived, solids: Solids, step: Step) -> list[_Bare]:
    """The stock of the step, in rows on the floor before the piece."""
    layouts, named = derived.layouts, (step.scene.layout or "").split(" ")[0] if step.scene else ""
    cut: Sequence[Laid] = layouts.sheets if named == "sheet" else layouts.boards
    cut = [one for one in cut if any(piece.part in step.parts for piece in one.placed)]
    if not cut:
        return []
    boxes = np.array([box for part in derived.plan.parts if (box := solids.box(part.id)) is not None])
    low, high = boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)
    sizes = [_size(one, derived) for one in cut]
    long = max(size[0] for size in sizes)
    deep = sum(size[1] * (1 + _BETWEEN) for size in sizes)
    columns = max(1, min(len(cut), round(sqrt(deep / long))))
    front = low[1] - _APART * float(np.linalg.norm(high - low))
    left = (low[0] + high[0]) / 2 - (columns * long + (columns - 1) * _BETWEEN * sizes[0][1]) / 2
    found = []
    for start in range(0, len(cut), columns):
        row = range(start, min(start + columns, len(cut)))
        front -= max(sizes[k][1] for k in row)
        for place, k in enumerate(row):
            at = np.array([left + place * (long + _BETWEEN * sizes[0][1]), front, low[2]])
            found.append(_Bare(named, cut[k], at, sizes[k]))
        front -= _BETWEEN * max(sizes[k][1] for k in row)
    return found


def _size(layout: Laid, derived: Derived) -> np.ndarray:
    thick = max(_thick(derived.plan.part(piece.part)) for piece in layout.placed)
    if isinstance(layout, SheetLayout):
        return np.array([layout.sheet.length.mm, layout.sheet.width.mm, thick])
    return np.array([layout.length.mm, layout.board.width.mm, thick])


def _thick(part: Part) -> float:
    return part.body.extent(part.thickness).mm


def _sides(bare: _Bare) -> tuple[Length, Length]:
    layout = bare.layout
    if isinstance(layout, SheetLayout):
        return layout.sheet.length, layout.sheet.width
    return layout.length, layout.board.width


def _turns(derived: Derived, step: Step) -> dict[str, int]:
    """When each part goes: those of one row of the cut list together."""
    rows = [[part.id for part in item.parts] for item in derived.cut_list.items]
    rows = [row for row in rows if any(part in step.parts for part in row)]
    slots = min(len(rows), MOST_TURNS)
    return {part: place * slots // len(rows) for place, row in enumerate(rows) for part in row}


def _holed(bare: _Bare, kerf: float) -> Solid:
    """What is left of the stock: half a cut is gone around each piece, so that pieces side by side have no wood between them."""
    size = bare.size
    holes = []
    for piece in bare.layout.placed:
        low = np.maximum(np.array([piece.x.mm, piece.y.mm]) - kerf * 0.51, 0.0)
        far = np.array([(piece.x + piece.length).mm, (piece.y + piece.width).mm]) + kerf * 0.51
        wide = np.minimum(far, size[:2]) - low
        holes.append(Manifold.cube((*wide.tolist(), size[2] + 2.0)).translate((*low.tolist(), -1.0)))
    return Solid(Manifold.batch_boolean([Manifold.cube(tuple(size.tolist())), *holes], OpType.Subtract))


def _piece(
    solids: Solids, bare: _Bare, piece: Placed, step: Step, turns: dict[str, int], shapes: Shapes
) -> Standing | None:
    """A part, or a strip of one, that lies as it is cut. It has its own shape once it stands in the piece."""
    part = solids.plan.part(piece.part)
    placed = body_of(solids, part.id, shapes)
    if placed is None:
        return None
    shape, at = placed
    long, wide = (piece.width, piece.length) if piece.turned else (piece.length, piece.width)
    size = np.zeros(3)
    size[[part.length_axis.index, part.width_axis.index, part.thickness.index]] = long.mm, wide.mm, _thick(part)
    middle = (np.array(part.body.low.mm) + np.array(part.body.high.mm)) / 2
    if part.glue_up is not None and piece.strip is not None:
        # The outer strips are trimmed with the panel.
        low, high = np.array(part.body.low.mm), np.array(part.body.high.mm)
        across, half = part.glue_up.across.index, part.glue_up.strip_width.mm / 2
        strip = strip_middle(part, piece.strip)[across]
        low[across], high[across] = max(low[across], strip - half), min(high[across], strip + half)
        middle = (low + high) / 2
        shape = shapes.number(_block(part, high - low))
        at = rounded(_stands(part, middle))
        about: Vector = (0.0, 0.0, 0.0)
    else:
        about = rounded(_stands(part, middle) - np.array(at))
    # Thinner pieces lie with the face that is seen level with the others.
    in_stock = (piece.x.mm + piece.length.mm / 2, piece.y.mm + piece.width.mm / 2, bare.size[2] - _thick(part) / 2)
    lies = bare.at + np.array(in_stock)
    mine = part.id in step.parts
    lying = Lying(
        shapes.number(_block(part, size)),
        _flat(part, piece.turned),
        rounded(lies),
        about,
        f"{bare.kind} {bare.layout.number}",
    )
    turn = turns.get(part.id) if mine else None
    return Standing(part.id, shape, at, mine, NOWHERE, turn, lying=lying, strip=piece.strip)


def _block(part: Part, size: np.ndarray) -> Solid:
    """A block about its own middle, as it leans on the piece."""
    block = Solid(Manifold.cube(tuple(size.tolist()), center=True))
    if part.tilt is None:
        return block
    return leaning(block, part.tilt.moved(-part.tilt.about))


def _stands(part: Part, place: np.ndarray) -> np.ndarray:
    """Where a place of the upright part is on the piece."""
    return place if part.tilt is None else np.array(part.tilt.out(tuple(place.tolist())))


def _flat(part: Part, turned: bool) -> Axes:
    """Which of the piece's directions lie along the stock, across it and up where the part lies: its length along the stock, or across."""
    axes = np.eye(3)[[part.length_axis.index, part.width_axis.index, part.thickness.index]]
    if turned:
        axes = axes[[1, 0, 2]]
    axes[2] = np.cross(axes[0], axes[1])
    if part.tilt is not None:
        axes = axes @ np.array(part.tilt.matrix).T
    first, second, third = (rounded(row, 9) for row in axes)
    return (first, second, third)
