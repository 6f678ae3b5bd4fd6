"""Machining that a part has already: the same cut said twice, or a hole bored into another."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations

from drawleaf.model.plan import Bore, Feature
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings

_NOWHERE = Position("", 0, 0)


def report_repeated(features: Mapping[str, Sequence[Feature]], findings: Findings) -> None:
    """An error for every line that cuts what another line of the source has cut into the same part already."""
    for part, own in features.items():
        first: dict[Feature, Feature] = {}
        for one in own:
            known = first.setdefault(_bare(one), one)
            if known.position != one.position:
                _error(part, one, findings, f"this line does what line {known.position.line} does already")
            elif _row(known) != _row(one):
                _error(part, one, findings, "two rows of this line are one and the same")
        bores = [one for one in first.values() if isinstance(one, Bore)]
        for one, other in combinations(bores, 2):
            if one.position != other.position and _bored_into(one, other):
                _error(part, other, findings, f"this line bores into a hole of line {one.position.line}")


def _bare(one: Feature) -> Feature:
    """The cut by itself, wherever it is written."""
    one = replace(one, row=None) if isinstance(one, Bore) else one
    return replace(one, position=_NOWHERE)


def _bored_into(one: Bore, other: Bore) -> bool:
    """Whether the centre of one lies within the other. A wider hole on the same centre is a step of a stepped hole."""
    if one.face is not other.face or one.kind != other.kind:
        return False
    if one.start == other.start:
        return one.diameter == other.diameter
    return math.dist(one.start.mm, other.start.mm) < float(max(one.diameter, other.diameter).mm) / 2


def _row(one: Feature) -> str | None:
    return one.row if isinstance(one, Bore) else None


def _error(part: str, again: Feature, findings: Findings, what: str) -> None:
    findings.error(
        "machined-twice",
        f"“{part}”: {what}",
        again.position,
        "A booklet would have the builder do it twice.",
        "Take one of the two out, or change where it cuts.",
    )
