"""What is cut into a part, as marks on its face view: where, how far from which edge, and the note that belongs to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawleaf.draw.lettering import Rich, inline_pieces
from drawleaf.draw.view import Vector, View
from drawleaf.draw.words import lower_first
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Joint, Part
from drawleaf.units import Length, LengthFormat

_KINDS = {"shelf pin": "shelf-pin hole", "hole": "hole", "finger hole": "finger hole", "pocket": "pocket hole"}


@dataclass(frozen=True, slots=True)
class Lay:
    """How a part lies in its face view: the face that looks at the reader, and the part's axes and faces on paper."""

    part: Part
    face: Face
    right: Face
    up: Face

    @property
    def view(self) -> View:
        return View(f"{self.face.value} face", self.face.normal, self.up.normal)

    @property
    def below(self) -> View:
        """The edge that is at the bottom of the face view, with the face upwards."""
        return View(f"{self.up.opposite.value} edge", self.up.opposite.normal, self.face.normal)

    @property
    def beside(self) -> View:
        """The end that is at the right of the face view."""
        return View(f"{self.right.value} end", self.right.normal, self.up.normal)

    def along(self, face: Face, place: Length) -> Length:
        """Distance of a coordinate from the edge opposite to ``face`` (left edge for ``right``, lower edge for ``up``)."""
        span = self.part.body.span(face.axis)
        return place - span.low if face.side > 0 else span.high - place

    def reach(self, face: Face) -> Length:
        return self.part.body.extent(face.axis)

    def span(self, face: Face, low: Length, high: Length) -> tuple[Length, Length]:
        """Two coordinates as distances from the reference edge, the nearer one first."""
        a, b = self.along(face, low), self.along(face, high)
        return (a, b) if a <= b else (b, a)


@dataclass(frozen=True, slots=True)
class Mark:
    """A feature or group of like features: the place on the face view that its key points at (distances from the left and lower
    edge), the distances to dimension to the right and upwards, and its note."""

    anchor: tuple[Length, Length]
    across: tuple[tuple[Length, Length], ...]
    upright: tuple[tuple[Length, Length], ...]
    note: Rich


def lay_out(part: Part, center: Vector) -> Lay:
    """The face with most work towards the reader; the longer way across the paper; else as it stands in the piece."""
    face = _main_face(part, center)
    up = Face.BACK if face.axis is Axis.Z else Face.TOP
    if face is Face.BOTTOM:
        up = Face.FRONT
    right = _right_of(face, up)
    if part.body.extent(up.axis).mm > 1.15 * part.body.extent(right.axis).mm:
        right, up = up, right.opposite
    return Lay(part, face, right, up)


def _main_face(part: Part, center: Vector) -> Face:
    low, high = part.thickness.low, part.thickness.high
    work = dict.fromkeys((low, high), 0)
    for feature in part.features:
        face = feature.into if isinstance(feature, BoxCut) else feature.face if isinstance(feature, Bore) else None
        if face in work:
            work[face] += 1
    if work[low] != work[high]:
        return max((low, high), key=lambda face: work[face])
    if part.thickness is Axis.X:
        return high if part.body.center.x.mm < center[0] else low
    return Face.FRONT if part.thickness is Axis.Y else Face.TOP


def _right_of(face: Face, up: Face) -> Face:
    a, b = up.normal, face.normal
    cross = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    axis = max(Axis, key=lambda axis: abs(cross[axis.index]))
    return Face.of(axis, 1 if cross[axis.index] > 0 else -1)


def marks(derived: Derived, lay: Lay) -> tuple[Mark, ...]:
    """All marks of a part, in the order of its features; like ones under one note."""
    form = derived.plan.lengths
    part = lay.part
    found: list[Mark] = []
    for feature in part.features:
        if isinstance(feature, BoxCut):
            found.append(_cut_mark(derived, lay, feature))
    for row in _hole_groups(part):
        found.append(_hole_mark(form, lay, row))
    found += _profile_marks(form, lay, [f for f in part.features if isinstance(f, EdgeProfile)])
    return tuple(found)


