"""Helps in a step's drawing: scraps that come off again, pale with broken edges, each kind named once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from drawleaf.draw.paper.balloons import Tag
from drawleaf.draw.paper.style import HELP, HELP_FILL
from drawleaf.draw.paper.svg import Poly, Pt, Sketch
from drawleaf.draw.picture.picture import Window, inner_point, paint_lines
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import Vector
from drawleaf.model.helps import Help
from drawleaf.model.steps import Step
from drawleaf.solids.cutters import block, box_of
from drawleaf.solids.solid import Solid

PLACED = tuple[str, Help, Solid]
"""A help where it is set, with an id of its own in the drawing."""
_STILL: Vector = (0.0, 0.0, 0.0)


def help_bodies(step: Step) -> list[PLACED]:
    """The scraps that the step sets, those that have a place."""
    return [
        (f"help {number}.{place}", one, Solid(block(*box_of(at.box))))
        for number, one in enumerate(step.helps)
        for place, at in enumerate(one.places)
    ]


def help_offsets(placed: Sequence[PLACED], offsets: Mapping[str, Vector]) -> dict[str, Vector]:
    """A scrap goes with the part that it is set on, where that is drawn on its way."""
    found: dict[str, Vector] = {}
    for an_id, one, _ in placed:
        hosts = [place.part for place in one.places if place.part]
        if hosts and all(offsets.get(host, _STILL) == offsets.get(hosts[0], _STILL) for host in hosts):
            found[an_id] = offsets.get(hosts[0], _STILL)
    return {an_id: offset for an_id, offset in found.items() if offset != _STILL}


def help_tints(placed: Sequence[PLACED]) -> dict[str, str]:
    return {an_id: HELP_FILL for an_id, _, _ in placed}


def paint_helps(sketch: Sketch, work: Linework, window: Window, placed: Sequence[PLACED]) -> None:
    """Their edges. Faces are filled with all others."""
    paint_lines(sketch, work.visible, window, HELP, frozenset(an_id for an_id, _, _ in placed))


def help_tags(work: Linework, window: Window, placed: Sequence[PLACED]) -> list[Tag]:
    """The name of each kind, at the one of which most is seen."""
    names: dict[str, list[str]] = {}
    for an_id, one, _ in placed:
        names.setdefault(one.name, []).append(an_id)
    tags: list[Tag] = []
    for name, ids in names.items():
        seen = max(ids, key=lambda an_id: (round(work.outline(an_id).area, 1), -ids.index(an_id)))
        point = inner_point(work.outline(seen))
        if point:
            tags.append(Tag(name, window.at(*point), named=True))
    return tags


def help_sign(sketch: Sketch, at: Pt) -> None:
    """A small scrap, for the legend."""
    x, y = at
    sketch.shape(
        HELP, Poly(((x - 3.0, y - 1.1), (x + 3.0, y - 1.1), (x + 3.0, y + 1.1), (x - 3.0, y + 1.1)), closed=True)
    )
