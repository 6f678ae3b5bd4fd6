"""Full-size templates of holes: rows for shelf pins, the place of a pull, the screws that a piece hangs from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.picture.lay import Lay, face_name
from drawleaf.draw.template.subject import Hole, Subject
from drawleaf.english import lower_first
from drawleaf.model.derived import Derived
from drawleaf.model.hardware_family import Wall
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, Fitting
from drawleaf.setting_out.origins import nearest, pin_origins
from drawleaf.units import ZERO, Length, LengthFormat

ROUND = Length.of_mm(16)
"""Wood shown round what is cut, and the least distance past the last hole."""
_ROW = 3
"""A row of at least so many holes is worth a template."""
_STRIP = Length.of_mm(100)
"""A longer row of evenly spaced holes is laid out with a strip that repeats: it shows so much of the row."""
_CENTER = Length.of_mm(2)
"""The middle of a fitting is marked as a point so wide."""


@dataclass(frozen=True, slots=True)
class PinRow:
    """A row of shelf-pin holes along a part: ``along`` is the way from its first hole on, ``edge`` the side that the template lies against,
    ``places`` how far the holes are from the end where it begins, ``inset`` how far the row is from the edge, ``others`` how far other
    rows of the same holes are."""

    item: CutItem
    lay: Lay
    along: Face
    edge: Face
    places: tuple[Length, ...]
    inset: Length
    others: tuple[Length, ...]
    bores: tuple[Bore, ...]

    @property
    def key(self) -> tuple:
        """Alike where one template serves."""
        steps = tuple(place - self.places[0] for place in self.places)
        return (steps, self.bores[0].diameter, self.inset)

    @property
    def hand(self) -> int:
        """Which way round the template lies on the face: 1 or -1, its mirror image."""
        if self.along is self.lay.right:
            return 1 if self.edge is self.lay.up else -1
        return -1 if self.edge is self.lay.right else 1

    @property
    def first(self) -> str:
        """What the hole is called that is nearest to the end."""
        end = self.along.opposite
        return f"{end.value} hole" if end in (Face.BOTTOM, Face.TOP) else f"first hole from the {end.value}"


def pin_rows(item: CutItem, lay: Lay) -> list[PinRow]:
    """The row of each group of pin holes that is nearest to the edge from which rows are measured."""
    groups: dict[tuple, list[Bore]] = {}
    for bore in item.part.features:
        if isinstance(bore, Bore) and bore.face is lay.face and bore.kind == "shelf pin":
            groups.setdefault((bore.diameter, bore.depth), []).append(bore)
    return [row for bores in groups.values() if (row := _pin_row(item, lay, bores)) is not None]


def _pin_row(item: CutItem, lay: Lay, bores: Sequence[Bore]) -> PinRow | None:
    origins = pin_origins(item.part)
    for along, side in ((lay.right, lay.up), (lay.up, lay.right)):
        edge = origins[side.axis]
        lines: dict[Length, list[Length]] = {}
        for bore in bores:
            inset = abs(bore.start.along(side.axis) - item.part.body.face(edge))
            lines.setdefault(inset, []).append(lay.along(along, bore.start.along(along.axis)))
        inset, row = min(lines.items(), key=lambda line: (-len(line[1]), line[0]))
        if len(row) >= _ROW:
            others = tuple(sorted(other for other in lines if other != inset))
            return PinRow(item, lay, along, edge, tuple(sorted(row)), inset, others, tuple(bores))
    return None


def pin_subject(form: LengthFormat, users: Sequence[PinRow]) -> Subject:
    """One template for all parts with the same row: how far its first hole lies from the end of each, and which way up it lies."""
    row = users[0]
    lay, side = row.lay, row.lay.up if row.along is row.lay.right else row.lay.right
    reach = lay.reach(side)
    low_edge = row.edge is side.opposite
    line = row.inset if low_edge else reach - row.inset
    strip = (ZERO, line + ROUND) if low_edge else (line - ROUND, reach)
    shown = _repeated(row.places)
    stretch = (shown[0] - ROUND, shown[-1] + ROUND)
    across, up = (stretch, strip) if row.along is lay.right else (strip, stretch)
    diameter = row.bores[0].diameter
    holes = tuple(
        Hole(place, line, diameter) if row.along is lay.right else Hole(line, place, diameter) for place in shown
    )
    lines = [_user_line(form, user, turned=user.hand != row.hand) for user in users]
    if len(shown) < len(row.places):
        lines.append(
            (f"The row has {len(row.places)} holes. To go on, lay the first hole on the last one that you marked.",)
        )
    lines.append((f"Lay the edge of the template on the {face_name(row.item.part, row.edge)} of the wood.",))
    lines += [
        (
            f"For the other row {f'of {user.item.number} ' if len(users) > 1 else ''}draw a line ",
            *inline_pieces(form, other),
            f" from the {face_name(row.item.part, row.edge)}; lay its holes on it.",
        )
        for user in users
        for other in user.others
    ]
    serves = tuple(bore for user in users for bore in user.bores)
    return Subject(
        "shelf-pin holes", row.item, lay, across[0], up[0], across[1], up[1], holes, tuple(dict.fromkeys(lines)), serves, row.first
    )  # fmt: skip


def _repeated(places: Sequence[Length]) -> tuple[Length, ...]:
    """The holes that a strip shows: all, or so many of an evenly spaced row that it is short and can be moved on."""
    steps = {after - before for before, after in pairwise(places)}
    few = max(_ROW, 1 + sum(place - places[0] <= _STRIP for place in places[1:]))
    return tuple(places) if len(steps) > 1 or len(places) <= few + 1 else tuple(places[:few])


def _user_line(form: LengthFormat, user: PinRow, *, turned: bool) -> Rich:
    part = user.item.part
    end = face_name(part, user.along.opposite)
    over = ", template turned over" if turned else ""
    start = f"{user.item.number} {user.item.name}, {face_name(part, user.lay.face)}{over}: {user.first} "
    return (start, *inline_pieces(form, user.places[0]), f" from the {end}.")


def fitting_subjects(derived: Derived, item: CutItem, lay: Lay) -> list[Subject]:
    """Where a pull goes, and the screws that a piece hangs from."""
    own = [f for f in derived.plan.fittings if f.parts[:1] == (item.part.id,) and f.face is lay.face]
    found: list[Subject] = []
    for fitting in own:
        if fitting.item.family.handle and fitting.body is not None:
            found.append(_pull(derived.plan.lengths, item, lay, fitting))
            break
    screws = [fitting for fitting in own if fitting.item.family.wall is Wall.SCREW]
    if len(screws) > 1:
        found.append(_wall(item, lay, screws))
    return found


def _spot(lay: Lay, fitting: Fitting) -> tuple[Length, Length]:
    return tuple(lay.along(toward, fitting.at.along(toward.axis)) for toward in (lay.right, lay.up))  # type: ignore[return-value]


def _pull(form: LengthFormat, item: CutItem, lay: Lay, fitting: Fitting) -> Subject:
    """A pull's outline and middle, with the nearest edge of the wood."""
    assert fitting.body is not None
    across, up = _spot(lay, fitting)
    spans = [
        lay.span(toward, fitting.body.span(toward.axis).low, fitting.body.span(toward.axis).high)
        for toward in (lay.right, lay.up)
    ]
    edge = nearest(item.part, lay.up.axis, fitting.at.along(lay.up.axis))
    low, high = (ZERO, spans[1][1] + ROUND) if edge is lay.up.opposite else (spans[1][0] - ROUND, lay.reach(lay.up))
    left, right = max(ZERO, spans[0][0] - ROUND), min(lay.reach(lay.right), spans[0][1] + ROUND)
    name, end = lower_first(fitting.item.name), face_name(item.part, lay.right.opposite)
    bored = _bored_for(item, lay, fitting)
    last: Rich = (
        ("Prick the middles of its holes through: they are where its bolts go.",)
        if bored
        else (f"Hold the {name} on its outline, and mark its screw holes through it: makers space them differently.",)
    )
    lines: tuple[Rich, ...] = (
        (
            f"{item.number} {item.name}, {face_name(item.part, lay.face)}: lay the edge of the template on the {face_name(item.part, edge)} of the wood,",
        ),
        ("with the upright line through the middle ", *inline_pieces(form, across), f" from the {end}."),
        last,
    )
    box = (spans[0][0], spans[1][0], spans[0][1], spans[1][1])
    holes = bored or (Hole(across, up, _CENTER),)
    return Subject(
        f"{name}, {lower_first(item.name)}",
        item,
        lay,
        left,
        low,
        right,
        high,
        holes,
        lines,
        (fitting, *_bores_of(item, fitting)),
        "middle" if len(holes) == 1 else "",
        (box,),
    )