def _cut_mark(derived: Derived, lay: Lay, cut: BoxCut) -> Mark:
    spans = {
        face: lay.span(face, cut.box.span(face.axis).low, cut.box.span(face.axis).high) for face in (lay.right, lay.up)
    }
    middle = tuple((spans[face][0] + spans[face][1]) / 2 for face in (lay.right, lay.up))
    return Mark(
        (middle[0], middle[1]),
        _needed(spans[lay.right], lay.reach(lay.right)),
        _needed(spans[lay.up], lay.reach(lay.up)),
        _cut_note(derived, lay, cut),
    )


def _needed(span: tuple[Length, Length], reach: Length) -> tuple[tuple[Length, Length], ...]:
    """Nothing where the cut runs from edge to edge; its own width where it starts at an edge; else where it starts and how wide it is."""
    low, high = span
    at_low, at_high = low.mm < 1e-6, reach.mm - high.mm < 1e-6
    if at_low and at_high:
        return ()
    if at_low or at_high:
        return ((low, high),)
    return ((low - low, low), (low, high))


def _cut_note(derived: Derived, lay: Lay, cut: BoxCut) -> Rich:
    form, part = derived.plan.lengths, lay.part
    depth = cut.box.extent(cut.into.axis)
    sides = [axis for axis in Axis if axis is not cut.into.axis]
    run = max(sides, key=lambda axis: cut.box.extent(axis))
    width = cut.box.extent(next(axis for axis in sides if axis is not run))
    name = cut.kind.capitalize()
    if part.thickness.low in cut.open and part.thickness.high in cut.open:
        a, b = cut.box.extent(lay.right.axis), cut.box.extent(lay.up.axis)
        return (f"{name} ", *inline_pieces(form, a), " × ", *inline_pieces(form, b), ", right through")
    where = "" if cut.into is lay.face else f", in the {face_name(part, cut.into)}"
    return (
        f"{name}{_for_part(derived, part, cut.joint)}: ",
        *inline_pieces(form, width),
        " wide, ",
        *inline_pieces(form, depth),
        f" deep{where}",
    )


def _for_part(derived: Derived, part: Part, joint_id: str | None) -> str:
    """`` for 3 Bottom``: the part that the cut receives."""
    joint: Joint | None = next((joint for joint in derived.plan.joints if joint.id == joint_id), None)
    if joint is None:
        return ""
    other = joint.insert if joint.receiver == part.id else joint.receiver
    if other == part.id:
        return ""
    item = derived.cut_list.item_of(other)
    return f" for {item.number} {item.name}"


def _hole_groups(part: Part) -> list[list[Bore]]:
    groups: dict[tuple, list[Bore]] = {}
    for bore in part.features:
        if isinstance(bore, Bore):
            key = (bore.kind, bore.face, bore.diameter, bore.depth, bore.row or "")
            groups.setdefault(key, []).append(bore)
    return list(groups.values())


def _hole_mark(form: LengthFormat, lay: Lay, row: Sequence[Bore]) -> Mark:
    at = sorted(
        (lay.along(lay.right, b.start.along(lay.right.axis)), lay.along(lay.up, b.start.along(lay.up.axis)))
        for b in row
    )
    across, upright = sorted({a for a, _ in at}), sorted({u for _, u in at})
    first = row[0]
    if first.face.axis is not lay.face.axis:
        # Bored into an edge: its height in the thickness is said in the note.
        return Mark(at[0], _from_edge(across), (), _hole_note(form, lay, row, _pitch(across)))
    pitch = _pitch(across) or _pitch(upright)
    return Mark(at[0], _from_edge(across), _from_edge(upright), _hole_note(form, lay, row, pitch))


