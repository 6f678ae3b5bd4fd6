"""Screws and brads of joints kept clear of what hardware needs cut: one that would run into a notch or a bore slides along its joint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from drawleaf.model.place import Axis, Box, Span
from drawleaf.model.plan import Fastener, Feature, Joint
from drawleaf.resolve.fittings.families.voids import void_of
from drawleaf.units import ZERO, Length

CLEAR = Length.of_inches(Fraction(1, 4))
APART = Length.of_inches(Fraction(3, 8))
"""From a void, and from one another: common practice, no source."""


def steer_clear(joints: Sequence[Joint], cuts: Sequence[tuple[str, Feature]]) -> tuple[Joint, ...]:
    """The joints with their fasteners clear of the cuts; one that finds no room is left out where others still hold the joint."""
    voids: dict[str, list[Box]] = {}
    for part_id, feature in cuts:
        void = void_of(feature)
        if void is not None:
            voids.setdefault(part_id, []).append(void)
    return tuple(_steered(joint, voids) if {joint.insert, joint.receiver} & voids.keys() else joint for joint in joints)


def _steered(joint: Joint, voids: dict[str, list[Box]]) -> Joint:
    slide = max(Axis, key=lambda axis: joint.contact.extent(axis).exact_mm)
    kept: list[Fastener] = []
    for place, fastener in enumerate(joint.fasteners):
        near = [void for part in (fastener.through, fastener.into) for void in voids.get(part, ())]
        moved = _clear(fastener, near, slide, joint.contact.span(slide))
        others = [*kept, *joint.fasteners[place + 1 :]]
        if moved is not None and (moved is fastener or all(_apart(moved, other, slide) for other in others)):
            kept.append(moved)
        elif len(others) < 2:
            kept.append(moved or fastener)
    return replace(joint, fasteners=tuple(kept))


def _clear(fastener: Fastener, voids: Sequence[Box], slide: Axis, room: Span) -> Fastener | None:
    """The fastener where it is, else just beyond the void on the nearer side that has room; None where there is none."""
    hit = [void for void in voids if _meets(fastener, void)]
    if not hit:
        return fastener
    at = fastener.at.along(slide)
    places = [end for void in hit for end in (void.span(slide).low - CLEAR, void.span(slide).high + CLEAR)]
    for place in sorted(places, key=lambda one: abs(one - at).exact_mm):
        moved = replace(fastener, at=fastener.at.moved(slide, place))
        inside = room.low + CLEAR <= place <= room.high - CLEAR
        if inside and not any(_meets(moved, void) for void in voids):
            return moved
    return None


def _meets(fastener: Fastener, void: Box) -> bool:
    """Whether its shank comes nearer to the void than the wood should be thick between them."""
    length = fastener.item.length or ZERO
    least = CLEAR - Length.of_mm(Fraction(1, 100))
    for axis, step in zip(Axis, fastener.direction, strict=True):
        at = fastener.at.along(axis).mm
        end = at + length.mm * step
        span = void.span(axis)
        if max(at, end) <= span.low.mm - least.mm or min(at, end) >= span.high.mm + least.mm:
            return False
    return True


def _apart(one: Fastener, other: Fastener, slide: Axis) -> bool:
    return abs(one.at.along(slide) - other.at.along(slide)) >= APART
