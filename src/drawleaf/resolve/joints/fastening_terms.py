"""``with:`` of a joint line: glue, and how screws, brads and pocket screws are to be set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.heads import FILLED, FLUSH, OPEN, Heads
from drawleaf.joinery.planned import FasteningTerms, Kind
from drawleaf.model.catalogue import PLUG, FastenerKind, HardwareItem
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Face
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import TargetFinder
from drawleaf.source.models import Fastening, JointEntry, LooseOptions, ScrewOptions
from drawleaf.source.names import did_you_mean
from drawleaf.source.trade_words import item_mend
from drawleaf.units import ZERO, Length

# Nearer than this the wood splits: common practice, no source.
CLOSEST = Length.of_inches(Fraction(1, 2))
MOST_DRAW = Length.of_mm(3)
LEAST_SINK, MOST_SINK = Length.of_mm(1), Length.of_mm(20)
MOST_OPEN = Length.of_mm(150)
"""A counterbore that stays open may be as deep as bits are long: common practice, no source."""
SUNK = FastenerKind.WOOD_SCREW
"""Screws with a flat head."""
KINDS: tuple[Kind, ...] = ("screws", "pocket_screws", "brads", "dowels", "pegs")


@dataclass(frozen=True, slots=True)
class Fastenings:
    """All of one ``with:``."""

    glued: bool
    terms: tuple[FasteningTerms, ...]


class FasteningReader:
    """Reads ``with:`` entries."""

    def __init__(
        self,
        targets: TargetFinder,
        evaluator: Evaluator,
        hardware: Mapping[str, HardwareItem],
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._targets = targets
        self._evaluator = evaluator
        self._hardware = hardware
        self._sources = sources
        self._findings = findings

    def read(self, scope: Scope, entry: JointEntry) -> Fastenings | None:
        """None where something in it has a mistake, which is then recorded."""
        glued = False
        terms: list[FasteningTerms] = []
        sound = True
        for index, one in enumerate(entry.with_):
            if isinstance(one, str):
                glued |= one == "glue"
                if one in KINDS:
                    terms.append(FasteningTerms(one, self._sources.at(entry, "with_", index)))
                continue
            glued |= one.glue is not None
            for kind in KINDS:
                options: ScrewOptions | None = getattr(one, kind)
                if options is not None:
                    read = self._options(kind, options, one, scope)
                    sound &= read is not None
                    terms += [read] if read is not None else []
        return Fastenings(glued, tuple(terms)) if sound else None

    def _options(self, kind: Kind, options: ScrewOptions, one: Fastening, scope: Scope) -> FasteningTerms | None:
        position = self._sources.at(one, kind)
        before = len(self._findings.diagnostics)
        item = self.item(options)
        count = self._evaluator.count(options.count, scope, options, "count")
        every = self._evaluator.length(options.spacing, scope, options, "spacing")
        ends = self._evaluator.length(options.end_distance, scope, options, "end_distance")
        through = None
        if options.through is not None:
            target = self._targets.find(options.through, scope, self._sources.at(options, "through"))
            through = frozenset(target.ids) if target is not None else None
        rows: list[tuple[Face, Length]] = []
        for word, text in options.rows.items():
            room = self._evaluator.length(text, scope, options, "rows", word)
            if room is not None:
                rows.append((Face(word), room))
        self._check(count, every, ends, options)
        if len(self._findings.diagnostics) > before:
            return None
        on = Face(options.on) if options.on is not None else None
        if options.slots is not None and kind != "screws":
            self._findings.error(
                "slots-kind",
                "Only plain screws go through slots",
                self._sources.at(options, "slots"),
                mend="Use “screws” there, with a pan head that slides on the wood.",
            )
            return None
        slotted = options.slots is not None
        drawn = self._drawbore(kind, options, scope)
        heads = self._heads(kind, options, item, scope)
        if len(self._findings.diagnostics) > before:
            return None
        return FasteningTerms(kind, position, item, count, every, ends, through, on, slotted, tuple(rows), drawn, heads)

    def _heads(self, kind: Kind, options: ScrewOptions, item: HardwareItem | None, scope: Scope) -> Heads:
        """What hides the heads, and how deep they lie."""
        sink = self._evaluator.length(options.counterbore, scope, options, "counterbore")
        alone = options.heads is None and options.counterbore is not None and options.plug is None
        way = OPEN if alone else options.heads or FLUSH
        key = "heads" if options.heads is not None else "counterbore" if options.counterbore is not None else "plug"
        position = self._sources.at(options, key)
        plug = self._plug(options)
        if way == FLUSH:
            if options.counterbore is not None or options.plug is not None:
                self._findings.error(
                    "heads-flush",
                    f"“{key}” is for heads that are hidden",
                    position,
                    mend="Write “heads: plugged” or “heads: filled” beside it, or leave it out. A “counterbore” alone, without “heads”, stays open.",
                )
            return Heads()
        if kind != "screws" or options.slots is not None or (way == FILLED and item is not None and item.kind != SUNK):
            self._findings.error(
                "heads-kind",
                f"These fasteners cannot be {way}",
                position,
                "Only the heads of plain screws are sunk, and not in slots, where they must slide. Filler goes over flat heads alone.",
                "Leave “heads” out. Brad holes are filled without it.",
            )
        if options.plug is not None and way == FILLED:
            self._findings.error("heads-kind", "A filled head has no plug", position, mend="Write “heads: plugged”.")
        if sink is not None and not LEAST_SINK <= sink <= (MOST_OPEN if way == OPEN else MOST_SINK):
            deepest = "5-29/32 in (150 mm)" if way == OPEN else "25/32 in (20 mm)"
            self._findings.error(
                "counterbore-depth",
                f"“counterbore: {options.counterbore}” is no depth for a screw's head",
                self._sources.at(options, "counterbore"),
                f"It is how far the head lies below the face: from 3/64 in (1 mm) to {deepest}.",
                "1/4 in (6 mm) under a plug and 1/16 in (1.5 mm) under filler are usual."
                + ("" if way == OPEN or sink > MOST_OPEN else " Leave out “heads”, and the counterbore stays open."),
            )
        return Heads(way, sink, plug)

    def _plug(self, options: ScrewOptions) -> HardwareItem | None:
        if options.plug is None:
            return None
        plugs = {item.id: item for item in of_kinds(self._hardware, PLUG)}
        if options.plug not in plugs:
            self._findings.error(
                "unknown-hardware",
                f"There is no plug “{options.plug}” in shared/hardware",
                self._sources.at(options, "plug"),
                mend=did_you_mean(options.plug, plugs),
            )
        return plugs.get(options.plug)

    def _drawbore(self, kind: Kind, options: ScrewOptions, scope: Scope) -> Length:
        """How far the hole in a tenon stands nearer to its shoulder."""
        found = self._evaluator.length(options.drawbore, scope, options, "drawbore") or ZERO
        if options.drawbore is not None and (kind != "pegs" or not ZERO <= found <= MOST_DRAW):
            self._findings.error(
                "drawbore",
                "Only pegs are drawbored, and by a little",
                self._sources.at(options, "drawbore"),
                "The hole in the tenon stands nearer to its shoulder, so that the peg draws the joint tight.",
                "1/32 in to 1/16 in (1 to 1.5 mm) is usual: common practice, no source.",
            )
        return found

    def _check(self, count, every, ends, options: ScrewOptions) -> None:
        if count is not None and not 1 <= count <= 100:
            self._findings.error(
                "count-out-of-range", f"{count} to a joint makes no sense", self._sources.at(options, "count")
            )
        for key, length in (("spacing", every), ("end_distance", ends)):
            if length is not None and length.exact_mm <= 0:
                self._findings.error(
                    "not-positive",
                    f"“{key}” is a distance and must be more than nothing",
                    self._sources.at(options, key),
                )

        if every is not None and ZERO < every < CLOSEST:
            self._findings.error(
                "spacing",
                f"“spacing: {options.spacing}” is closer than fasteners can stand",
                self._sources.at(options, "spacing"),
                mend="3 to 8 in is usual.",
            )

    def item(self, options: ScrewOptions | LooseOptions) -> HardwareItem | None:
        """The item that is named; None where none is, or none of that name is there, which is then reported."""
        if options.item is None:
            return None
        item = self._hardware.get(options.item)
        if item is None:
            self._findings.error(
                "unknown-hardware",
                f"There is no “{options.item}” in shared/hardware",
                self._sources.at(options, "item"),
                mend=item_mend(
                    "hardware",
                    options.item,
                    self._hardware,
                    fitting=[one.id for one in self._hardware.values() if one.kind in (*FastenerKind,)],
                ),
            )
        return item
