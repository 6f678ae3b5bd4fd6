"""Hidden lines removed: which stretch of which edge the eye sees, in a parallel view of closed solids."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from drawleaf.draw.linework import Linework
from drawleaf.draw.view import Vector, View

if TYPE_CHECKING:
    from drawleaf.solids.build import Solid, Solids


def project(
    solids: Solids,
    view: View,
    shown: Sequence[str],
    offsets: Mapping[str, Vector] | None = None,
    extra: Mapping[str, Solid] | None = None,
) -> Linework:
    """The scene as the viewer sees it.

    ``shown`` are ids of parts and fittings (a fitting without a body is passed over). ``offsets`` move some of them, in millimetres of
    the piece's frame (exploded views, parts on their way into place). ``extra`` are further bodies under ids of the caller's own,
    such as screws from ``solids.fastener``; they are shown too.
    """
    raise NotImplementedError
