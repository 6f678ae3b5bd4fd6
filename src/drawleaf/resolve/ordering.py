"""``after:`` and ``before:`` of joints, machining, hardware and finish, as an order of work between parts; what can never be kept is refused."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import replace

from drawleaf.english import listed
from drawleaf.graphs import connected, order_and_cycles
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.diagnostic import Diagnostic, has_errors
from drawleaf.model.fitted import FittedAs
from drawleaf.model.plan import Assembly, Fitting, Joint, Part
from drawleaf.model.position import Position
from drawleaf.model.work_order import (
    CutStanding,
    FittedAfter,
    FittedEarly,
    JoinedFirst,
    MarkedFromMate,
    Ordered,
    WorkOrder,
)
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.line_work import LOOSE_WORK, work_key
from drawleaf.resolve.names.scopes import AssemblyDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.source.models import FinishEntry, FittingEntry, JointEntry, MachiningEntry

Entry = JointEntry | MachiningEntry | FittingEntry | FinishEntry


class OrderReader:
    """Reads the order of work once all parts, joints and hardware are known."""

    def __init__(
        self,
        targets: TargetFinder,
        parts: Iterable[Part],
        joints: Sequence[Joint],
        fittings: Sequence[Fitting],
        assemblies: Sequence[Assembly],
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._targets = targets
        self._parts = {part.id: part for part in parts}
        self._joints = joints
        self._fittings = fittings
        self._assemblies = {assembly.id: assembly for assembly in assemblies}
        self._sources = sources
        self._findings = findings

    def read(self, drafts: Iterable[AssemblyDraft], finish: Sequence[FinishEntry], top: Scope) -> WorkOrder:
        """The order that all lines ask for; none where one of them has a mistake."""
        if has_errors(self._findings.diagnostics):
            return WorkOrder()
        orders: list[Ordered] = []
        firsts: list[JoinedFirst] = []
        standing: list[CutStanding] = []
        early: list[FittedEarly] = []
        late: list[FittedAfter] = []
        marked: list[MarkedFromMate] = []
        for draft in drafts:
            if draft.is_out:
                continue
            marks = (entry for _, entry in (*draft.joints(), *draft.fittings()) if entry.mark)
            marked += [one for entry in marks for one in self._marked(entry)]
            for scope, entry in draft.joints():
                if entry.after or entry.before:
                    made, first = self._joint(scope, entry)
                    orders += made
                    firsts += first
            for scope, entry in draft.machining():
                if entry.after or entry.before:
                    standing += self._machining(scope, entry)
            for scope, entry in draft.fittings():
                if entry.after or entry.before:
                    early += self._fitting(scope, entry)
                    late += self._fitting_after(scope, entry)
        for entry in finish:
            self._finish(top, entry)
        self._tell_cycle(orders)
        return WorkOrder(tuple(orders), tuple(firsts), tuple(standing), tuple(early), tuple(late), tuple(marked))

    # Names

    def _named(self, scope: Scope, entry: Entry, key: str) -> list[Target]:
        """What the line names under ``after`` or ``before``, without what this edition leaves out."""
        names = getattr(entry, key)
        listing = [names] if isinstance(names, str) else names
        places = [self._sources.at(entry, key) for _ in listing]
        return [one for one in self._targets.find_all(listing, scope, places) if not one.left_out]

    def _ids(self, target: Target) -> frozenset[str]:
        return frozenset(part.id for part in target.parts(self._parts))

    def _encloses(self, target: Target, own: Iterable[str]) -> bool:
        """Whether an assembly is named that these parts themselves belong to."""
        return target.sort == "assembly" and self._ids(target).issuperset(own)

    # Lines

    def _joint(self, scope: Scope, entry: JointEntry) -> tuple[list[Ordered], list[JoinedFirst]]:
        key = work_key(entry)
        position = self._sources.at(entry, key)
        met = [joint for joint in self._joints if joint.position == position]
        if not met:  # what it joins is left out
            return [], []
        inserts = frozenset(joint.insert for joint in met)
        both = inserts | {joint.receiver for joint in met}
        told = _told(getattr(entry, key))
        orders: list[Ordered] = []
        firsts: list[JoinedFirst] = []
        for target in self._named(scope, entry, "after"):
            early = self._ids(target) - (inserts if target.sort == "assembly" else frozenset())
            place = self._sources.at(entry, "after")
            if early & inserts:
                self._tell_itself(target, place)
            elif early:
                orders.append(Ordered(early, inserts, (f"“{target.written}”", told), place))
        for target in self._named(scope, entry, "before"):
            place = self._sources.at(entry, "before")
            late = self._ids(target)
            whole = self._encloses(target, both)
            clumps = [frozenset(clump) for clump in connected(sorted(both), [(j.insert, j.receiver) for j in met])]
            if not whole and late & both:
                if late & inserts:
                    self._tell_itself(target, place)
                    continue
                orders.append(Ordered(inserts, late, (told, f"“{target.written}”"), place))
                continue
            firsts += [JoinedFirst(clump, told, place) for clump in clumps if whole or not clump & late]
            if not whole:
                orders.append(Ordered(both, late, (told, f"“{target.written}”"), place))
        return orders, firsts

    def _machining(self, scope: Scope, entry: MachiningEntry) -> list[CutStanding]:
        kind = work_key(entry)
        line = self._sources.at(entry, kind)
        waits = bool(entry.after) or (entry.cutout is not None and entry.cutout.after_assembly is not None)
        if entry.after and kind in LOOSE_WORK:
            self._findings.error(
                "order-loose-work",
                f"“{kind}” is done on the loose part, and cannot wait for others",
                self._sources.at(entry, "after"),
                "A saw follows an outline, and an end is cut at an angle, only while the part lies free.",
                "Leave “after” out.",
            )
            return []
        names = [entry.in_] if isinstance(entry.in_, str) else entry.in_
        place = self._sources.at(entry, "in_")
        own = [self._ids(target) for target in self._targets.find_all(names, scope, [place] * len(names))]
        roots = {self._root(part) for ids in own for part in ids}
        if not roots:  # what it is cut in is left out
            return []
        for target in self._named(scope, entry, "after"):
            apart = {self._root(part) for part in self._ids(target)} - roots
            if apart:
                self._tell_late(target, min(one for one in (*apart, *roots) if one), entry)
                return []
        until = [part for target in self._named(scope, entry, "before") for part in self._ids(target)]
        # What is not said to wait is cut in the loose part, and so before anything meets it.
        return [CutStanding(line, frozenset(until))] if waits else []

    def _fitting(self, scope: Scope, entry: FittingEntry) -> list[FittedEarly]:
        position = self._sources.at(entry, "item")
        own = [fitting for fitting in self._fittings if fitting.position == position]
        for target in self._named(scope, entry, "after"):
            if entry.before:
                self._findings.error(
                    "order-both",
                    "Hardware goes on before assembly or after it, and this line asks for both",
                    self._sources.at(entry, "after"),
                    "“before” puts it on the loose part; what has no “before” comes when the finish is dry.",
                    f"Leave out “after: {target.written}”, or “before”.",
                )
                return []
        if not self._named(scope, entry, "before") or not own:
            return []
        several = next((fitting for fitting in own if len(set(fitting.parts)) > 1 or fitting.moving), None)
        if several is not None:
            names = listed([f"“{part}”" for part in dict.fromkeys(several.parts)])
            self._findings.error(
                "order-both",
                f"{several.item.name} sits on {names}, and cannot go on before they meet",
                self._sources.at(entry, "before"),
                "Only what sits on one part can go on while that part is loose.",
                "Leave “before” out: it comes when the finish is dry.",
            )
            return []
        return [FittedEarly(line, position) for line in dict.fromkeys(fitting.line for fitting in own)]

    def _fitting_after(self, scope: Scope, entry: FittingEntry) -> list[FittedAfter]:
        position, place = self._sources.at(entry, "item"), self._sources.at(entry, "after")
        own = [fitting for fitting in self._fittings if fitting.position == position]
        lines = dict.fromkeys(fitting.line for fitting in own)
        found: list[FittedAfter] = []
        for target in self._named(scope, entry, "after"):
            if any(fitting.moving is not None and self._carries(fitting.moving, target) for fitting in own):
                self._tell_itself(target, place)
                continue
            found += [FittedAfter(line, self._ids(target), f"“{target.written}”", place) for line in lines]
        return found

    def _carries(self, moving: str, target: Target) -> bool:
        """Whether what hardware carries is what is named, or part of it."""
        return any(part == moving or moving in self._homes(part) for part in self._ids(target))

    def _finish(self, top: Scope, entry: FinishEntry) -> None:
        """``before:`` means ``before_assembly`` (the finish reader has it); what comes on after the coats cannot come before them."""
        for target in self._named(top, entry, "after"):
            if entry.before or entry.before_assembly:
                self._findings.error(
                    "order-both",
                    "A coat goes on before assembly or after it, and this line asks for both",
                    self._sources.at(entry, "after"),
                    mend=f"Leave out “after: {target.written}”.",
                )
        self._named(top, entry, "before")

    def _marked(self, entry: JointEntry | FittingEntry) -> list[MarkedFromMate]:
        """The parts whose holes or recesses are marked from what comes against them; told where the line has none such."""
        line = self._sources.at(entry, work_key(entry))
        if isinstance(entry, FittingEntry):
            own = [one for one in self._fittings if one.position == line]
            parts = {one.parts[one.item.family.marks] for one in own if one.item.family.marks is not None}
            cut = any(feature.position == line for part in parts for feature in self._parts[part].features)
            known = not own or (bool(parts) and cut)
        else:
            met = [joint for joint in self._joints if joint.position == line]
            parts = {joint.receiver for joint in met}
            known = not met or any(one.item.kind == FastenerKind.DOWEL for joint in met for one in joint.fasteners)
        if not known:
            self._findings.error(
                "mark-nothing",
                "nothing of this line is marked from its mate",
                self._sources.at(entry, "mark"),
                "Dowel holes are, and the recess opposite a magnet or a leaf hinge. Screws and catches always are, and need no word.",
                "Leave “mark” out.",
            )
        return [MarkedFromMate(line, frozenset(parts))] if known and parts else []

    # What cannot be

    def _root(self, part: str) -> str | None:
        """The loose assembly that a part is built in; None for one of the piece that stands."""
        return next((home for home in self._homes(part) if self._assemblies[home].loose), None)

    def _homes(self, part: str) -> Iterator[str]:
        """The assembly of a part and those around it, innermost first."""
        home: str | None = self._parts[part].assembly
        while home is not None:
            yield home
            home = self._assemblies[home].parent

    def _tell_late(self, target: Target, assembly: str, entry: MachiningEntry) -> None:
        self._findings.error(
            "order-too-late",
            f"This cannot be cut after “{target.written}”",
            self._sources.at(entry, "after"),
            f"“{assembly}” is loose, and comes to the rest when the finish is dry: all cutting is done before that.",
            "Leave “after” out, or let it be joined to the rest without “loose: yes”.",
        )

    def _tell_itself(self, target: Target, place: Position) -> None:
        self._findings.error(
            "order-itself",
            f"“{target.written}” cannot come before or after itself",
            place,
            "It is one of the parts that this line joins.",
            "Name another part.",
        )

    def _tell_cycle(self, orders: Sequence[Ordered]) -> None:
        """Reports orders that ask for each other."""
        needs: dict[str, list[str]] = {}
        said: dict[tuple[str, str], Ordered] = {}
        for one in orders:
            for late in sorted(one.late):
                for early in sorted(one.early - one.late):
                    needs.setdefault(late, []).append(early)
                    needs.setdefault(early, [])
                    said.setdefault((late, early), one)
        _, cycles = order_and_cycles(needs)
        told: set[frozenset[Ordered]] = set()
        for cycle in cycles:
            links = list(zip(cycle, (*cycle[1:], cycle[0]), strict=True))
            lines = [said[link] for link in links if link in said]
            if not lines or frozenset(lines) in told:
                continue
            told.add(frozenset(lines))
            words = [f"“{late}” waits for “{early}”" for late, early in links]
            self._findings.add(
                Diagnostic(
                    "order-cycle",
                    f"No order of work has all that is asked for: {', '.join(words)}",
                    lines[0].position,
                    "Each of them would have to come before the other.",
                    "Take one of these “after” and “before” out.",
                    related=tuple((one.position, "this line asks for it too") for one in lines[1:]),
                )
            )


def without_late_marks(parts: Sequence[Part], order: WorkOrder, written: Container[str]) -> tuple[Part, ...]:
    """The parts, those cut to size at once that would be marked from what comes only after them. What the author writes stays."""
    return tuple(
        replace(part, fitted=None) if part.kind not in written and _is_marked_late(part, order) else part
        for part in parts
    )


def _is_marked_late(part: Part, order: WorkOrder) -> bool:
    if part.fitted is None or part.fitted.sort not in (FittedAs.BETWEEN, FittedAs.PANEL, FittedAs.TOP):
        return False
    marks = set(part.fitted.marked_from)
    alone = any(part.id in one.parts and not marks <= one.parts for one in order.firsts)
    return alone or any(part.id in one.early and marks & one.late for one in order.orders)


def _told(names: str | list[str]) -> str:
    listing = [names] if isinstance(names, str) else names
    return listed([f"“{name}”" for name in listing])
