"""Which part of the new revision is which of the old: by name, and where it was renamed, by its place and shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist

from drawleaf.sell.piece import Piece

FAR = 0.25
"""A renamed part may have moved or changed by so much of its own size at most; beyond that it is another part."""


@dataclass(frozen=True, slots=True)
class Pairs:
    """Parts by twos, those that were added and those that are gone."""

    pairs: tuple[tuple[Piece, Piece], ...]
    added: tuple[Piece, ...]
    dropped: tuple[Piece, ...]

    @property
    def names(self) -> dict[str, str]:
        """The new id of each old part that has one."""
        return {old.id: new.id for old, new in self.pairs}


def pair_up(old: Sequence[Piece], new: Sequence[Piece]) -> Pairs:
    """Those of one id first. Of the rest each finds the one that is most like it in place and shape, the most alike first."""
    by_id = {part.id: part for part in new}
    pairs = [(part, by_id[part.id]) for part in old if part.id in by_id]
    taken = {part.id for part, _ in pairs}
    left = [part for part in old if part.id not in taken]
    free = [part for part in new if part.id not in taken]
    close = sorted(
        ((_unlike(one, other), one.id, other.id) for one in left for other in free if _unlike(one, other) <= FAR),
    )
    homes: dict[str, str] = {}
    for _, one, other in close:
        if one not in homes and other not in homes.values():
            homes[one] = other
    pairs += [(part, by_id[homes[part.id]]) for part in left if part.id in homes]
    order = {part.id: at for at, part in enumerate(new)}
    pairs.sort(key=lambda pair: order[pair[1].id])
    return Pairs(
        tuple(pairs),
        tuple(part for part in free if part.id not in homes.values()),
        tuple(part for part in left if part.id not in homes),
    )


def _unlike(one: Piece, other: Piece) -> float:
    """How far apart two parts are in place and shape, in shares of the larger one's length; another material is as far as can be."""
    if one.form != other.form:
        return float("inf")
    long = max(float(side) for part in (one, other) for side in part.size) or 1.0
    size = dist([float(side) for side in one.size], [float(side) for side in other.size])
    place = dist([float(at) for at in one.center], [float(at) for at in other.center])
    return (size + place) / long
