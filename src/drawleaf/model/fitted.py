"""Parts that are cut over their size first: the last size is marked from the piece as it stands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from drawleaf.model.place import Axis
from drawleaf.units import ZERO, Length


class FittedAs(Enum):
    """Why a part is fitted, which is how it is done.

    ``MOULDING`` goes round a case and is mitred to it; ``EDGING`` is glued on proud and trimmed flush; ``PANEL`` closes a rabbet;
    ``BETWEEN`` fits between what stands at its ends; ``TOP`` is glued up and trimmed over what it lies on; ``OPENING`` is part of a drawer
    or door made to its opening; ``PART`` is what the author marks so, ``FLUSH`` what the author glues on larger and trims.
    """

    MOULDING = "moulding"
    EDGING = "edging"
    PANEL = "panel"
    BETWEEN = "between"
    TOP = "top"
    OPENING = "opening"
    PART = "part"
    FLUSH = "flush"


@dataclass(frozen=True, slots=True)
class Fitted:
    """How much longer a part is cut at first along each of its axes, altogether, and the parts that its last size is marked from."""

    sort: FittedAs
    over: tuple[tuple[Axis, Length], ...]
    marked_from: tuple[str, ...]

    def more(self, axis: Axis) -> Length:
        """How much larger along that axis."""
        return next((more for one, more in self.over if one is axis), ZERO)
