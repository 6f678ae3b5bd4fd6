"""The options of a joint line, read: lengths, counts and sides, each checked for what makes sense whatever the family."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.joinery.family import LooseTenon, Terms
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.place import Face
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import JointEntry, LooseOptions
from drawleaf.units import ZERO, Length

LENGTHS = ("depth", "clearance", "thickness", "shoulder", "haunch", "finger_width")
MOST = 60
"""So many tails or fingers to one joint; more is a mistake in the figure."""


class TermsReader:
    """Reads the options of joint lines."""

    def __init__(self, evaluator: Evaluator, sources: Sources, findings: Findings) -> None:
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings

    def read(self, scope: Scope, entry: JointEntry, family: JointFamily) -> Terms | None:
        """None where something has a mistake, which is then recorded."""
        before = len(self._findings.diagnostics)
        lengths = {key: self._length(scope, entry, key) for key in LENGTHS}
        stopped = self._from_faces(scope, entry, "stopped")
        offset = self._from_faces(scope, entry, "offset")
        count = self._count(scope, entry)
        slope = self._slope(scope, entry)
        spline = self._spline(scope, entry)
        tenon = self._tenon(scope, entry)
        waits = self._waits(entry, family)
        given = [key for key in LENGTHS if getattr(entry, key) is not None and lengths[key] is None]
        if given or None in (stopped, offset) or len(self._findings.diagnostics) > before:
            return None
        return Terms(
            depth=lengths["depth"] or ZERO,
            play=lengths["clearance"] or ZERO,
            stopped=stopped or (),
            unit=scope.unit,
            thickness=lengths["thickness"],
            shoulder=lengths["shoulder"],
            offset=offset or (),
            haunch=lengths["haunch"],
            through=entry.through is not None,
            loose=entry.loose is not None,
            count=count,
            pitch=lengths["finger_width"],
            slope=slope,
            on=Face(entry.on) if entry.on is not None else None,
            spline=spline,
            tenon=tenon,
            after_assembly=waits,
        )

    def _tenon(self, scope: Scope, entry: JointEntry) -> LooseTenon | None:
        """The sizes of a loose tenon. The item that may be bought in its place is looked up with the fasteners."""
        options = entry.loose
        if not isinstance(options, LooseOptions):
            return None
        found: dict[str, Length | None] = {}
        for key in ("thickness", "width", "length"):
            text = getattr(options, key)
            found[key] = None if text is None else self._evaluator.length(text, scope, options, key)
            size = found[key]
            if size is not None and size.exact_mm <= 0:
                self._findings.error(
                    "not-positive", f"“{key}” must be more than nothing", self._sources.at(options, key)
                )
        return LooseTenon(thickness=found["thickness"], width=found["width"], length=found["length"])

    def _waits(self, entry: JointEntry, family: JointFamily) -> bool:
        """Whether the cut waits until the parts around it are glued: only a rabbet, open at the edge, can."""
        if entry.after_assembly is not None and not family.can_wait:
            self._findings.error(
                "after-assembly-kind",
                "Only a rabbet can be cut after assembly",
                self._sources.at(entry, "after_assembly"),
                "A bearing bit reaches it along the open edge; a dado or groove is closed by the parts that it holds.",
                "Leave “after_assembly” out, or make it a rabbet.",
            )
        return entry.after_assembly is not None

    def _length(self, scope: Scope, entry: JointEntry, key: str) -> Length | None:
        text = getattr(entry, key)
        if text is None:
            return None
        length = self._evaluator.length(text, scope, entry, key)
        if length is not None and key not in ("depth", "clearance", "shoulder") and length.exact_mm <= 0:
            self._findings.error("not-positive", f"“{key}” must be more than nothing", self._sources.at(entry, key))
        return length

    def _from_faces(self, scope: Scope, entry: JointEntry, key: str) -> tuple[tuple[Face, Length], ...] | None:
        found: list[tuple[Face, Length]] = []
        for word, text in getattr(entry, key).items():
            distance = self._evaluator.length(text, scope, entry, key, word)
            if distance is None:
                return None
            found.append((Face(word), distance))
        return tuple(found)

    def _count(self, scope: Scope, entry: JointEntry) -> int | None:
        if entry.count is None:
            return None
        count = self._evaluator.count(entry.count, scope, entry, "count")
        if count is not None and not 1 <= count <= MOST:
            self._findings.error(
                "count-out-of-range", f"{count} to a joint makes no sense", self._sources.at(entry, "count")
            )
        return count

    def _slope(self, scope: Scope, entry: JointEntry) -> Fraction | None:
        if entry.slope is None:
            return None
        slope = self._evaluator.number(entry.slope, scope, entry, "slope")
        if slope is not None and not 0 < slope < 1:
            self._findings.error(
                "slope-out-of-range",
                f"A slope of {slope} makes no dovetail",
                self._sources.at(entry, "slope"),
                "The slope is how far the side of a tail leans over its length.",
                "Write 1/8 for hardwood, 1/6 for softwood (common practice, no source).",
            )
        return slope

    def _spline(self, scope: Scope, entry: JointEntry) -> tuple[Length, Length] | None:
        if entry.spline is None:
            return None
        found: list[Length] = []
        for key in ("thickness", "depth"):
            if getattr(entry.spline, key) is None:
                found.append(ZERO)  # as thick as its stock, which is looked up later
                continue
            length = self._evaluator.length(getattr(entry.spline, key), scope, entry.spline, key)
            if length is None:
                return None
            if length.exact_mm <= 0:
                self._findings.error(
                    "not-positive", f"“{key}” must be more than nothing", self._sources.at(entry.spline, key)
                )
            found.append(length)
        return found[0], found[1]
