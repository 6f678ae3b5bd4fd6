"""A body of the piece among the shapes that turn, and the view that the whole piece is first seen in."""

from __future__ import annotations

from drawleaf.draw.sight.view import PICTORIAL
from drawleaf.draw.turnable.shapes import Shapes
from drawleaf.draw.turnable.surfaces import Naming
from drawleaf.model.turnable import Axes, Vector
from drawleaf.solids.build import Solids

NOWHERE = (0.0, 0.0, 0.0)


def body_of(
    solids: Solids, an_id: str, shapes: Shapes, fresh: frozenset[int] = frozenset()
) -> tuple[int, Vector] | None:
    """The number of a body's shape and where it stands; None for what is not drawn."""
    home = solids.at_home(an_id)
    if home.solid is None:
        return None
    part = next((part for part in solids.plan.parts if part.id == an_id), None)
    naming = Naming(part.moved(-part.body.low), fresh) if part is not None else None
    return shapes.number(home.solid, naming), home.at


def whole_axes() -> Axes:
    """The right, up and towards the viewer of the whole piece, as directions of the piece."""
    right, up, toward = ((float(x), float(y), float(z)) for x, y, z in PICTORIAL.axes)
    return (right, up, toward)
