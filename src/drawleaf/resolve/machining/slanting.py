"""``machining: taper`` and ``trim``: an edge that slants towards one end, and an end cut at an angle."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, radians, sin

from drawleaf.joinery.wording import say
from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import PlaneCut
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.machining_models import TaperEntry, TrimEntry
from drawleaf.units import ZERO

STEEPEST = 60
"""Degrees from square that saws and their gauges can be turned to, at the most (common practice, no source)."""


class SlantReader:
    """Reads tapers and angled ends."""

    def __init__(self, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings

    def taper(self, part: Part, entry: TaperEntry, scope: Scope, position: Position) -> Sequence[PlaneCut]:
        """The edge is whole up to ``start`` from the thick end; at the thin end ``off`` is taken from it."""
        edge, toward = Face(entry.edge), Face(entry.toward)
        if edge.axis is toward.axis or toward.axis is not part.length_axis:
            length = part.length_axis
            self._findings.error(
                "taper-way",
                f"“{part.id}” tapers along its length, towards {length.low.value} or {length.high.value}",
                self._sources.at(entry, "toward"),
                mend="“edge” is the side that slants, “toward” the end that gets thinner.",
            )
            return ()
        start = self._evaluator.length(entry.start, scope, entry, "start")
        off = self._evaluator.length(entry.narrow_by, scope, entry, "narrow_by")
        if start is None or off is None:
            return ()
        length, width = part.seen.extent(toward.axis), part.seen.extent(edge.axis)
        for key, value, limit, what in (("start", start, length, "long"), ("narrow_by", off, width, "wide")):
            if value < ZERO or value >= limit or (key == "narrow_by" and not value):
                self._findings.error(
                    "taper-size",
                    f"A taper with “{key}” {say(value, scope.unit)} does not fit “{part.id}”, which is {say(limit, scope.unit)} {what} there",
                    self._sources.at(entry, key),
                )
                return ()
        begins = part.seen.face(toward.opposite) + start * toward.side
        at = part.body.center.moved(edge.axis, part.seen.face(edge)).moved(toward.axis, begins)
        run = length - start
        long = hypot(run.mm, off.mm)
        normal = [0.0, 0.0, 0.0]
        normal[edge.axis.index] = edge.side * run.mm / long
        normal[toward.axis.index] = toward.side * off.mm / long
        return (PlaneCut("taper", edge, at, (normal[0], normal[1], normal[2]), None, position),)

    def trim(self, part: Part, entry: TrimEntry, scope: Scope, position: Position) -> Sequence[PlaneCut]:
        """An end cut ``angle`` degrees from square; the part stays longest at the side opposite to ``toward``."""
        face, toward = Face(entry.face), Face(entry.toward)
        if face.axis is not part.length_axis or toward.axis is face.axis:
            length = part.length_axis
            self._findings.error(
                "trim-way",
                f"An end of “{part.id}” is its {length.low.value} or its {length.high.value}, and slants to another side",
                self._sources.at(entry, "face"),
                mend="“face” is the end, “toward” the side at which it is cut shorter.",
            )
            return ()
        angle = self._evaluator.degrees(entry.angle, scope, entry, "angle")
        if angle is None:
            return ()
        if not 0 < angle <= STEEPEST:
            self._findings.error(
                "trim-angle",
                f"An end cut {float(angle):g}° from square is no cut for a saw; up to {STEEPEST}° is",
                self._sources.at(entry, "angle"),
            )
            return ()
        longest = part.body.center.moved(face.axis, part.body.face(face)).moved(
            toward.axis, part.body.face(toward.opposite)
        )
        normal = [0.0, 0.0, 0.0]
        normal[face.axis.index] = face.side * cos(radians(angle))
        normal[toward.axis.index] = toward.side * sin(radians(angle))
        return (PlaneCut("trim", face, longest, (normal[0], normal[1], normal[2]), None, position),)
