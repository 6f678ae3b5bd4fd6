"""What to do with a part that is already made when its revision changes, worked out from both shapes.

A part that is now smaller can be trimmed where its holes and channels then stand right; what is only added can still be cut; a hole in the
wrong place, a channel that is gone, or a part that is now larger cannot be undone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from itertools import product

from drawleaf.sell.piece import SIDES, Cut, Hole, Piece, Triple

ZERO = Fraction(0)
NEAR = Fraction(1, 20)
"""Millimeters within which two figures are one."""
LOW = ("left", "front", "bottom")
HIGH = ("right", "back", "top")


class Fate(Enum):
    """What becomes of the old part."""

    FITS = "fits"
    ADD = "cut more"
    TRIM = "trim"
    PLUG = "plug"
    REMAKE = "remake"


@dataclass(frozen=True, slots=True)
class Trim:
    """So much off at a face, in millimeters."""

    face: str
    off: Fraction


@dataclass(frozen=True, slots=True)
class Verdict:
    """What to do: ``trims`` in order, what to cut ``more``, holes ``astray`` to plug, and why it must be made anew: ``reasons``, and
    the kinds of old cuts that would stay ``open``."""

    fate: Fate
    trims: tuple[Trim, ...] = ()
    more: tuple[Hole | Cut, ...] = ()
    shapes: tuple[str, ...] = ()
    astray: tuple[Hole, ...] = ()
    reasons: tuple[str, ...] = ()
    open: tuple[str, ...] = ()


def verdict(old: Piece, new: Piece) -> Verdict:
    """What becomes of a part that is made to the old revision."""
    reasons = list(_cannot(old, new))
    if reasons:
        return Verdict(Fate.REMAKE, reasons=tuple(reasons))
    removed = [before - after for before, after in zip(old.size, new.size, strict=True)]
    best: Verdict | None = None
    for shift in _shifts(old, new, removed):
        found = _after(old, new, removed, shift)
        if best is None or _cost(found) < _cost(best):
            best = found
    assert best is not None
    return best


def _cannot(old: Piece, new: Piece) -> Iterator[str]:
    """What no tool at the bench can do to a finished part."""
    if old.material != new.material:
        yield "material"
    if old.grain != new.grain:
        yield "grain"
    for before, after, what in zip(old.sides, new.sides, ("longer", "wider", "thicker"), strict=True):
        if after - before > NEAR:
            yield what
    thin = old.sides[2] - new.sides[2] > NEAR
    if thin and old.form != "board":
        yield "thinner"
    grown, larger = (
        any(after - before > NEAR for before, after in zip(one, other, strict=True))
        for one, other in ((old.size, new.size), (old.sides, new.sides))
    )
    if grown and not larger and not thin:
        # Its sides are no larger, its body on the standing piece is.
        yield "turned"
    gone = old.shaped - new.shaped
    if gone and all(abs(before - after) <= NEAR for before, after in zip(old.size, new.size, strict=True)):
        yield "shape"


def _shifts(old: Piece, new: Piece, removed: list[Fraction]) -> Iterator[Triple]:
    """How much may come off at the low face of each axis: nothing, all, half, or what brings a hole or channel to its new place."""
    ways: list[list[Fraction]] = []
    for axis, off in enumerate(removed):
        tries = {ZERO, off, off / 2} if off > NEAR else {ZERO}
        if off > NEAR:
            tries |= {
                before.at[axis] - after.at[axis]
                for before in old.holes
                for after in new.holes
                if before.kind == after.kind and before.face == after.face
            }
            tries |= {
                before.low[axis] - after.low[axis]
                for before in old.cuts
                for after in new.cuts
                if before.kind == after.kind and before.into == after.into
            }
        ways.append(sorted(one for one in tries if ZERO <= one <= max(off, ZERO)))
    yield from product(ways[0], ways[1], ways[2])


def _after(old: Piece, new: Piece, removed: list[Fraction], shift: Triple) -> Verdict:
    """What is left to do once so much has come off at the low faces, and the rest at the high ones."""
    trims = tuple(
        Trim(face, off)
        for axis in range(3)
        for face, off in ((LOW[axis], shift[axis]), (HIGH[axis], removed[axis] - shift[axis]))
        if off > NEAR
    )
    holes = [moved for hole in old.holes if (moved := _hole_after(hole, shift, new.size)) is not None]
    cuts = [moved for cut in old.cuts if (moved := _cut_after(cut, shift, new.size)) is not None]
    more: list[Hole | Cut] = []
    wanted = list(new.holes)
    astray: list[Hole] = []
    for hole in holes:
        same = next((one for one in wanted if _same_hole(hole, one)), None)
        if same is None:
            astray.append(hole)
            continue
        wanted.remove(same)
        if not _done(hole, same):
            more.append(same)
    more += wanted
    channels = list(new.cuts)
    lost: list[Cut] = []
    for cut in cuts:
        same = next((one for one in channels if _within(cut, one)), None)
        if same is None:
            lost.append(cut)
            continue
        if not _within(same, cut):
            more.append(same)
        channels.remove(same)
    more += channels
    shapes = tuple(kind for kind, _ in (new.shaped - old.shaped).elements())
    # A hole that a new channel or recess takes away leaves nothing behind.
    astray = [hole for hole in astray if not any(_in_cut(hole, cut) for cut in new.cuts)]
    if lost:
        return Verdict(Fate.REMAKE, open=tuple(dict.fromkeys(cut.kind for cut in lost)))
    if astray:
        return Verdict(Fate.PLUG, trims, tuple(more), shapes, tuple(astray))
    if trims:
        return Verdict(Fate.TRIM, trims, tuple(more), shapes)
    return Verdict(Fate.ADD if more or shapes else Fate.FITS, (), tuple(more), shapes)


def _cost(found: Verdict) -> tuple[int, int, int, int]:
    order = (Fate.FITS, Fate.ADD, Fate.TRIM, Fate.PLUG, Fate.REMAKE)
    return order.index(found.fate), len(found.astray), len(found.more), len(found.trims)


def _hole_after(hole: Hole, shift: Triple, size: Triple) -> Hole | None:
    """The hole in the trimmed part; None where its middle fell off with the waste. A hole in a trimmed face starts at the new face."""
    axis, side = SIDES[hole.face]
    at = [place - off for place, off in zip(hole.at, shift, strict=True)]
    depth = hole.depth
    start = size[axis] if side > 0 else ZERO
    lost = abs(at[axis] - start)
    if lost > NEAR and depth is not None:
        depth -= lost
        if depth <= NEAR:
            return None
    at[axis] = start if lost > NEAR else at[axis]
    if any(place < -NEAR or place > side_ + NEAR for place, side_ in zip(at, size, strict=True)):
        return None
    return Hole(hole.kind, hole.face, (at[0], at[1], at[2]), hole.diameter, depth)


def _cut_after(cut: Cut, shift: Triple, size: Triple) -> Cut | None:
    low = [max(place - off, ZERO) for place, off in zip(cut.low, shift, strict=True)]
    high = [min(place - off, side) for place, off, side in zip(cut.high, shift, size, strict=True)]
    if any(b - a <= NEAR for a, b in zip(low, high, strict=True)):
        return None
    return Cut(cut.kind, cut.into, (low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _same_hole(one: Hole, other: Hole) -> bool:
    """Whether the other can be bored at the same spot: from the same face, no smaller and no shallower."""
    axis, _ = SIDES[one.face]
    aside = all(abs(one.at[at] - other.at[at]) <= NEAR for at in range(3) if at != axis)
    deeper = other.depth is None or (one.depth is not None and other.depth >= one.depth - NEAR)
    return one.face == other.face and aside and other.diameter >= one.diameter - NEAR and deeper


def _done(one: Hole, other: Hole) -> bool:
    deep = one.depth == other.depth or (
        one.depth is not None and other.depth is not None and abs(one.depth - other.depth) <= NEAR
    )
    return deep and abs(one.diameter - other.diameter) <= NEAR


def _within(cut: Cut, other: Cut) -> bool:
    """Whether the other takes away all that the one did."""
    return cut.into == other.into and all(
        b <= a + NEAR and c <= d + NEAR for a, b, c, d in zip(cut.low, other.low, cut.high, other.high, strict=True)
    )


def _in_cut(hole: Hole, cut: Cut) -> bool:
    axis, _ = SIDES[hole.face]
    aside = all(
        cut.low[at] - NEAR <= hole.at[at] - hole.diameter / 2 and hole.at[at] + hole.diameter / 2 <= cut.high[at] + NEAR
        for at in range(3)
        if at != axis
    )
    deep = cut.high[axis] - cut.low[axis]
    return cut.into == hole.face and aside and hole.depth is not None and hole.depth <= deep + NEAR