def _from_edge(places: Sequence[Length]) -> tuple[tuple[Length, Length], ...]:
    """The first place from the edge; the others too, where they keep no pitch and are few; the pitch once where they do."""
    zero = places[0] - places[0]
    if len(places) == 1:
        return ((zero, places[0]),)
    if _pitch(places) and len(places) > 2:
        return ((zero, places[0]), (places[0], places[1]))
    return tuple((zero, place) for place in places[:6])


def _pitch(places: Sequence[Length]) -> Length | None:
    """The one distance between neighbours; None where there are several or fewer than two places."""
    steps = {b - a for a, b in pairwise(places)}
    return steps.pop() if len(steps) == 1 else None


def _hole_note(form: LengthFormat, lay: Lay, row: Sequence[Bore], pitch: Length | None) -> Rich:
    bore, count = row[0], len(row)
    name = _KINDS.get(bore.kind, bore.kind)
    many = f"{count} {name}s" if count > 1 else f"{name.capitalize()}"
    words: list = [f"{many}, diameter ", *inline_pieces(form, bore.diameter)]
    words += (
        [", ", *inline_pieces(form, bore.depth), " deep"]
        if bore.depth is not None
        else [", right through"]
        if bore.kind != "pocket"
        else []
    )
    if pitch is not None and count > 2 and bore.kind != "pocket":
        words += [", ", *inline_pieces(form, pitch), " apart"]
    if bore.face is not lay.face:
        words.append(f", from the {face_name(lay.part, bore.face)}")
    return tuple(words)


def _profile_marks(form: LengthFormat, lay: Lay, profiles: Sequence[EdgeProfile]) -> list[Mark]:
    groups: dict[tuple[str, Length], list[EdgeProfile]] = {}
    for profile in profiles:
        groups.setdefault((profile.kind, profile.size), []).append(profile)
    found: list[Mark] = []
    for (kind, size), edges in groups.items():
        names = [edge_name(lay.part, profile.edge) for profile in edges]
        said = f" along the {_join(names)} edge{'s' if len(names) > 1 else ''}"
        name = {"round_over": "Round over", "round over": "Round over", "chamfer": "Chamfer"}.get(
            kind, kind.capitalize()
        )
        note: Rich = (f"{name} ", *inline_pieces(form, size), said)
        found.append(_corner_mark(lay, edges[0], note) or Mark(_edge_anchor(lay, edges[0]), (), (), note))
    return found


def _corner_mark(lay: Lay, profile: EdgeProfile, note: Rich) -> Mark | None:
    """A corner cut off in the face view: how far along either edge, the key on the middle of the slope. None for other edges."""
    across = next((f for f in profile.edge if f.axis is lay.right.axis), None)
    upright = next((f for f in profile.edge if f.axis is lay.up.axis), None)
    if across is None or upright is None or profile.kind != "chamfer":
        return None
    spans = []
    for face, toward in ((across, lay.right), (upright, lay.up)):
        reach = lay.reach(toward)
        spans.append((reach - profile.size, reach) if face is toward else (reach * 0, profile.size))
    anchor = ((spans[0][0] + spans[0][1]) / 2, (spans[1][0] + spans[1][1]) / 2)
    return Mark(anchor, (spans[0],), (spans[1],), note)


def _join(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _edge_anchor(lay: Lay, profile: EdgeProfile) -> tuple[Length, Length]:
    """A point on the edge in the face view."""
    at: list[Length] = []
    for toward in (lay.right, lay.up):
        face = next((f for f in profile.edge if f.axis is toward.axis), None)
        if face is None:
            at.append(lay.reach(toward) * 3 / 10)
        else:
            at.append(lay.reach(toward) if face is toward else lay.reach(toward) * 0)
    return (at[0], at[1])


def face_name(part: Part, face: Face) -> str:
    """``front edge``, ``bottom end`` or ``inside face``: by what that side is of the part."""
    if face.axis is part.thickness:
        return f"{face.value} face"
    return f"{face.value} {'end' if face.axis is part.length_axis else 'edge'}"


def edge_name(part: Part, edge: tuple[Face, Face]) -> str:
    return f"{lower_first(edge[0].value)}-{edge[1].value}"
