"""Rows of holes for shelf pins: those that carry one shelf stand opposite each other, or the shelf rocks and no jig serves both sides."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, mm, names, result, sentence, shared, span_mm
from drawleaf.model.checks import CheckResult, Fine, Verdict
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, Part

NAME = "pin-rows"
SAME = 0.4
"""Rows nearer than this stand opposite, mm: what a printed size may be off."""
MEANT = 30.0
"""Rows farther apart than this are not meant to be opposite, mm."""


def check(bench: Bench) -> Iterator[CheckResult]:
    """Advice for two parts that face each other with rows a little out of line; one pass for all that are true."""
    true: dict[str, Part] = {}
    for along, one, mine, other, theirs in _opposite(bench):
        off, place, wrong = max(
            ((abs(a - b), a, b) for a in mine for b in [min(theirs, key=lambda each, at=a: abs(at - each))]),
            key=lambda each: each[0],
        )
        if off <= SAME:
            true |= {one.id: one, other.id: other}
        elif off <= MEANT:
            yield _out_of_line(along, one, other, off, place, wrong)
    if true:
        yield result(
            NAME,
            "Rows for shelf pins",
            Verdict.PASS,
            true.values(),
            sentence("The rows of holes in the {parts} stand opposite each other.", parts=names(true.values()).lower()),
        )


def _out_of_line(along: Axis, one: Part, other: Part, off: float, place: float, wrong: float) -> CheckResult:
    """``place`` is where the row in the one part stands ``along`` the depth, ``wrong`` where that in the other does, mm."""
    low, high = span_mm(other.seen, along)
    front = wrong - low < high - wrong
    return result(
        NAME,
        "Rows for shelf pins",
        Verdict.ADVICE,
        (one, other),
        sentence(
            "The rows of holes in the {one} and the {other} that face each other are {off} out of line.",
            one=called(one),
            other=called(other),
            off=Fine(mm(off)),
        ),
        figures=figures(out_of_line=Fine(mm(off))),
        limit=sentence("opposite each other"),
        remedy=sentence(
            "Write “{low}: {far}” in the “rows” of {id}."
            if front
            else "Write “{high}: {id}.{high} - {id}.{low} - {far}” in the “rows” of {id}, which measures that row from the {low}.",
            id=other.id,
            low=along.low.value,
            high=along.high.value,
            far=mm(place - low),
        ),
    )


def _opposite(bench: Bench) -> Iterator[tuple[Axis, Part, list[float], Part, list[float]]]:
    """The axis of the depth, and parts that face each other with where along it their rows stand, mm; those with another between are left
    out."""
    rows = [(part, face, places) for part in bench.plan.parts for face, places in _rows(part).items()]
    for one, face, mine in rows:
        facing = [
            (other, theirs, gap)
            for other, toward, theirs in rows
            if face.side > 0 and toward is face.opposite and (gap := _gap(one, other, face)) > 0
        ]
        for other, theirs, gap in facing:
            if not any(nearer < gap and _beside(other, between) for between, _, nearer in facing):
                yield _depth(face), one, mine, other, theirs


def _rows(part: Part) -> dict[Face, list[float]]:
    """By face, where along the depth its rows stand, mm."""
    found: dict[Face, list[float]] = {}
    for hole in part.features:
        if isinstance(hole, Bore) and hole.kind == "shelf pin" and hole.face.axis is not Axis.Z:
            place = round(hole.start.along(_depth(hole.face)).mm, 3)
            if place not in found.setdefault(hole.face, []):
                found[hole.face].append(place)
    return found


def _depth(face: Face) -> Axis:
    """The level axis along an upright face."""
    return Axis.Y if face.axis is Axis.X else Axis.X


def _gap(one: Part, other: Part, face: Face) -> float:
    """How far the face of the other part is before that of the one, mm; 0 or less where it does not stand before it."""
    if not _beside(one, other):
        return 0.0
    return (other.seen.face(face.opposite) - one.seen.face(face)).mm * face.side


def _beside(one: Part, other: Part) -> bool:
    """Whether two parts share some height."""
    return shared(span_mm(one.seen, Axis.Z), span_mm(other.seen, Axis.Z)) > 0
