"""When are two parts the same piece? A canonical key of the machined shape, blind to where and which way up the part stands.

Two parts are the same when one can be turned (never mirrored) so that blank and cuts coincide. The key is the smallest
description over all such turns, so equal shapes have equal keys however they were written down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import radians, tan

from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Part, in_own_frame
from drawleaf.model.shapes import Outline, OutlineCut, PlaneCut
from drawleaf.units import Length

_FINE = 2
"""Decimals of a millimetre to which a screw's place tells two parts apart: those of splayed parts are found in floats."""
Interval = tuple[Fraction, Fraction]
Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """Lays a part in its own frame: ``axes`` are the part's axes in the order length, width, thickness; a flip reads one backwards."""

    axes: tuple[Axis, Axis, Axis]
    flips: tuple[bool, bool, bool]

    @property
    def keeps_hand(self) -> bool:
        """Whether this is a turn (True) or a mirror image (False)."""
        odd = sum(self.axes[low].index > self.axes[high].index for low in range(3) for high in range(low + 1, 3))
        return (odd + sum(self.flips)) % 2 == 0

    def interval(self, body: Box, box: Box, place: int) -> Interval:
        """The stretch of ``box`` along the own axis ``place``, from the body's low end, clipped to the body."""
        axis = self.axes[place]
        blank, span = body.span(axis), box.span(axis)
        low = max(span.low, blank.low).exact_mm - blank.low.exact_mm
        high = min(span.high, blank.high).exact_mm - blank.low.exact_mm
        if self.flips[place]:
            extent = blank.extent.exact_mm
            low, high = extent - high, extent - low
        return low, high

    def face(self, face: Face) -> tuple[int, int]:
        """A face as (own axis, side)."""
        place = self.axes.index(face.axis)
        return place, -face.side if self.flips[place] else face.side

    def direction(self, vector: tuple[float, float, float]) -> tuple[float, ...]:
        """A direction in the part's own frame, rounded so that float noise makes no two keys of one shape."""
        turned = (
            -vector[axis.index] if flip else vector[axis.index]
            for axis, flip in zip(self.axes, self.flips, strict=True)
        )
        return tuple(round(value, 6) + 0.0 for value in turned)


_AS_IT_STANDS = Turn((Axis.X, Axis.Y, Axis.Z), (False, False, False))


def turns_of(part: Part) -> tuple[Turn, ...]:
    """All ways to lay the part in its own frame, turned or mirrored. A square part with free grain may also swap length and width."""
    axes = (part.length_axis, part.width_axis, part.thickness)
    orders = [axes]
    if part.grain is None and part.size[0] == part.size[1]:
        orders.append((axes[1], axes[0], axes[2]))
    return tuple(
        Turn(order, (length, width, thickness))
        for order in orders
        for length, width, thickness in product((False, True), repeat=3)
    )


def shape_keys(part: Part, driven: Sequence[Fastener] = ()) -> tuple[Key, Key]:
    """The key of the part and the key of its mirror image. Equal for a part that is its own mirror image.

    ``driven`` are the screws that go through it: their holes and slots are bored while it is loose.
    """
    own, mirrored = [], []
    voids = _voids(part)
    for turn in turns_of(part):
        (own if turn.keeps_hand else mirrored).append(_described(part, turn, driven, voids))
    return min(own), min(mirrored)


def described(part: Part, turn: Turn, driven: Sequence[Fastener] = ()) -> Key:
    """Blank, cuts and screw holes of a part as it lies when turned so: equal for two parts that are then the same piece."""
    return _described(part, turn, driven, _voids(part))