def _bores_of(item: CutItem, fitting: Fitting) -> list[Bore]:
    """The holes that are bored for a fitting, of all in its line those that it covers."""
    body = fitting.body
    return [
        one
        for one in item.part.features
        if isinstance(one, Bore)
        and one.position == fitting.position
        and body is not None
        and all(body.span(a).low <= one.start.along(a) <= body.span(a).high for a in fitting.face.axis.others())
    ]


def _bored_for(item: CutItem, lay: Lay, fitting: Fitting) -> tuple[Hole, ...]:
    return tuple(
        Hole(
            lay.along(lay.right, one.start.along(lay.right.axis)),
            lay.along(lay.up, one.start.along(lay.up.axis)),
            one.diameter,
        )
        for one in _bores_of(item, fitting)
    )


def _wall(item: CutItem, lay: Lay, screws: Sequence[Fitting]) -> Subject:
    """The holes that a piece hangs from, with the edge above or below them to lay a level on."""
    spots = sorted(_spot(lay, one) for one in screws)
    ups = [up for _, up in spots]
    edge = nearest(item.part, lay.up.axis, screws[0].at.along(lay.up.axis))
    low, high = (ZERO, max(ups) + ROUND) if edge is lay.up.opposite else (min(ups) - ROUND, lay.reach(lay.up))
    left, right = max(ZERO, spots[0][0] - ROUND), min(lay.reach(lay.right), spots[-1][0] + ROUND)
    wide = [_width(item, one) for one in sorted(screws, key=lambda one: _spot(lay, one))]
    holes = tuple(Hole(across, up, size) for (across, up), size in zip(spots, wide, strict=True))
    lines: tuple[Rich, ...] = (
        (
            f"The wall behind {item.number} {item.name}, {face_name(item.part, lay.face)} toward you: tape the template where the piece will hang,",
        ),
        (
            f"with the line of its {face_name(item.part, edge)} level, and mark the wall through the middles of the holes.",
        ),
    )
    title = f"holes for the wall, {lower_first(item.name)}"
    return Subject(title, item, lay, left, low, right, high, holes, lines, tuple(screws), stick=True)


def _width(item: CutItem, screw: Fitting) -> Length:
    """The hole that the part has for the screw."""
    others = screw.face.axis.others()
    bores = (one for one in item.part.features if isinstance(one, Bore))
    return next((b.diameter for b in bores if all(b.start.along(a) == screw.at.along(a) for a in others)), _CENTER)
