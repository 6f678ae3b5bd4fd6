"""Whether copies of a part are worked alike: the same cuts at the same places, or at their mirror images."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from drawleaf.model.place import Axis
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Feature, Part
from drawleaf.model.shapes import OutlineCut


def pattern(part: Part, features: Iterable[Feature]) -> Hashable:
    """What copies that are worked alike have in common. Distances to both sides count as a pair, so that a mirror image is alike."""
    return tuple(sorted(map(repr, (_of(part, feature) for feature in features))))


def _of(part: Part, feature: Feature) -> tuple:
    match feature:
        case Bore():
            places = tuple(
                sorted((feature.start.along(axis) - span.low, span.high - feature.start.along(axis)))
                for axis in Axis
                for span in (part.body.span(axis),)
            )
            return (feature.kind, feature.face.axis.value, feature.diameter, feature.depth, places)
        case BoxCut():
            sides = tuple(
                sorted((void.low - span.low, span.high - void.high))
                for axis in Axis
                for void, span in ((feature.box.span(axis), part.body.span(axis)),)
            )
            return (feature.kind, feature.into.axis.value, sides)
        case OutlineCut():
            spans = [part.body.span(axis) for axis in feature.outline.axis.others()]
            corners = tuple(
                sorted(
                    tuple(
                        sorted((at - span.low, span.high - at)) for at, span in zip((one.u, one.v), spans, strict=True)
                    )
                    for one in feature.outline.corners
                )
            )
            return (feature.kind, feature.outline.axis.value, feature.span.extent, corners)
        case EdgeProfile():
            return (
                feature.kind,
                feature.size,
                feature.round_what,
                tuple(sorted(face.axis.value for face in feature.edge)),
            )
        case _:
            return (type(feature).__name__,)