def _described(part: Part, turn: Turn, driven: Sequence[Fastener], voids: Voids) -> Key:
    bores = sorted(_bore(part, feature, turn) for feature in part.features if isinstance(feature, Bore))
    edges = sorted(
        (
            tuple(sorted(turn.face(face) for face in feature.edge)),
            feature.kind,
            feature.size.exact_mm,
            feature.round_what,
        )
        for feature in part.features
        if isinstance(feature, EdgeProfile)
    )
    lines = sorted(_line(part, feature, turn) for feature in part.features if isinstance(feature, OutlineCut))
    planes = sorted(_plane(part, feature, turn) for feature in part.features if isinstance(feature, PlaneCut))
    section = () if part.section is None else (part.section.name, _corners(part, part.section.outline, turn))
    holes = sorted(_hole(part, in_own_frame(part, fastener), turn) for fastener in driven)
    return (
        *_turned(voids, part.body, turn),
        tuple(bores),
        tuple(edges),
        tuple(lines),
        tuple(planes),
        section,
        tuple(holes),
    )


def _corners(part: Part, outline: Outline, turn: Turn) -> tuple[tuple[float, ...], ...]:
    """The corners and arc middles of an outline in the part's own frame, in an order that does not depend on where the author began."""
    axes = outline.axis.others()
    points: list[tuple[float, ...]] = []
    corners = outline.corners
    for number, corner in enumerate(corners):
        after = corners[(number + 1) % len(corners)]
        points.append((*_own(part, axes, (corner.u.mm, corner.v.mm), turn), 0.0))
        if corner.turn:
            chord = (after.u.mm - corner.u.mm, after.v.mm - corner.v.mm)
            rise = tan(radians(corner.turn) / 4.0) / 2.0
            middle = ((corner.u.mm + after.u.mm) / 2.0, (corner.v.mm + after.v.mm) / 2.0)
            crown = (middle[0] + chord[1] * rise, middle[1] - chord[0] * rise)
            points.append((*_own(part, axes, crown, turn), 1.0))
    return tuple(sorted(points))


def _own(part: Part, axes: tuple[Axis, Axis], point: tuple[float, float], turn: Turn) -> tuple[float, float, float]:
    """A point across one axis as it lies in the part's own frame; 0 along that axis."""
    found = [0.0, 0.0, 0.0]
    for axis, value in zip(axes, point, strict=True):
        place = turn.axes.index(axis)
        span = part.body.span(axis)
        along = value - span.low.mm
        found[place] = round(span.extent.mm - along if turn.flips[place] else along, 4) + 0.0
    return (found[0], found[1], found[2])


def _line(part: Part, cut: OutlineCut, turn: Turn) -> Key:
    place = turn.axes.index(cut.outline.axis)
    blank = part.body.span(cut.outline.axis)
    low, high = (
        max(cut.span.low, blank.low).exact_mm - blank.low.exact_mm,
        min(cut.span.high, blank.high).exact_mm - blank.low.exact_mm,
    )
    if turn.flips[place]:
        low, high = blank.extent.exact_mm - high, blank.extent.exact_mm - low
    return (place, cut.keep, (low, high), _corners(part, cut.outline, turn))


def _plane(part: Part, cut: PlaneCut, turn: Turn) -> Key:
    """The plane by its normal and how far it stands from the middle of the blank."""
    x, y, z = cut.point.mm
    middle = part.body.center.mm
    off = sum(n * (p - m) for n, p, m in zip(cut.normal, (x, y, z), middle, strict=True))
    return (turn.direction(cut.normal), round(off, 4) + 0.0)


def _steps(length: Length, decimals: int) -> int:
    """How many steps of so many decimals of a millimetre a length has: a whole number, which is made and compared much faster than a
    rounded fraction."""
    over, under = length.exact_mm.as_integer_ratio()
    return (2 * over * 10**decimals + under) // (2 * under)


