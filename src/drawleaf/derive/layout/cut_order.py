"""From pieces on a sheet to the order of cuts: which line first, at what setting, what comes off.

Strips between through lines may change places freely, so they are put in order of size: equal settings follow each other, and what is left over
gathers at the far end in one piece. A large offcut comes off first, while the sheet is whole. All cuts of one level are made before
the next (rips before crosscuts), so the fence is set as seldom as may be. A blank too heavy to carry is first parted near its middle.

Whole numbers with the kerf folded in, as in ``guillotine``: a piece's extent holds its own width and one kerf.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from drawleaf.derive.layout.search.guillotine import Piece

Keepable = Callable[[int, int], bool]
"""Whether a leftover of (length, width), kerf taken off, is worth keeping."""


@dataclass(frozen=True, slots=True)
class Matched:
    """Pieces cut from one strip in their order, so that the grain runs on: laid one after another along ``axis``."""

    axis: int
    pieces: tuple[Piece, ...]

    def at(self, x: int, y: int) -> tuple[Piece, ...]:
        """The pieces with their corner there."""
        return tuple(replace(piece, x=piece.x + x, y=piece.y + y) for piece in self.pieces)


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A blank being cut, kerf folded in. ``raw`` says for each axis whether its far edge is still the untrimmed edge of the sheet."""

    x: int
    y: int
    length: int
    width: int
    raw: tuple[bool, bool]

    def extent(self, axis: int) -> int:
        return (self.length, self.width)[axis]


@dataclass(frozen=True, slots=True)
class Sawn:
    """One cut through ``blank``: a rip (``axis`` 1, measured across) or a crosscut (0). ``setting`` is the true distance from the
    blank's near edge; ``at`` where the line lies; ``frees`` the pieces that come off, empty for waste; ``done`` when what comes off needs no further cut."""

    blank: Rectangle
    axis: int
    setting: int
    at: int
    level: int
    frees: tuple[Piece, ...]
    done: bool


@dataclass(frozen=True, slots=True)
class CutPlan:
    """Pieces where they finally lie, cuts in order, leftovers as (x, y, length, width) true sizes."""

    pieces: tuple[Piece, ...]
    cuts: tuple[Sawn, ...]
    leftovers: tuple[tuple[int, int, int, int], ...]

    @property
    def settings(self) -> int:
        """How often the fence or stop must be set on the way through the cuts."""
        return settings_of([(cut.axis, cut.setting) for cut in self.cuts])

    @property
    def largest_leftover(self) -> int:
        return max((length * width for _, _, length, width in self.leftovers), default=0)


def settings_of(cuts: Sequence[tuple[int, int]]) -> int:
    """How often a fence is moved: cuts, as (axis, distance), that follow each other at one setting count once."""
    return sum(at == 0 or cut != cuts[at - 1] for at, cut in enumerate(cuts))


def plan_cuts(
    sheet: tuple[int, int],
    pieces: Sequence[Piece],
    kerf: int,
    *,
    raw: tuple[bool, bool] = (False, False),
    first: int = 1,
    keepable: Keepable | None = None,
    matched: Mapping[int, Matched] | None = None,
    carry: int | None = None,
) -> CutPlan:
    """The cuts that free all pieces. ``first`` is the axis preferred where both will do: 1 rips, 0 crosscuts.

    ``matched`` says of what a kind that stands for several pieces is made; ``carry`` is the largest area that one person carries.
    """
    planner = _Planner(kerf, first, keepable or (lambda length, width: False), matched or {}, carry)
    planner.cut(Rectangle(0, 0, *sheet, raw), tuple(pieces), 0)
    return CutPlan(tuple(planner.pieces), tuple(_by_setting(planner.cuts, first)), tuple(planner.leftovers))


def _by_setting(cuts: Sequence[Sawn], first: int) -> list[Sawn]:
    """Level by level, the preferred way first, then by setting, largest first; each blank is cut in its own order all the same.

    Strips come widest first but for matched pieces, which lie as they must: there a cut waits for those before it in its blank.
    """
    least: dict[tuple[Rectangle, int], int] = {}
    ranks = []
    for cut in cuts:
        key = cut.blank, cut.level
        least[key] = min(cut.setting, least.get(key, cut.setting))
        ranks.append((cut.level, cut.axis != first, -least[key]))
    return [cuts[at] for at in sorted(range(len(cuts)), key=lambda at: ranks[at])]


