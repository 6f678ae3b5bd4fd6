"""What is worth a full-size template: outlines, corners cut to a shape, and rows of holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.draw.lay import Lay, face_name, lay_out
from drawleaf.draw.lettering import Rich, inline_pieces
from drawleaf.draw.outline_subjects import outline_subjects
from drawleaf.draw.subject import Hole, Subject
from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile
from drawleaf.units import ZERO, Length

_ROUND = Length.of_mm(16)
"""Wood shown round what is cut, and the least distance past the last hole."""
_WHOLE = Length.of_mm(150)
"""A shaped part no larger than this either way is shown whole."""
_ROW = 3
"""A row of at least so many holes is worth a template."""


def template_subjects(derived: Derived) -> tuple[Subject, ...]:
    """All of a plan, in the order of the cut list; like ones once, mirror images once."""
    x, y, z = derived.overall
    rows: dict[tuple, list[tuple[Subject, Length, str]]] = {}
    corners: dict[tuple, list[Subject]] = {}
    for item in derived.cut_list.items:
        lay = lay_out(item.part, (x / 2, y / 2, z / 2))
        for key, subject in (*outline_subjects(derived.plan.lengths, item, lay), *_corners(item, lay)):
            corners.setdefault(key, []).append(subject)
        for key, subject, first, edge in _rows(derived, item, lay):
            rows.setdefault(key, []).append((subject, first, edge))
    shapes = (_turned_over(users) for users in corners.values())
    return (*shapes, *(_joined(derived, users) for users in rows.values()))


def _turned_over(users: Sequence[Subject]) -> Subject:
    """One template for all that have the same corner; the others' mirror image is its back."""
    first = users[0]
    others = {f"{one.item.number} {one.item.name}": None for one in users[1:] if one.item is not first.item}
    more = tuple(((f"{name}: turn the template over where it lies the other way round.",)) for name in others)
    return replace(first, lines=(*first.lines, *((line,) if isinstance(line, str) else line for line in more)))


def _corners(item: CutItem, lay: Lay) -> list[tuple[tuple, Subject]]:
    """A corner cut off, or a notch right through: shown with its two edges, or the whole part where it is small."""
    found: list[tuple[tuple, Subject]] = []
    part = item.part
    for feature in part.features:
        if isinstance(feature, EdgeProfile):
            faces = {face.axis: face for face in feature.edge}
            if feature.kind != "chamfer" or part.thickness in faces:
                continue
            spans = {}
            for toward in (lay.right, lay.up):
                reach = lay.reach(toward)
                at_far = faces[toward.axis] is toward
                spans[toward] = (reach - feature.size, reach) if at_far else (ZERO, feature.size)
            name = "corner"
        elif isinstance(feature, BoxCut) and {part.thickness.low, part.thickness.high} <= set(feature.open):
            spans = {
                toward: lay.span(toward, feature.box.span(toward.axis).low, feature.box.span(toward.axis).high)
                for toward in (lay.right, lay.up)
            }
            name = feature.kind
        else:
            continue
        across, up = _window(lay, spans)
        lines: list[Rich] = [
            (
                f"{item.number} {item.name}, {face_name(part, lay.face)}. Lay the template's edges on the edges of the wood.",
            )
        ]
        title = f"{name}, {item.name.lower()}"
        key = (name, *sorted(high - low for low, high in spans.values()), across[1] - across[0] == lay.reach(lay.right))
        found.append((key, Subject(title, item, lay, across[0], up[0], across[1], up[1], (), tuple(lines))))
    return found


def _window(lay: Lay, spans) -> tuple[tuple[Length, Length], tuple[Length, Length]]:  # type: ignore[no-untyped-def]
    whole = lay.reach(lay.right) <= _WHOLE and lay.reach(lay.up) <= _WHOLE
    found = []
    for toward in (lay.right, lay.up):
        low, high = spans[toward]
        reach = lay.reach(toward)
        found.append((ZERO, reach) if whole else (max(ZERO, low - _ROUND * 2), min(reach, high + _ROUND * 2)))
    return found[0], found[1]


def _rows(derived: Derived, item: CutItem, lay: Lay) -> list[tuple[tuple, Subject, Length, str]]:
    """Rows of like holes along the part, by what makes them alike; with the distance of the first hole from the end, and that end."""
    groups: dict[tuple, list[Bore]] = {}
    for bore in item.part.features:
        if isinstance(bore, Bore) and bore.face is lay.face and bore.kind == "shelf pin":
            groups.setdefault((bore.row, bore.diameter), []).append(bore)
    found = []
    for bores in groups.values():
        for along, side in ((lay.right, lay.up), (lay.up, lay.right)):
            lines: dict[Length, list[Length]] = {}
            for bore in bores:
                lines.setdefault(lay.along(side, bore.start.along(side.axis)), []).append(
                    lay.along(along, bore.start.along(along.axis))
                )
            row_at, row = min(lines.items(), key=lambda line: (-len(line[1]), line[0]))
            if len(row) < _ROW:
                continue
            places = sorted(row)
            holes = [(place, row_at) if along is lay.right else (row_at, place) for place in places]
            first, last = places[0] - _ROUND, places[-1] + _ROUND
            near = row_at <= lay.reach(side) - row_at
            edge = (ZERO, row_at + _ROUND) if near else (row_at - _ROUND, lay.reach(side))
            across, up = ((first, last), edge) if along is lay.right else (edge, (first, last))
            diameter = bores[0].diameter
            steps = tuple(place - places[0] for place in places)
            key = (steps, diameter, row_at if near else lay.reach(side) - row_at)
            subject = Subject(
                "shelf-pin holes",
                item,
                lay,
                across[0],
                up[0],
                across[1],
                up[1],
                tuple(Hole(a, u, diameter) for a, u in holes),
                (),
            )
            found.append((key, subject, places[0], face_name(item.part, along.opposite)))
            break
    return found


def _joined(derived: Derived, users: Sequence[tuple[Subject, Length, str]]) -> Subject:
    """One template for all parts with the same row; how far its first hole lies from the end of each."""
    subject = users[0][0]
    form = derived.plan.lengths
    lines: list[Rich] = []
    for one, first, end in users:
        lines.append(
            (f"{one.item.number} {one.item.name}: first hole ", *inline_pieces(form, first), f" from the {end}.")
        )
    lines = list(dict.fromkeys(lines))
    lines.append(("Lay the long edge on the edge of the wood. Turn the template over for the row on the other side.",))
    return Subject(
        subject.title,
        subject.item,
        subject.lay,
        subject.left,
        subject.low,
        subject.right,
        subject.high,
        subject.holes,
        tuple(lines),
    )