def _bore(part: Part, bore: Bore, turn: Turn) -> Key:
    """Centre, direction, diameter and depth. A square hole right through is the same from either side."""
    start = []
    for place, axis in enumerate(turn.axes):
        span = part.body.span(axis)
        along = span.high - bore.start.along(axis) if turn.flips[place] else bore.start.along(axis) - span.low
        # A hole square to a splayed face is found in floats.
        start.append(_steps(along, 4))
    direction = turn.direction(bore.direction)
    if bore.depth is None and sum(value != 0 for value in direction) == 1:
        place = next(place for place, value in enumerate(direction) if value)
        start[place] = 0
        direction = tuple(abs(value) for value in direction)
    depth = Fraction(-1) if bore.depth is None else bore.depth.exact_mm
    return (tuple(start), direction, bore.diameter.exact_mm, depth, bore.kind == "pocket")


def _hole(part: Part, fastener: Fastener, turn: Turn) -> Key:
    """A screw's hole by the place of its head, its way in, its size, and how the head lies."""
    start = []
    for place, axis in enumerate(turn.axes):
        span = part.body.span(axis)
        along = span.high - fastener.at.along(axis) if turn.flips[place] else fastener.at.along(axis) - span.low
        start.append(_steps(along, _FINE))
    plug = fastener.plug.id if fastener.plug is not None else ""
    head = (
        fastener.item.kind,
        fastener.item.gauge or 0,
        fastener.slotted,
        fastener.sunk.exact_mm,
        plug,
        fastener.open_wide is not None,
    )
    return (tuple(start), turn.direction(fastener.direction), head)


Voids = tuple[tuple[tuple[Fraction, ...], ...], tuple[tuple[int, ...], ...]]
"""Planes along three axes, in exact mm from the body's low end, and the cells between them that are cut away, by number."""


def _voids(part: Part) -> Voids:
    """The union of square-cornered cuts, along x, y and z, with every plane left out that parts nothing.

    So one wide dado, or the same dado written as two that touch, has one description.
    """
    cuts = [feature.box for feature in part.features if isinstance(feature, BoxCut)]
    boxes = [tuple(_AS_IT_STANDS.interval(part.body, cut, place) for place in range(3)) for cut in cuts]
    boxes = [box for box in boxes if all(low < high for low, high in box)]
    planes = [sorted({end for box in boxes for end in box[place]}) for place in range(3)]
    number = [{plane: at for at, plane in enumerate(of_axis)} for of_axis in planes]
    filled: set[tuple[int, ...]] = set()
    for box in boxes:
        filled.update(product(*(range(of[low], of[high]) for of, (low, high) in zip(number, box, strict=True))))
    for place in range(3):
        filled = _merged(filled, planes[place], place)
    return tuple(tuple(of_axis) for of_axis in planes), tuple(filled)


def _turned(voids: Voids, body: Box, turn: Turn) -> Voids:
    """The same voids in the part's own frame."""
    planes, cells = voids
    turned = []
    for axis, flip in zip(turn.axes, turn.flips, strict=True):
        extent, of_axis = body.span(axis).extent.exact_mm, planes[axis.index]
        turned.append(tuple(extent - plane for plane in reversed(of_axis)) if flip else of_axis)
    # A cell lies between a plane and the next, so there is one less of them.
    numbers = [
        (axis.index, len(planes[axis.index]) - 2 if flip else 0, -1 if flip else 1)
        for axis, flip in zip(turn.axes, turn.flips, strict=True)
    ]
    return tuple(turned), tuple(sorted(tuple(first + way * cell[at] for at, first, way in numbers) for cell in cells))


def _merged(filled: set[tuple[int, ...]], planes: list[Fraction], place: int) -> set[tuple[int, ...]]:
    """Drop each plane whose two sides are filled alike; changes ``planes`` in place and renumbers the cells."""

    def layer(at: int) -> set[tuple[int, ...]]:
        return {cell[:place] + cell[place + 1 :] for cell in filled if cell[place] == at}

    at = 1
    while at < len(planes) - 1:
        if layer(at - 1) != layer(at):
            at += 1
            continue
        planes.pop(at)
        filled = {
            (*cell[:place], cell[place] - 1 if cell[place] >= at else cell[place], *cell[place + 1 :])
            for cell in filled
        }
    return filled