class _Planner:
    def __init__(
        self, kerf: int, first: int, keepable: Keepable, matched: Mapping[int, Matched], carry: int | None
    ) -> None:
        self.kerf = kerf
        self.first = first
        self.keepable = keepable
        self.matched = matched
        self.carry = carry
        self.pieces: list[Piece] = []
        self.cuts: list[Sawn] = []
        self.leftovers: list[tuple[int, int, int, int]] = []

    def cut(self, blank: Rectangle, pieces: tuple[Piece, ...], level: int) -> None:
        """Cut a blank into its pieces; ``pieces`` lie anywhere, only their order along each axis matters."""
        strips = (_strips(pieces, 0), _strips(pieces, 1))
        spare = tuple(blank.extent(axis) - sum(_extent(strip, axis) for strip in strips[axis]) for axis in (0, 1))
        needed = [axis for axis in (0, 1) if len(strips[axis]) > 1 or spare[axis] or blank.raw[axis]]
        if not needed:
            assert len(pieces) == 1, "the pieces cannot be parted by through cuts"
            self._free(blank, pieces[0], level)
            return
        axis = self._axis(blank, strips, spare, needed)
        if self._peels(blank, strips, spare, axis):
            self._peel(blank, pieces, axis, spare[axis], level)
        elif self._is_heavy(blank) and len(strips[axis]) + bool(spare[axis]) > 2:
            self._halve(blank, strips[axis], axis, level)
        else:
            self._part(blank, _widest_first(strips[axis], axis), axis, spare[axis], level)

    def _free(self, blank: Rectangle, piece: Piece, level: int) -> None:
        """A piece is done; matched pieces are now cut from their strip, in their order."""
        of_set = self.matched.get(piece.kind)
        if of_set is None:
            self.pieces.append(replace(piece, x=blank.x, y=blank.y))
            return
        strips = [(member,) for member in of_set.at(blank.x, blank.y)]
        self._part(blank, strips, of_set.axis, 0, level)

    def _members(self, pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
        """The pieces with those of matched sets one by one."""
        return tuple(
            member
            for piece in pieces
            for member in (self.matched[piece.kind].pieces if piece.kind in self.matched else (piece,))
        )

    def _is_heavy(self, blank: Rectangle) -> bool:
        return self.carry is not None and blank.length * blank.width > self.carry

    def _halve(self, blank: Rectangle, strips: list[tuple[Piece, ...]], axis: int, level: int) -> None:
        """Part a heavy blank between two strips, so that the heavier half is as light as may be."""
        strips = _widest_first(strips, axis)
        whole = blank.extent(axis)
        reached = [sum(_extent(strip, axis) for strip in strips[:count]) for count in range(1, len(strips) + 1)]
        # What is left over lies at the far end: beyond the last strip there is only waste.
        count, keep = min(
            ((at + 1, reach) for at, reach in enumerate(reached) if reach < whole),
            key=lambda one: (max(one[1], whole - one[1]), one[0]),
        )
        near = tuple(piece for strip in strips[:count] for piece in strip)
        self._saw(blank, axis, keep, keep, level, near, done=False)
        self._go_on(_part_of(blank, axis, 0, keep), strips[:count], axis, level + 1)
        if strips[count:]:
            self._go_on(_beyond(blank, axis, keep), strips[count:], axis, level + 1)
        else:
            self._leave(blank, axis, keep, whole - keep)

    def _go_on(self, blank: Rectangle, strips: list[tuple[Piece, ...]], axis: int, level: int) -> None:
        """Cut a half the same way until its strips are apart; a half that is one strip waits until the other's are."""
        strips = [_closed_up(strips, axis)] if len(strips) == 1 else _strips(_closed_up(strips, axis), axis)
        spare = blank.extent(axis) - sum(_extent(strip, axis) for strip in strips)
        if self._is_heavy(blank) and len(strips) + bool(spare) > 2:
            self._halve(blank, strips, axis, level)
        elif len(strips) > 1 or spare or blank.raw[axis]:
            self._part(blank, _widest_first(strips, axis), axis, spare, level)
        else:
            self.cut(blank, strips[0], level + 1)

    def _axis(
        self,
        blank: Rectangle,
        strips: tuple[list[tuple[Piece, ...]], list[tuple[Piece, ...]]],
        spare: tuple[int, ...],
        needed: list[int],
    ) -> int:
        """A large offcut first; else the preferred way if it parts pieces; else whatever parts pieces; else what leaves most whole."""
        worth = [self._worth(blank, axis, spare[axis]) if axis in needed else 0 for axis in (0, 1)]
        if any(worth):
            return max((0, 1), key=lambda axis: (worth[axis], axis == self.first))
        parting = [axis for axis in needed if len(strips[axis]) > 1]
        if self.first in parting or (self.first in needed and not parting):
            return self.first
        return parting[0] if parting else needed[0]

    def _worth(self, blank: Rectangle, axis: int, spare: int) -> int:
        """Area of the leftover that a cut at the end of the pieces gives, zero if it is not worth keeping."""
        size = [blank.length - self.kerf, blank.width - self.kerf]
        size[axis] = spare - self.kerf
        return size[0] * size[1] if spare > self.kerf and self.keepable(size[0], size[1]) else 0

    def _peels(
        self,
        blank: Rectangle,
        strips: tuple[list[tuple[Piece, ...]], list[tuple[Piece, ...]]],
        spare: tuple[int, ...],
        axis: int,
    ) -> bool:
        """Whether to take only the offcut off now and choose again for the rest."""
        return bool(self._worth(blank, axis, spare[axis])) and axis != self.first and len(strips[1 - axis]) > 1

    def _peel(self, blank: Rectangle, pieces: tuple[Piece, ...], axis: int, spare: int, level: int) -> None:
        keep = blank.extent(axis) - spare
        self._saw(blank, axis, keep, keep, level, pieces, done=False)
        self._leave(blank, axis, keep, spare)
        self.cut(_part_of(blank, axis, 0, keep), pieces, level + 1)

    def _part(self, blank: Rectangle, strips: list[tuple[Piece, ...]], axis: int, spare: int, level: int) -> None:
        at = 0
        for strip in strips:
            extent = _extent(strip, axis)
            is_last = strip is strips[-1]
            part = _part_of(blank, axis, at, extent)
            if not is_last or spare or blank.raw[axis]:
                done = (
                    len(self._members(strip)) == 1
                    and not any(part.raw)
                    and part.extent(1 - axis) == _extent(strip, 1 - axis)
                )
                self._saw(blank, axis, extent, at + extent, level, strip, done=done)
            self.cut(part, strip, level + 1)
            at += extent
        if spare:
            self._leave(blank, axis, at, spare)

    def _saw(
        self, blank: Rectangle, axis: int, extent: int, at: int, level: int, frees: tuple[Piece, ...], *, done: bool
    ) -> None:
        line = (blank.x, blank.y)[axis] + at - self.kerf
        self.cuts.append(Sawn(blank, axis, extent - self.kerf, line, level, self._members(frees), done))

    def _leave(self, blank: Rectangle, axis: int, at: int, spare: int) -> None:
        """Note a leftover at the far end, its own saw cut taken off."""
        corner, size = [blank.x, blank.y], [blank.length - self.kerf, blank.width - self.kerf]
        corner[axis] += at
        size[axis] = spare - self.kerf
        if size[0] > 0 and size[1] > 0:
            self.leftovers.append((corner[0], corner[1], size[0], size[1]))


def _part_of(blank: Rectangle, axis: int, at: int, extent: int) -> Rectangle:
    """The slice of a blank that a cut on ``axis`` gives: its far edge there is sawn."""
    if axis == 0:
        return Rectangle(blank.x + at, blank.y, extent, blank.width, (False, blank.raw[1]))
    return Rectangle(blank.x, blank.y + at, blank.length, extent, (blank.raw[0], False))


def _beyond(blank: Rectangle, axis: int, at: int) -> Rectangle:
    """What a cut on ``axis`` leaves beyond it, up to the blank's far edge."""
    if axis == 0:
        return Rectangle(blank.x + at, blank.y, blank.length - at, blank.width, blank.raw)
    return Rectangle(blank.x, blank.y + at, blank.length, blank.width - at, blank.raw)


def _widest_first(strips: Sequence[tuple[Piece, ...]], axis: int) -> list[tuple[Piece, ...]]:
    return sorted(strips, key=lambda strip: (-_extent(strip, axis), _order(strip)))


def _closed_up(strips: Sequence[tuple[Piece, ...]], axis: int) -> tuple[Piece, ...]:
    """The strips moved together along the axis, in the order given."""
    moved: list[Piece] = []
    at = 0
    for strip in strips:
        start = min(_low(piece, axis) for piece in strip)
        for piece in strip:
            shift = at + _low(piece, axis) - start
            moved.append(replace(piece, x=shift) if axis == 0 else replace(piece, y=shift))
        at += _extent(strip, axis)
    return tuple(moved)


def _low(piece: Piece, axis: int) -> int:
    return (piece.x, piece.y)[axis]


def _high(piece: Piece, axis: int) -> int:
    return piece.x + piece.length if axis == 0 else piece.y + piece.width


def _strips(pieces: Sequence[Piece], axis: int) -> list[tuple[Piece, ...]]:
    """Pieces in groups that a straight line can part from each other across the axis."""
    strips: list[list[Piece]] = []
    reach = 0
    for piece in sorted(pieces, key=lambda piece: (_low(piece, axis), _low(piece, 1 - axis))):
        if not strips or _low(piece, axis) >= reach:
            strips.append([])
            reach = _high(piece, axis)
        strips[-1].append(piece)
        reach = max(reach, _high(piece, axis))
    return [tuple(strip) for strip in strips]


def _extent(strip: Sequence[Piece], axis: int) -> int:
    return max(_high(piece, axis) for piece in strip) - min(_low(piece, axis) for piece in strip)


def _order(strip: Sequence[Piece]) -> tuple[int, ...]:
    return tuple(sorted((piece.kind, piece.x, piece.y)[0] for piece in strip))
