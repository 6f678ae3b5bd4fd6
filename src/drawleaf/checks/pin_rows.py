"""Rows of holes for shelf pins: those that carry one shelf stand opposite each other, or the shelf rocks and no jig serves both sides."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, mm, names, result, sentence
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
    rows = [(part, face, places) for part in bench.plan.parts for face, places in _rows(part).items()]
    true: dict[str, Part] = {}
    for place, (one, face, mine) in enumerate(rows):
        for other, facing, theirs in rows[place + 1 :]:
            if facing is not face.opposite or not _face_each_other(one, other, face):
                continue
            off = max((min(abs(a - b) for b in theirs) for a in mine), default=0.0)
            if off <= SAME:
                true |= {one.id: one, other.id: other}
            elif off <= MEANT:
                yield result(
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
                        "Measure both rows from the front: “back: {one}.back - 14” stands 14 from the front of a part that starts at 0.",
                        one=one.id.split(".")[-1],
                    ),
                )
    if true:
        yield result(
            NAME,
            "Rows for shelf pins",
            Verdict.PASS,
            true.values(),
            sentence("The rows of holes in the {parts} stand opposite each other.", parts=names(true.values()).lower()),
        )


def _rows(part: Part) -> dict[Face, list[float]]:
    """By face, where along the depth its rows stand, mm."""
    found: dict[Face, list[float]] = {}
    for hole in part.features:
        if isinstance(hole, Bore) and hole.kind == "shelf pin" and hole.face.axis is not Axis.Z:
            along = next(axis for axis in (Axis.X, Axis.Y) if axis is not hole.face.axis)
            place = round(hole.start.along(along).mm, 3)
            if place not in found.setdefault(hole.face, []):
                found[hole.face].append(place)
    return found


def _face_each_other(one: Part, other: Part, face: Face) -> bool:
    """Whether nothing but room lies between the two faces: the other part stands before the one."""
    gap = (other.seen.face(face.opposite) - one.seen.face(face)).mm * face.side
    return gap > 0
