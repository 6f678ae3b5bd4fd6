"""Places on a part's face, repeated in rows, and their mirror images."""

from __future__ import annotations

from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.plan import Part
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import At, RepeatEntry, SourceNode
from drawleaf.units import ZERO, Length

MOST_SPOTS = 500


class SpotReader:
    """Reads ``at:`` with ``repeat:``."""

    def __init__(self, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings

    def on_face(
        self, part: Part, face: Face, at: At, repeat: RepeatEntry | None, scope: Scope, owner: SourceNode
    ) -> list[Point] | None:
        """The places on a face; None where one cannot be worked out."""
        start = self.on_part(part, face, at, scope, owner)
        offsets = self.offsets(repeat, scope)
        if start is None or offsets is None:
            return None
        if repeat is None:
            return [start]
        axis = Axis(repeat.along)
        if axis is face.axis:
            self._findings.error(
                "repeat-off-face",
                f"A row along {axis.value} leaves the {face.value} face",
                self._sources.at(repeat, "along"),
                mend=f"Repeat along {' or '.join(other.value for other in face.axis.others())}.",
            )
            return None
        return [start.moved(axis, start.along(axis) + offset) for offset in offsets]

    def on_part(self, part: Part, face: Face, at: At, scope: Scope, owner: SourceNode) -> Point | None:
        """A place on a face: two coordinates from ``at``, the third from the face."""
        point = part.seen.center.moved(face.axis, part.seen.face(face))
        sound = True
        for axis in face.axis.others():
            text = getattr(at, axis.value)
            if text is None:
                self._findings.error(
                    "place-incomplete",
                    f"A place on the {face.value} face needs {' and '.join(other.value for other in face.axis.others())}",
                    self._sources.at(owner, "at"),
                    f"{axis.value} is not given.",
                    f"Write “at: {{{', '.join(f'{other.value}: …' for other in face.axis.others())}}}” with two places.",
                )
                sound = False
                continue
            value = self._evaluator.coordinate(text, axis, scope, at, axis.value)
            if value is None:
                sound = False
            else:
                point = point.moved(axis, value)
        return point if sound else None

    def offsets(self, repeat: RepeatEntry | None, scope: Scope) -> list[Length] | None:
        """How far each copy stands from the first."""
        if repeat is None:
            return [ZERO]
        if repeat.at is not None:
            offsets = [self._evaluator.length(text, scope, repeat, "at", index) for index, text in enumerate(repeat.at)]
            known = [offset for offset in offsets if offset is not None]
            return known if len(known) == len(offsets) else None
        if repeat.count is None:
            self._findings.error(
                "repeat-incomplete",
                "A repeat needs to know how many copies and how far apart",
                self._sources.at(repeat, "along"),
                mend="Write “repeat: {along: x, count: 3, spacing: 5}”, or “at: [0, 5, 10]”.",
            )
            return None
        count = self._evaluator.count(repeat.count, scope, repeat, "count")
        if count is not None and not 1 <= count <= MOST_SPOTS:
            self._findings.error(
                "copies-out-of-range",
                f"{count} times makes no sense here; 1 to {MOST_SPOTS} do",
                self._sources.at(repeat, "count"),
            )
            return None
        if count == 1:
            return [ZERO]
        pitch = self._evaluator.length(repeat.spacing, scope, repeat, "spacing")
        if repeat.spacing is None:
            self._findings.error("repeat-incomplete", "A repeat needs a “spacing”", self._sources.at(repeat, "count"))
        if count is None or pitch is None:
            return None
        return [pitch * index for index in range(count)]
