"""Full-size templates of hinge cups: the edge of the door, the cup and the two screws of its ears."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.picture.lay import Lay, face_name, right_of
from drawleaf.draw.template.hole_subjects import ROUND
from drawleaf.draw.template.subject import Hole, Subject
from drawleaf.english import lower_first, noun
from drawleaf.model.derived import Derived
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, Fitting, Part
from drawleaf.units import ZERO, Length, LengthFormat

CUP = "hinge cup"
_PILOT = Length.of_mm(2)


def cup_subjects(derived: Derived, item: CutItem) -> list[tuple[tuple, Subject]]:
    """One template for all cups of a door that are bored alike, with what doors share one template by."""
    part = item.part
    groups: dict[tuple, list[tuple[Bore, Fitting]]] = {}
    for bore in part.features:
        hinge = _hinge(derived, part, bore) if isinstance(bore, Bore) and bore.kind == CUP else None
        if isinstance(bore, Bore) and hinge is not None:
            edge, room = _edge(part, bore, hinge)
            groups.setdefault((hinge.item.id, bore.diameter, room, bore.face, edge), []).append((bore, hinge))
    return [
        ((CUP, *key[:3]), _subject(derived.plan.lengths, item, pairs, key[4], key[2])) for key, pairs in groups.items()
    ]


def _hinge(derived: Derived, part: Part, bore: Bore) -> Fitting | None:
    """The hinge whose cup goes into the bore: of the same line, at the same height."""
    found = [f for f in derived.plan.fittings if f.position == bore.position and part.id in f.parts]
    away = bore.face.axis.others()
    return min(found, key=lambda f: min(abs(f.at.along(a) - bore.start.along(a)).exact_mm for a in away), default=None)


def _edge(part: Part, bore: Bore, hinge: Fitting) -> tuple[Face, Length]:
    """The edge of the door beside the cup, across the pin, and how far the cup's middle is from it."""
    axis = hinge.face.axis
    low, high = (abs(bore.start.along(axis) - part.body.face(face)) for face in (axis.low, axis.high))
    return (axis.low, low) if low <= high else (axis.high, high)


def _subject(
    form: LengthFormat, item: CutItem, pairs: Sequence[tuple[Bore, Fitting]], edge: Face, room: Length
) -> Subject:
    """The template lies with the hinge edge at the left; its upright line through the ears is the line of the screws."""
    part, (bore, hinge) = item.part, pairs[0]
    run = next(axis for axis in Axis if axis not in (bore.face.axis, edge.axis))
    right = edge.opposite
    up = next(face for face in (run.high, run.low) if right_of(bore.face, face) is right)
    lay = Lay(part, bore.face, right, up)
    middle = lay.along(up, bore.start.along(run))
    pitch, back = hinge.item.measure("screw spacing"), hinge.item.measure("screw back")
    holes = [Hole(room, middle, bore.diameter)]
    half = bore.diameter / 2
    if pitch is not None:
        line = room + (back or ZERO)
        holes += [Hole(line, middle - pitch / 2, _PILOT), Hole(line, middle + pitch / 2, _PILOT)]
        half = max(half, pitch / 2)
    low, high = max(ZERO, middle - half - ROUND), min(lay.reach(up), middle + half + ROUND)
    places = sorted(one.start.along(run) - part.body.span(run).low for one, _ in pairs)
    end, side = face_name(part, run.low), face_name(part, edge)
    spots: list = []
    for place, at in enumerate(places):
        spots += [" and " if place == len(places) - 1 else ", "] if place else []
        spots += inline_pieces(form, at)
    lines: tuple[Rich, ...] = (
        (f"{item.number} {item.name}, {face_name(part, bore.face)}: lay the edge of the template on the {side},",),
        ("with the middle of the cup ", *spots, f" from the {end}."),
        ("Prick the middles through. Hold the hinge on the small ones first: makers space their screws differently.",),
    )
    name = f"{noun(len(pairs), 'hinge cup')}, {lower_first(item.name)}"
    serves = tuple(one for pair in pairs for one in pair)
    return Subject(
        name, item, lay, ZERO, low, room + half + ROUND, high, tuple(holes), lines, serves, "middle of the cup"
    )
