"""Screws and brads hold: each goes through the part it is driven through, ends inside the part it enters, and shows nowhere.

A fastener is looked at as straight lines, its axis and four along its shank, cut with the surfaces of the solids near it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Fastener, Joint, Plan, Vector
from drawleaf.solids.bodies import shank_of
from drawleaf.solids.build import Solids, rounded
from drawleaf.solids.cutters import frame_along
from drawleaf.solids.memos import Memo
from drawleaf.solids.proof_words import length_text, part_text
from drawleaf.solids.solid import Floats, Solid

LEAST_HOLD = 3.0
"""Millimetres of wood that a fastener must at least enter to be called driven; how much holds well is for the checks."""

POINT_COVER = 1.5
"""Millimetres of wood that should stay in front of a point: common practice, no source."""

PIN_COVER = 1.0
"""Millimetres beside a pin's hole where there must be wood: common practice, no source."""

PIN_HELD = 0.6
"""So much of a pin's length must have wood beside it: a slot for a peg, or room at a mortise's bottom, takes some away."""

PIN_IN_SLOT = 0.2
"""The same of a peg in a slot, which has wood about it in the outer part alone."""

SLACK = 0.2
"""Millimetres that places may differ by and still count as the same."""

Spans = list[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class _Path:
    """A fastener's line: from the head a unit direction and a length in millimetres."""

    start: Floats
    direction: Floats
    length: float


def prove_fasteners(plan: Plan, solids: Solids, joints: Sequence[Joint]) -> list[Diagnostic]:
    """Every fastener of these joints. One finding a joint and kind of fault: the others on the line are like it."""
    found: dict[tuple[str, str, str, str], Diagnostic] = {}
    for joint in joints:
        for fastener in joint.fasteners:
            for diagnostic in _prove(plan, solids, joint, fastener):
                found.setdefault((joint.line, diagnostic.code, fastener.through, fastener.into), diagnostic)
    return list(found.values())


def _prove(plan: Plan, solids: Solids, joint: Joint, fastener: Fastener) -> list[Diagnostic]:
    if fastener.item.length is None:
        return []
    direction = np.array(fastener.direction) / np.linalg.norm(fastener.direction)
    path = _Path(np.array(fastener.at.mm), direction, fastener.item.length.mm)
    found: list[Diagnostic] = []
    sound, like = _SOUND.all(solids.memos), _like(solids, fastener)
    if like not in sound:
        prove = _prove_pin if fastener.item.pin else _prove_driven
        found, goes_on = prove(plan, solids, joint, fastener, path)
        if not goes_on:
            return found
        if not found:
            sound[like] = True
    found += [_third(plan, joint, fastener, third) for third in _others_hit(plan, solids, fastener, path)]
    return found


_SOUND: Memo[tuple[Any, ...], bool] = Memo(lambda key: [body for body in key[:2] if body is not None])
"""Fasteners that hold in the two parts that they join, by all that a proof looks at in these."""


def _like(solids: Solids, fastener: Fastener) -> tuple[Any, ...]:
    """All that the proof of a fastener in its own two parts follows from."""
    at = rounded(fastener.at.mm, solids.at_home(fastener.through).at)
    item = fastener.item
    size = item.length, shank_of(item), item.measure("wide"), item.pin
    return (
        *solids.pair(fastener.through, fastener.into),
        at,
        fastener.direction,
        fastener.slotted,
        fastener.wide,
        *size,
    )


def _prove_driven(
    plan: Plan, solids: Solids, joint: Joint, fastener: Fastener, path: _Path
) -> tuple[list[Diagnostic], bool]:
    """What is wrong with a screw or brad in its own two parts, and whether it is worth asking what else it hits."""
    into = inside(solids.solid(fastener.into), path)
    entered = [(a, b) for a, b in into if b - a > SLACK]
    if not entered or entered[-1][1] - entered[0][0] < LEAST_HOLD:
        return [_misses(plan, joint, fastener)], False
    found: list[Diagnostic] = []
    if entered[-1][1] < path.length - SLACK:
        found.append(_comes_out(plan, joint, fastener, path.length - entered[-1][1]))
    elif _breaks_out(solids, fastener, path, entered[0][0]):
        found.append(_bursts(plan, joint, fastener))
    if not any(b - a > SLACK for a, b in inside(solids.solid(fastener.through), path)):
        found.append(_not_through(plan, joint, fastener))
    return found, True


def _prove_pin(
    plan: Plan, solids: Solids, joint: Joint, fastener: Fastener, path: _Path
) -> tuple[list[Diagnostic], bool]:
    """The same of a dowel, peg or loose tenon: it has wood of both parts all round it, a hair beside its hole."""
    u, v, _ = frame_along(fastener.direction)
    sides = np.array([u, -u, v, -v]) * (shank_of(fastener.item) / 2.0 + PIN_COVER)
    wide = fastener.item.measure("wide")
    if fastener.wide is not None and wide is not None:
        flat = np.abs(sides[:, fastener.wide.index]) > PIN_COVER
        sides[flat] *= (wide.mm / 2.0 + PIN_COVER) / (shank_of(fastener.item) / 2.0 + PIN_COVER)
    both = [_all_inside(solids.solid(one), path, sides) for one in (fastener.through, fastener.into)]
    for spans in zip(*both, strict=True):
        held = sum(b - a for part in spans for a, b in part)
        if held < (PIN_IN_SLOT if fastener.slotted else PIN_HELD) * path.length:
            return [_bursts(plan, joint, fastener)], False
    return [], True


def runs_inside(solid: Solid, fastener: Fastener, far: float) -> Spans:
    """Where a fastener's line runs inside a solid, as distances from its head in millimetres, up to ``far``."""
    direction = np.array(fastener.direction) / np.linalg.norm(fastener.direction)
    return inside(solid, _Path(np.array(fastener.at.mm), direction, far))


def inside(solid: Solid, path: _Path) -> Spans:
    """The stretches of the path that run inside the solid, as distances from its start."""
    return _all_inside(solid, path, np.zeros((1, 3)))[0]


def _all_inside(solid: Solid, path: _Path, sides: Floats) -> list[Spans]:
    """The same for lines beside the path: ``sides`` (K, 3) says how far off each of them runs."""
    # A hair to the side, so that the line does not run along the edge between two triangles.
    starts = path.start + sides + np.array([1.37e-5, 2.11e-5, 1.73e-5])
    ends = starts + path.direction * path.length
    low, high = np.minimum(starts, ends).min(axis=0), np.maximum(starts, ends).max(axis=0)
    if solid.manifold.is_empty() or (low > solid.bounds[1]).any() or (high < solid.bounds[0]).any():
        return [[] for _ in sides]
    x, y, z = path.direction.tolist()
    a, one, two, across, volume = _facing(solid, (x, y, z))
    found: list[Spans] = []
    for start in starts:
        off = start - a
        u = np.einsum("ij,ij->i", off, across) / volume
        turned = off[:, [1, 2, 0]] * one[:, [2, 0, 1]] - off[:, [2, 0, 1]] * one[:, [1, 2, 0]]
        v = (turned @ path.direction) / volume
        hit = (u >= 0) & (v >= 0) & (u + v <= 1)
        at = np.sort(np.einsum("ij,ij->i", two[hit], turned[hit]) / volume[hit]).tolist()
        spans = [(max(0.0, p), min(path.length, q)) for p, q in zip(at[::2], at[1::2], strict=False)]
        found.append([(p, q) for p, q in spans if q > p])
    return found


@lru_cache(maxsize=32)
def _facing(solid: Solid, direction: Vector) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """The triangles that lines in a direction can cross: a corner, the two edges from it, the direction's cross product with the second, and
    how much they face it. Kept, as the fasteners of a row have them in common."""
    a, b, c = np.moveaxis(solid.mesh.triangles, 1, 0)
    one, two = b - a, c - a
    x, y, z = direction
    across = two @ np.array([[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]])
    volume = np.einsum("ij,ij->i", one, across)
    crossed = np.abs(volume) > 1e-12
    return a[crossed], one[crossed], two[crossed], across[crossed], volume[crossed]


def _breaks_out(solids: Solids, fastener: Fastener, path: _Path, entry: float) -> bool:
    """Whether the shank shows at the side of the part it enters."""
    radius = shank_of(fastener.item) / 2.0
    u, v, _ = frame_along(fastener.direction)
    sides = np.array([u, -u, v, -v]) * radius
    # Where it enters a slanting face the sides may enter a little later than the middle.
    least = (path.length - entry) - 2.0 * radius - SLACK
    return any(sum(b - a for a, b in spans) < least for spans in _all_inside(solids.solid(fastener.into), path, sides))


def _others_hit(plan: Plan, solids: Solids, fastener: Fastener, path: _Path) -> list[str]:
    end = path.start + path.direction * path.length
    low, high = np.minimum(path.start, end) - SLACK, np.maximum(path.start, end) + SLACK
    bounds = _bounds(plan, solids)
    near = np.flatnonzero((low <= bounds[:, 1]).all(axis=1) & (high >= bounds[:, 0]).all(axis=1))
    return [
        part.id
        for part in (plan.parts[place] for place in near.tolist())
        if part.id not in (fastener.through, fastener.into)
        and sum(b - a for a, b in inside(solids.solid(part.id), path)) > SLACK
    ]


_BOUNDS: Memo[None, Floats] = Memo()


def _bounds(plan: Plan, solids: Solids) -> Floats:
    """(N, 2, 3) the boxes around all parts, in their order; high below low around one of which nothing is left."""

    def make() -> Floats:
        bodies = [solids.solid(part.id) for part in plan.parts]
        nothing = np.array([[np.inf] * 3, [-np.inf] * 3])
        return np.array([nothing if body.manifold.is_empty() else body.bounds for body in bodies])

    return _BOUNDS.get(solids.memos, None, make)


def _names(plan: Plan, fastener: Fastener) -> tuple[str, str, str]:
    through, into = plan.part(fastener.through), plan.part(fastener.into)
    return fastener.item.name, part_text(through), part_text(into)


def _misses(plan: Plan, joint: Joint, fastener: Fastener) -> Diagnostic:
    item, through, into = _names(plan, fastener)
    return Diagnostic(
        "fastener-misses",
        f"a {item} through {through} does not reach into {into}",
        joint.position,
        cause=f"From its head the {item} ends before it has {length_text(plan, LEAST_HOLD)} of wood, or it runs past the part.",
        mend="Take a longer one, or drive it through the other part with `through`.",
    )


def _comes_out(plan: Plan, joint: Joint, fastener: Fastener, by: float) -> Diagnostic:
    item, through, into = _names(plan, fastener)
    longest = (fastener.item.length.mm if fastener.item.length is not None else 0.0) - by - POINT_COVER
    return Diagnostic(
        "fastener-comes-out",
        f"A {item} through {through} comes out of {into}",
        joint.position,
        cause=f"Its point stands out by {length_text(plan, by)}.",
        mend=f"Take one no longer than {length_text(plan, max(longest, 0.0))}, or leave out “item” and let it be chosen.",
    )


def _bursts(plan: Plan, joint: Joint, fastener: Fastener) -> Diagnostic:
    item, through, into = _names(plan, fastener)
    return Diagnostic(
        "fastener-at-the-side",
        f"a {item} through {through} breaks out at the side of {into}",
        joint.position,
        cause="Its shank runs too near a face, a bore or another cut.",
        mend="Move the row with `end_distance` or `spacing`, or take a thinner one.",
    )


def _not_through(plan: Plan, joint: Joint, fastener: Fastener) -> Diagnostic:
    item, through, into = _names(plan, fastener)
    return Diagnostic(
        "fastener-misses",
        f"a {item} into {into} does not pass through {through}",
        joint.position,
        cause="The place it is driven at lies beside the part that it should hold.",
        mend="Move the row with `end_distance` or `count`.",
    )


def _third(plan: Plan, joint: Joint, fastener: Fastener, third: str) -> Diagnostic:
    item, through, into = _names(plan, fastener)
    return Diagnostic(
        "fastener-hits",
        f"a {item} through {through} into {into} runs into {part_text(plan.part(third))}",
        joint.position,
        cause="A third part stands in its way.",
        mend="Move the row with `end_distance`, `spacing` or `count`, or drive it from the other side with `through`.",
        related=((plan.part(third).position, "the part in the way"),),
    )
