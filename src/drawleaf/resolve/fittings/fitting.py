"""``hardware:`` bought hardware in its place, with the room that its maker asks for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from fractions import Fraction

from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.hardware_family import SLIDES
from drawleaf.model.hardware_kinds import MOUNTED_KINDS
from drawleaf.model.looking_through import hole_linings
from drawleaf.model.near import Near
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Bore, Feature, Fitting, Part
from drawleaf.resolve.fittings.families import FAMILIES, Task, Tools, with_cuts
from drawleaf.resolve.fittings.families.keys import refuse_unused
from drawleaf.resolve.fittings.families.voids import is_open
from drawleaf.resolve.fittings.holding import Holding
from drawleaf.resolve.fittings.slides import SlideFitter
from drawleaf.resolve.machining.spots import SpotReader
from drawleaf.resolve.names.counting import Counting
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import AssemblyDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.resolve.parts.twins import like_place
from drawleaf.source.models import FittingEntry
from drawleaf.source.trade_words import item_mend
from drawleaf.units import Length

PINS_PER_SHELF = 4
# A pin stands out of its hole by about this much: common practice, no source.
PIN_REACH = Length.of_inches(Fraction(3, 8))
HAIR = Length.of_inches(Fraction(1, 32))


class Fitter:
    """Reads fitting lines."""

    def __init__(
        self,
        targets: TargetFinder,
        shop: Mapping[str, Part],
        evaluator: Evaluator,
        hardware: Mapping[str, HardwareItem],
        sources: Sources,
        findings: Findings,
        complete: bool,
    ) -> None:
        """Where not every part could be placed (``complete`` is false), what fits around what is not looked at."""
        self._complete = complete
        self._targets = targets
        self._shop = dict(shop)
        self._evaluator = evaluator
        self._hardware = hardware
        self._sources = sources
        self._findings = findings
        self._near = Near(self._shop.values())
        self._spots = SpotReader(evaluator, sources, findings)
        self._slides = SlideFitter(targets, self._shop, self._spots, sources, findings)
        self._lines: dict[str, int] = {}
        self._holding = Holding(targets, self._shop, sources, findings)
        self._tools = Tools(targets, self._shop, evaluator, hardware, self._spots, sources, findings)
        self.cuts: list[tuple[str, Feature]] = []
        """What the fittings need cut into parts, by part id; filled as they are fitted."""

    def fit(self, assemblies: Iterable[AssemblyDraft]) -> list[Fitting]:
        fittings: list[Fitting] = []
        for assembly in assemblies:
            if assembly.is_out:
                continue
            for scope, entry in assembly.fittings():
                fittings += self._line(assembly, scope, entry)
        return fittings

    def _line(self, assembly: AssemblyDraft, scope: Scope, entry: FittingEntry) -> list[Fitting]:
        item = self._item(entry)
        names = [entry.on] if isinstance(entry.on, str) else entry.on
        positions = [self._sources.at(entry, "on")] * len(names)
        if not isinstance(entry.on, str):
            positions = [self._sources.at(entry, "on", index) for index in range(len(names))]
        targets = self._targets.find_all(names, scope, positions)
        count = self._evaluator.count(entry.count, scope, entry, "count")
        if item is None or len(targets) != len(names) or (count is None and entry.count is not None):
            return []
        if refuse_unused(item, entry, self._sources, self._findings):
            return []
        if any(target.left_out for target in targets) or not all(target.parts(self._shop) for target in targets):
            return []
        line = self._unique(f"{assembly.id}.{item.id.replace(' ', '-').replace('/', '-').replace('.', '-')}")
        fit = FAMILIES.get(item.family)
        around = fit is not None or item.family is SLIDES or item.family.holds_shelf
        if around and not self._complete:
            return []
        if fit is not None:
            return self._by_family(fit, Task(self._tools, line, item, entry, targets, scope, count))
        if item.family is SLIDES:
            return self._slides.fit(line, item, entry, targets, scope)
        if item.family.holds_shelf:
            return self._pins(line, item, entry, targets, scope, count)
        return self._placed(line, item, entry, targets, scope, count)

    def _by_family(self, fit: Callable[[Task], None], task: Task) -> list[Fitting]:
        """What the family of the item makes of the line; nothing where it found a mistake."""
        leaning = next((part for part in task.parts if part.tilt is not None), None)
        if leaning is not None:
            task.error(
                "hardware-leaning",
                f"{task.item.name}: “{leaning.id}” leans, and where this hardware would sit on it cannot be worked out",
                "on",
                "Its room is held against parts that stand square.",
                "Put it on a part that stands square, or leave it out here and say in a note how it is fitted.",
            )
            return []
        before = len(self._findings.diagnostics)
        fit(task)
        if len(self._findings.diagnostics) > before:
            return []
        self.cuts += task.cuts
        changed = {part_id for part_id, _ in task.cuts}
        self._shop.update((part.id, part) for part in with_cuts([self._shop[one] for one in changed], task.cuts))
        return task.fittings

    def _item(self, entry: FittingEntry) -> HardwareItem | None:
        item = self._hardware.get(entry.item)
        if item is None:
            self._findings.error(
                "unknown-hardware",
                f"There is no “{entry.item}” in shared/hardware",
                self._sources.at(entry, "item"),
                mend=item_mend(
                    "hardware",
                    entry.item,
                    self._hardware,
                    fitting=[one.id for one in self._hardware.values() if one.kind in MOUNTED_KINDS],
                ),
            )
        return item

    def _pins(
        self,
        line: str,
        item: HardwareItem,
        entry: FittingEntry,
        targets: list[Target],
        scope: Scope,
        count: int | None,
    ) -> list[Fitting]:
        """Four to a shelf, under its ends. Where they go in follows from the rows of holes."""
        position = self._sources.at(entry, "item")
        shelves = [part for target in targets for part in target.parts(self._shop)]
        each = PINS_PER_SHELF if count is None else count
        for shelf in shelves:
            self._look_for_holes(shelf, item, each, entry, scope)
        return [
            Fitting(
                id=f"{line}-{number}",
                item=item,
                count=each,
                parts=(shelf.id,),
                face=Face.BOTTOM,
                at=shelf.seen.center.moved(Axis.Z, shelf.seen.z.low),
                body=None,
                moving=None,
                line=line,
                position=position,
                note=entry.note,
            )
            for number, shelf in enumerate(shelves, start=1)
        ]

    def _look_for_holes(self, shelf: Part, item: HardwareItem, each: int, entry: FittingEntry, scope: Scope) -> None:
        """A shelf lies on the tops of its pins, so there must be holes that much under it, beside its ends."""
        bores = [
            (part, feature)
            for part in self._about(shelf.seen, (Axis.X, Axis.Y), PIN_REACH.mm)
            for feature in part.features
            if isinstance(feature, Bore) and feature.kind == "shelf pin" and _beside(shelf, part, feature)
        ]
        pin = item.diameter
        fitting = [bore for _, bore in bores if _carries(shelf, bore, pin)]
        if len(fitting) >= each:
            self._hold_the_pins(shelf, item, fitting, entry, scope)
            return
        heights = sorted(
            {bore.start.z + (pin or bore.diameter) / 2 for _, bore in bores}, key=lambda z: abs(z - shelf.seen.z.low)
        )
        cause = "No row of shelf-pin holes is beside its ends."
        if heights:
            cause = f"Its underside is at {say(shelf.seen.z.low, scope.unit)}; the nearest pins carry at {say(heights[0], scope.unit)}."
        self._findings.error(
            "shelf-without-pins",
            f"“{shelf.id}” needs {each} pins, and there are {len(fitting)} holes for them at its height",
            self._sources.at(entry, "on"),
            cause,
            "A shelf lies half a pin above the middle of the holes: move the shelf or the rows.",
        )

    def _hold_the_pins(
        self, shelf: Part, item: HardwareItem, bores: list[Bore], entry: FittingEntry, scope: Scope
    ) -> None:
        """Whether the holes are as wide as the pin, or as a sleeve for it: a 5 mm pin falls out of a 1/4 in hole."""
        lined = [one.hole for one in hole_linings(self._hardware) if one.diameter == item.diameter]
        fitting = [hole for hole in (item.hole, *lined) if hole is not None]
        wrong = next((bore for bore in bores if fitting and bore.diameter not in fitting), None)
        if wrong is not None:
            self._findings.error(
                "hardware-clearance",
                f"{item.name}: the holes for “{shelf.id}” are {say(wrong.diameter, scope.unit)} wide; it needs {say(fitting[0], scope.unit)}",
                self._sources.at(entry, "item"),
                "In a hole that is too wide it tips, and one that is too narrow it does not enter.",
                f"Write “diameter: {say(fitting[0], scope.unit)}” in the row, or take the pin that fits it.",
            )

    def _placed(
        self,
        line: str,
        item: HardwareItem,
        entry: FittingEntry,
        targets: list[Target],
        scope: Scope,
        count: int | None,
    ) -> list[Fitting]:
        """On a face of a part, at one place or a row of places."""
        position = self._sources.at(entry, "item")
        if entry.face is None or entry.at is None:
            missing = "face" if entry.face is None else "at"
            self._findings.error(
                "hardware-without-place",
                f"{item.name}: “{missing}” is not given",
                position,
                "Hardware sits at a place on a face of a part.",
                "Write “face: front, at: {x: 3, z: 1-1/2}”.",
            )
            return []
        face = Face(entry.face)
        named = self._holding.named(entry, scope)
        if named is None:
            return []
        fittings: list[Fitting] = []
        for target in targets:
            copies = target.parts(self._shop)
            first = copies[0]
            places = self._spots.on_face(first, face, entry.at, entry.repeat, scope, entry) or []
            if not all(self._on_part(first, face, at, item, entry, scope) for at in places):
                return []
            mirror = target.kind.mirror if target.kind else None
            for part in copies:
                flip = mirror if part.mirrored != first.mirrored else None
                side = face.opposite if face.axis is flip else face
                for at in (like_place(at, first, part, flip) for at in places):
                    number = len(fittings) + 1
                    body = body_at(item, side, at)
                    if body is not None and not self._in_the_open(part, side, item, body, entry):
                        return []
                    behind = self._holding.held(part, named, side, at, item, entry)
                    if behind is None:
                        return []
                    fittings.append(
                        Fitting(
                            f"{line}-{number}",
                            item,
                            count or 1,
                            (part.id, *(one.id for one in behind)),
                            side,
                            at,
                            body,
                            None,
                            line,
                            position,
                            entry.note,
                        )
                    )
        return fittings

    def _on_part(
        self, part: Part, face: Face, at: Point, item: HardwareItem, entry: FittingEntry, scope: Scope
    ) -> bool:
        for axis in face.axis.others():
            span, value = part.seen.span(axis), at.along(axis)
            if span.low <= value <= span.high:
                continue
            counting = Counting(self._evaluator, scope)
            self._findings.error(
                "hardware-off-part",
                f"{item.name} at {axis.value} {counting.say(value, axis)} is beside “{part.id}”",
                self._sources.at(entry, "at"),
                f"The {face.value} of the part has {counting.reaches(part, face)}.{counting.zero()}",
                f"Give “at” a place on it: {axis.value} {counting.reach(part, axis)}.",
            )
            return False
        return True

    def _in_the_open(self, part: Part, face: Face, item: HardwareItem, body: Box, entry: FittingEntry) -> bool:
        """Whether nothing stands where the fitting sits."""
        for other in self._about(body, Axis):
            shared = other.seen.overlap(body)
            if shared is None or is_open(other, shared):
                continue
            covers = other.seen.face(face.opposite) == part.seen.face(face)
            self._findings.error(
                "hardware-buried",
                f"{item.name}: “{other.id}” stands where it sits",
                self._sources.at(entry, "at"),
                mend=f"Put it on that: “on: {other.id}, backing: {part.id}”, with the same “at”."
                if covers
                else "Move it, or mount it on another face.",
            )
            return False
        return True

    def _about(self, box: Box, axes: Iterable[Axis], reach: float = 0.0) -> Iterator[Part]:
        """The parts within a reach of a box along some axes, in mm, as they are by now."""
        places = {axis: (box.span(axis).low.mm - reach, box.span(axis).high.mm + reach) for axis in axes}
        return (self._shop[part.id] for part in self._near.within(places))

    def _unique(self, line: str) -> str:
        self._lines[line] = self._lines.get(line, 0) + 1
        return line if self._lines[line] == 1 else f"{line}-{self._lines[line]}"


def body_at(item: HardwareItem, face: Face, at: Point) -> Box | None:
    """The outline of an item that is mounted at a place on a face: its body is along, out from, and up the face."""
    if item.body is None:
        return None
    along, out, up = item.body
    axis = face.axis
    first, second = axis.others()
    surface = at.along(axis)
    outward = Span(surface, surface + out) if face.side > 0 else Span(surface - out, surface)
    box = Box(Span(at.x, at.x), Span(at.y, at.y), Span(at.z, at.z)).with_span(axis, outward)
    return box.with_span(first, _around(at.along(first), along)).with_span(second, _around(at.along(second), up))


def _around(middle: Length, extent: Length) -> Span:
    return Span(middle - extent / 2, middle + extent / 2)


def _beside(shelf: Part, holder: Part, bore: Bore) -> bool:
    """Whether a hole opens towards an end of the shelf, closely, and under it from front to back."""
    if bore.face.axis is Axis.Z or holder.id == shelf.id:
        return False
    gap = (shelf.seen.face(bore.face.opposite) - bore.start.along(bore.face.axis)) * bore.face.side
    across = next(axis for axis in (Axis.X, Axis.Y) if axis is not bore.face.axis)
    span = shelf.seen.span(across)
    return -PIN_REACH < gap <= PIN_REACH and span.low <= bore.start.along(across) <= span.high


def _carries(shelf: Part, bore: Bore, pin: Length | None) -> bool:
    """Whether a pin in the hole would be under the shelf, within 1/32 in. A sleeve makes the hole wider than the pin."""
    return abs(bore.start.z + (pin or bore.diameter) / 2 - shelf.seen.z.low) <= HAIR
