"""Drawer slides: a pair between a drawer and what it runs in, with the gap that they need on each side."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Fitting, Part
from drawleaf.model.run import Run
from drawleaf.resolve.fittings.running import middle_of, run_between
from drawleaf.resolve.machining.spots import SpotReader
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.source.models import FittingEntry
from drawleaf.units import Length

# A slide takes up a little more room than it asks for, and none less: common practice, no source.
SLACK = Length.of_inches(Fraction(1, 32))


class SlideFitter:
    """Reads fitting lines of kind ``slides``."""

    def __init__(
        self,
        targets: TargetFinder,
        shop: Mapping[str, Part],
        spots: SpotReader,
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._targets = targets
        self._shop = dict(shop)
        self._spots = spots
        self._sources = sources
        self._findings = findings

    def fit(
        self, line: str, item: HardwareItem, entry: FittingEntry, targets: list[Target], scope: Scope
    ) -> list[Fitting]:
        """One fitting to each side. They come as a pair, so the first counts one and the other none."""
        position = self._sources.at(entry, "item")
        fixed = list({part.id: part for target in targets for part in target.parts(self._shop)}.values())
        moving = self._moving(entry, scope, item)
        if moving is None or entry.at is None or len(fixed) != 2 or item.body is None:
            self._tell_incomplete(entry, item, len(fixed), moving is not None)
            return []
        carried, parts = moving
        run = run_between(item.name, entry, fixed, parts, self._sources, self._findings)
        if run is None:
            return []
        fittings: list[Fitting] = []
        for number, part in enumerate(fixed):
            face = _towards(part, parts, run.across)
            at = self._spots.on_part(part, face, entry.at, scope, entry)
            if at is None:
                return []
            body = self._body(item, part, face, at, parts, entry, scope, run)
            if body is None:
                return []
            middle = at.moved(run.along, body.span(run.along).middle)
            fittings.append(
                Fitting(
                    id=f"{line}-{face.opposite.value}",
                    item=item,
                    count=1 if number == 0 else 0,
                    parts=(part.id,),
                    face=face,
                    at=middle,
                    body=body,
                    moving=carried,
                    line=line,
                    position=position,
                    note=entry.note,
                    opens=run.out,
                )
            )
        return fittings

    def _moving(self, entry: FittingEntry, scope: Scope, item: HardwareItem) -> tuple[str, list[Part]] | None:
        if entry.carries is None:
            return None
        target = self._targets.find(entry.carries, scope, self._sources.at(entry, "carries"))
        if target is None:
            return None
        parts = target.parts(self._shop)
        carried = target.assembly.id if target.sort == "assembly" and target.assembly else target.ids[0]
        return (carried, parts) if parts else None

    def _tell_incomplete(self, entry: FittingEntry, item: HardwareItem, fixed: int, moving: bool) -> None:
        position = self._sources.at(entry, "item")
        if fixed != 2:
            self._findings.error(
                "slides-sides",
                f"{item.name} run on two parts, one to each side; {fixed} named",
                self._sources.at(entry, "on"),
                mend="Write “on: [left part, right part]”.",
            )
        elif entry.carries is None:
            self._findings.error(
                "slides-drawer", f"{item.name}: nothing says what they carry", position, mend="Add “carries: drawer”."
            )
        elif entry.at is None:
            self._findings.error(
                "hardware-without-place",
                f"{item.name}: “at” is not given",
                position,
                mend="Write “at: {y: 1/8, z: 6}”: where their front end is, and their middle height."
                if entry.opens in (None, "front", "back")
                else "Write “at: {x: 1/8, z: 6}”: where the end is at which the drawer comes out, and their middle height.",
            )
        elif moving and item.body is None:
            self._findings.error("hardware-without-body", f"{item.name} has no “body” in shared/hardware", position)

    def _body(
        self,
        item: HardwareItem,
        part: Part,
        face: Face,
        at: Point,
        moving: list[Part],
        entry: FittingEntry,
        scope: Scope,
        run: Run,
    ) -> Box | None:
        """The block between the fixed part and the drawer's side, if the gap there is what the slides need."""
        if item.body is None:
            return None
        length, _, height = item.body
        start = at.along(run.along)
        along = Span.between(start, start - length * run.out.side)
        upright = Span(at.z - height / 2, at.z + height / 2)
        side = self._side(face, at, along, moving, run)
        position = self._sources.at(entry, "at")
        if side is None:
            self._findings.error(
                "slides-beside",
                f"{item.name}: at height {say(at.z, scope.unit)} there is no side of the drawer opposite “{part.id}”",
                position,
                "Slides sit at one height on the fixed part and on the drawer's side.",
                "Give “z” a height within the drawer's sides.",
            )
            return None
        if not self._deep_enough(item, part, side, along, entry, scope, run):
            return None
        gap = (side.seen.face(face.opposite) - part.seen.face(face)) * face.side
        needed = item.clearances[0].room if item.clearances else gap
        if gap < needed or gap > needed + SLACK:
            more = "too little" if gap < needed else "too much"
            self._findings.error(
                "slides-clearance",
                f"Between “{part.id}” and “{side.id}” there are {say(gap, scope.unit)}; {item.name} need {say(needed, scope.unit)}",
                self._sources.at(entry, "item"),
                f"That is {say(abs(gap - needed), scope.unit)} {more}, {item.clearances[0].where if item.clearances else ''}.",
                "Change the width of the drawer or where it stands.",
            )
            return None
        ends = sorted((part.seen.face(face), side.seen.face(face.opposite)))
        spans = {run.across: Span(ends[0], ends[1]), run.along: along, Axis.Z: upright}
        return Box(spans[Axis.X], spans[Axis.Y], spans[Axis.Z])

    def _side(self, face: Face, at: Point, along: Span, moving: list[Part], run: Run) -> Part | None:
        """The drawer's side nearest to the fixed part, at the slide's height and along at least half of it."""
        half = along.extent / 2
        best: tuple[Length, Part] | None = None
        for part in moving:
            shared = part.seen.span(run.along).overlap(along)
            if shared is None or shared.extent < half or not part.seen.z.low <= at.z <= part.seen.z.high:
                continue
            gap = (part.seen.face(face.opposite) - at.along(run.across)) * face.side
            if gap.exact_mm >= 0 and (best is None or gap < best[0]):
                best = (gap, part)
        return best[1] if best else None

    def _deep_enough(
        self, item: HardwareItem, part: Part, side: Part, along: Span, entry: FittingEntry, scope: Scope, run: Run
    ) -> bool:
        for one in (part, side):
            own = one.seen.span(run.along)
            beyond = (along.low - own.low, own.high - along.high)
            outer, inner = beyond if run.out.side < 0 else beyond[::-1]
            if outer.exact_mm >= 0 and inner >= -SLACK * 8:
                continue
            low, high = say(along.low, scope.unit), say(along.high, scope.unit)
            self._findings.error(
                "slides-too-long",
                f"{item.name} run from {low} to {high}, beyond the ends of “{one.id}”",
                self._sources.at(entry, "at"),
                f"It runs from {say(own.low, scope.unit)} to {say(own.high, scope.unit)}.",
                "Take shorter slides, or move them.",
            )
            return False
        return True


def _towards(part: Part, moving: Sequence[Part], across: Axis) -> Face:
    """The face of a fixed part that looks at the drawer."""
    return across.high if part.seen.span(across).middle.exact_mm < middle_of(moving, across) else across.low
