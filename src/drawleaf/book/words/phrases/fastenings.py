"""What is driven where: screws as they are marked and bored for, brads as they are spaced, in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from markupsafe import Markup

from drawleaf.book.words.phrases.fastener_names import FastenerNames
from drawleaf.book.words.phrases.mark_rows import MarkRow
from drawleaf.book.words.phrases.sides import Side
from drawleaf.derive.operations.joining import all_knocked_home
from drawleaf.derive.operations.plugs import filled, plugged
from drawleaf.derive.shop.bits import pilots_of
from drawleaf.derive.shop.store_words import screw_size
from drawleaf.model.catalogue import SCREWS, FastenerKind
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Fastener
from drawleaf.model.settings import ScrewHoleSettings
from drawleaf.setting_out.screws import ScrewLine, clearance_bit, screw_lines
from drawleaf.setting_out.sight import heads_in_sight
from drawleaf.units import ZERO, Length, Units

MANY_BRADS = 16
"""So many brads take longer to drive than glue stays open: common practice, no source."""


class Fastenings(FastenerNames):
    """Phrases for fasteners."""

    # Fasteners

    def screw_marks(self) -> list[MarkRow]:
        """Where the screws stand: on which face of which part, so far from which edges. Lines set out alike share a sentence."""
        groups: dict[tuple, list[ScrewLine]] = {}
        for line in self._screw_lines():
            part = self.plan.part(line.through)
            # As they read: what leans is computed, and its figures differ by less than is printed.
            figures = (*(self.fmt.length(one) for one in line.along), self.fmt.length(line.across))
            sides = self.side(part, line.face).of_either_twin, line.end.axis, line.edge.axis
            groups.setdefault((figures, *sides), []).append(line)
        return [self._screw_mark(lines) for group in groups.values() for lines in self._by_end(group)]

    def screws_to_mark(self) -> list[MarkRow]:
        """Those of all the holes of the step, where one screw does for all of them; none where their sizes or heads differ."""
        if self.several_gauges() or (self.counterbores_among() and len(self.peers()) > 1):
            return []
        slots = len(self.peers()) > 1
        rows = [
            replace(row, remark=self.words.put("These become slots.") if slots and peer.flag("slots") else "")
            for peer in self.peers()
            for row in peer.screw_marks()
        ]
        return list(dict.fromkeys(rows))

    def _by_end(self, lines: Sequence[ScrewLine]) -> list[list[ScrewLine]]:
        """The lines together where each part has one at both its ends, else by the end that they stand at."""
        ends: dict[str, list[ScrewLine]] = {}
        for line in lines:
            ends.setdefault(self.side(self.plan.part(line.through), line.end).of_either_twin, []).append(line)
        return [list(lines)] if self._at_both_ends(lines) else list(ends.values())

    def _screw_lines(self) -> tuple[ScrewLine, ...]:
        """The wood screws that go through this operation's parts, of its size where it names one."""
        told = self.op.settings
        gauge = told.gauge if isinstance(told, ScrewHoleSettings) else None
        slotted = isinstance(told, ScrewHoleSettings) and told.slots
        screws = tuple(
            fastener
            for joint in self.op.joints
            for fastener in joint.fasteners
            if fastener.item.kind in SCREWS
            and fastener.slotted is slotted
            and fastener.through in self.op.parts
            and gauge in (None, fastener.item.gauge)
            and (gauge is None or self._hidden_alike(fastener))
        )
        return screw_lines(self.plan, screws)

    def _hidden_alike(self, fastener: Fastener) -> bool:
        """Whether its head is hidden in the way that this operation bores for."""
        sunk = self.value("sunk") if self.has("sunk") else ZERO
        wide = self.value("counterbore") if self.has("counterbore") else None
        return fastener.sunk == sunk and fastener.counterbore == wide

    def flat_heads(self) -> bool:
        """Whether any screw of the step has a flat head that comes to lie flush."""
        return any(
            line.item.kind == FastenerKind.WOOD_SCREW and line.counterbore is None
            for peer in self.peers()
            for line in peer._screw_lines()
        )

    def filled_heads(self) -> Markup:
        """``1/16 in below the face in the left side 7``: where heads go under filler; empty where all lie flush."""
        sunk: dict[Length, list[str]] = {}
        flush = False
        for line in (line for peer in self.peers() for line in peer._screw_lines() if line.counterbore is None):
            if line.sunk:
                sunk.setdefault(line.sunk, []).append(line.through)
            else:
                flush |= line.item.kind == FastenerKind.WOOD_SCREW
        if not sunk:
            return Markup("")
        words = [
            Markup("{} below the face{}").format(
                self.fmt.length(depth), Markup(" in {}").format(self.the_parts(parts)) if flush else ""
            )
            for depth, parts in sunk.items()
        ]
        return self.fmt.join(words)

    def sunk_how(self) -> Markup:
        """``just flush``; ``just flush. In the left side 7 sink it 1/16 in below the face``."""
        lines = [line for peer in self.peers() for line in peer._screw_lines() if line.counterbore is None]
        deep = self.filled_heads()
        if not deep:
            return Markup("just flush")
        flush = any(not line.sunk and line.item.kind == FastenerKind.WOOD_SCREW for line in lines)
        return Markup("just flush. Sink it ") + deep if flush else deep

    def several_gauges(self) -> bool:
        """Whether the step bores for screws of more than one size."""
        return len({peer.number("gauge") for peer in self.peers()}) > 1

    def counterbores_among(self) -> bool:
        """Whether any hole of the step is counterbored, for a plug or to stay open."""
        return any(peer.has("counterbore") for peer in self.peers())

    def plugs_among(self) -> bool:
        """Whether any hole of the step is counterbored for a plug."""
        return any(peer.for_plugs() for peer in self.peers())

    def for_plugs(self) -> bool:
        """Whether this operation's counterbores are for plugs, and do not stay open."""
        return self.has("counterbore") and any(line.plug is not None for line in self._screw_lines())

    def trims_plugs(self) -> bool:
        """Whether plugs are pared flush in this step."""
        return any(op.kind == "trim-plugs" for op in self.step.operations)

    def heads_hidden(self) -> bool:
        """Whether any screw that this operation drives has its head hidden."""
        return any(fastener.sunk for fastener in self.op.fasteners)

    def head_stop(self) -> Markup:
        """How far the screws that this operation drives are driven: ``their heads are just flush``."""
        return self._stop_words(self.op.fasteners)

    def step_head_stop(self) -> Markup:
        """The same for all screws of the step."""
        return self._stop_words([one for op in self.step.operations for one in op.fasteners])

    def _stop_words(self, fasteners: Sequence[Fastener]) -> Markup:
        screws = [one for one in fasteners if one.item.kind in SCREWS]
        ways: dict[str, None] = {}
        for one in screws:
            if one.counterbore is not None:
                ways["the heads bed in their counterbores"] = None
            elif one.sunk:
                ways[Markup("the heads lie {} below the face").format(self.fmt.length(one.sunk))] = None
            else:
                ways["the heads are just flush"] = None
        if len(ways) < 2:
            return Markup(next(iter(ways), "the heads are just flush"))
        if any(one.under_filler for one in screws):
            return Markup("each head seats in its countersink")
        return Markup("each head beds in its counterbore or lies just flush")

    def plug_words(self) -> Markup:
        """``the two 3/8 in face-grain plugs``: what this operation glues in."""
        screws = self._plugged()
        counts: dict[str, int] = {}
        items = {one.plug.id: one.plug for one in screws if one.plug is not None}
        for one in screws:
            counts[one.plug.id if one.plug else ""] = counts.get(one.plug.id if one.plug else "", 0) + 1
        return self.fmt.join(
            [
                f"the {self.fmt.count_word(count)} {items[name].plural}" if count > 1 else f"the {items[name].name}"
                for name, count in counts.items()
            ]
        )

    def plug_holes(self) -> Markup:
        """``the top face of the Shelf``: the faces that plugs go into."""
        faces: dict[str, list[str]] = {}
        for line in screw_lines(self.plan, tuple(self._plugged())):
            part = self.plan.part(line.through)
            faces.setdefault(self.side(part, line.face).of_either_twin, []).append(part.id)
        return self.fmt.join(
            [Markup("the {} of {}").format(face, self.the_parts(parts)) for face, parts in faces.items()]
        )

    def _plugged(self) -> list[Fastener]:
        return [one for one in plugged(self.plan) if one.through in self.op.parts]

    def slots_among(self) -> bool:
        """Whether any hole of the step is made a slot."""
        return any(peer.flag("slots") for peer in self.peers())

    def screw_size(self) -> str:
        """``number 8``, or ``4 mm`` in millimetres: the screws that this operation bores for."""
        return screw_size(self._screw_lines()[0].item, self.fmt.units)

    def hole_size(self) -> Markup:
        """The clearance hole for the gauge that this operation bores for."""
        return self.bit(clearance_bit(self.number("gauge"), self.bit_fmt))

    def screw_holes_in(self) -> Markup:
        """``the bottom 1``: the parts whose clearance holes the screws of this operation go through."""
        return self.the_parts(list(dict.fromkeys(fastener.through for fastener in self.op.fasteners)))

    def _lines(self) -> tuple[ScrewLine, ...]:
        return screw_lines(self.plan, self.op.fasteners)

    def _screw_mark(self, lines: Sequence[ScrewLine]) -> MarkRow:
        first = lines[0]
        part = self.plan.part(first.through)
        end = self._common_side(lines, [line.end for line in lines])
        span = part.body.extent(first.end.axis)
        if self._at_both_ends(lines) or (len(first.along) == 2 and first.along[0] + first.along[1] == span):
            along = Markup("{} from each {}").format(self.fmt.length(first.along[0]), end.kind)
        elif first.along[0] + first.along[-1] == span and len({b - a for a, b in pairwise(first.along)}) > 1:
            along = Markup("{} from each {}, and {} from the {}").format(
                self.fmt.length(first.along[0]), end.kind, self.distances(first.along[1:-1]), end
            )
        else:
            along = Markup("{} from the {}").format(self.distances(first.along), end)
        return MarkRow(
            f"the {self._common_face(lines)}",
            self.the_parts([line.through for line in lines]),
            Markup("{} from {}, {}").format(self.fmt.length(first.across), self._edges_of(lines), along),
        )

    @staticmethod
    def _at_both_ends(lines: Sequence[ScrewLine]) -> bool:
        """Whether single screws stand at both ends of every part among them."""
        by_part: dict[str, set[Face]] = {}
        for line in lines:
            by_part.setdefault(line.through, set()).add(line.end)
        return all(line.count == 1 for line in lines) and all(len(ends) == 2 for ends in by_part.values())

    def _edges_of(self, lines: Sequence[ScrewLine]) -> str:
        """``bottom edge``; ``either edge`` where a part has a row along both, or one in the middle."""
        by_part: dict[str, set[Face]] = {}
        for line in lines:
            by_part.setdefault(line.through, set()).add(line.edge)
        side = self._common_side(lines, [line.edge for line in lines])
        both = all(len(edges) == 2 for edges in by_part.values()) or all(map(self._is_central, lines))
        return f"either {side.kind}" if both else f"the {side}"

    def _is_central(self, line: ScrewLine) -> bool:
        """Whether the line runs in the middle between two edges, as near as is printed."""
        width = self.plan.part(line.through).body.extent(line.edge.axis)
        return self.fmt.length(line.across) == self.fmt.length(width - line.across)

    def _common_face(self, lines: Sequence[ScrewLine]) -> str:
        return self.side(self.plan.part(lines[0].through), lines[0].face)

    def _common_side(self, lines: Sequence[ScrewLine], faces: Sequence[Face]) -> Side:
        side = self.side(self.plan.part(lines[0].through), faces[0])
        if len(set(faces)) == 1:
            return side
        return Side("nearer", side.kind)

    def slotted_parts(self) -> Markup:
        """The parts whose clearance holes are slots; empty where none are."""
        through = dict.fromkeys(line.through for line in self._lines() if line.slotted)
        return self.the_parts(list(through)) if through else Markup("")

    def washers(self) -> bool:
        """Whether washers lie under the heads that slide."""
        return any(one.washer is not None for one in self.op.fasteners)

    def all_slotted(self) -> bool:
        """Whether every clearance hole of this operation is a slot."""
        return all(line.slotted for line in self._lines())

    def slot_way(self) -> str:
        """Which way the slots that this operation bores run: across the grain of the board that moves."""
        ways = {Axis.X: "from left to right", Axis.Y: "from front to back", Axis.Z: "up and down"}
        return ways[self.plan.part(self._screw_lines()[0].into).width_axis]

    @property
    def many_brads(self) -> bool:
        """Whether one panel takes so many brads that its glue would skin over before the last is in."""
        return len(self.op.parts) == 1 and len(self.op.fasteners) >= MANY_BRADS

    def brad_lines(self) -> Markup:
        """How many brads into what, and how far the line is from which edge; the rest is even spacing."""
        groups: dict[tuple, list[ScrewLine]] = {}
        for line in self._lines():
            # Two parts of one number, as the rails of two frames alike, are told as one: their names are the same.
            kinds = [self.derived.cut_list.item_of(one).parts[0].kind for one in (line.through, line.into)]
            groups.setdefault((*kinds, line.across), []).append(line)
        through = {line.through for lines in groups.values() for line in lines}
        clauses = []
        for lines in groups.values():
            first = Markup(" through {}").format(self.the_parts([line.through for line in lines]))
            clauses.append(
                Markup("{}{} into {}, {} from the {}").format(
                    sum(line.count for line in lines),
                    first if len(through) > 1 else "",
                    self.the_parts([line.into for line in lines]),
                    self.fmt.length(lines[0].across),
                    self._common_side(lines, [line.edge for line in lines]),
                )
            )
        return Markup(". ").join(clauses)

    def brad_through(self) -> Markup:
        """`` through the back panel 9``: the one part that all brads go through; empty where they go through several."""
        through = {line.through for line in self._lines()}
        return Markup(" through {}").format(self.the_parts(list(through))) if len(through) == 1 else Markup("")

    def brad_spacing(self) -> Markup:
        """How far the first and last brad are from the ends, and how far apart the widest are: two sentences."""
        return self._spacing(self._lines())

    def step_brad_spacing(self) -> Markup:
        """The same for all brads of the step's joints."""
        return self._spacing(tuple(line for peer in self.peers() if peer.way == "brads" for line in peer._lines()))

    def _spacing(self, lines: Sequence[ScrewLine]) -> Markup:
        first = min(self._from_end(line) for line in lines)
        steps = [after - before for line in lines for before, after in pairwise(line.along)]
        if not steps:
            return Markup("")
        grain = Length.of_inches(1) / 4 if self.fmt.units is not Units.MM else Length.of_mm(5)
        widest = grain * round(max(steps).ratio(grain))
        return Markup(
            "Put the first and the last about {} from the ends of {}. Space the others evenly, no more than about {} apart"
        ).format(
            self.fmt.length(grain * max(1, round(first.ratio(grain)))),
            "the joint" if len(lines) == 1 else "each joint",
            self.fmt.length(widest),
        )

    def _from_end(self, line: ScrewLine) -> Length:
        """How far the first of a row stands from the nearer end of its joint."""
        spans = [
            (joint.contact.span(line.end.axis), [f.at.along(line.end.axis) for f in joint.fasteners])
            for joint in self.op.joints
            if any((f.through, f.into) == (line.through, line.into) for f in joint.fasteners)
        ]
        rooms = [room for span, ats in spans for at in ats for room in (at - span.low, span.high - at)]
        return max(min(rooms, default=line.along[0]), Length.of_mm(0))

    def filled_parts(self) -> Markup:
        """The parts in which screw heads lie under filler."""
        parts = dict.fromkeys(one.through for one in filled(self.plan))
        return self.the_parts(list(parts))

    def stains_filled(self) -> bool:
        """Whether a stain goes on parts in which brad holes or screw heads are filled by then."""
        heads = list(filled(self.plan))
        brads = [one for joint in self.plan.joints for one in joint.fasteners if one.item.kind == FastenerKind.BRAD]
        holed = {one.through for one in (*heads, *brads)}
        return any(
            coat.product is not None and coat.product.stains and not coat.before_assembly and holed & set(coat.parts)
            for coat in self.plan.finish
        )

    def gap_parts(self) -> Markup:
        """The parts at whose joints gaps are filled; ``the piece`` where all are meant."""
        ids = [part for one in self.plan.filling for part in one.parts]
        return Markup("the piece") if len(set(ids)) == len(self.plan.parts) else self.the_parts(ids)

    def gap_notes(self) -> list[Markup]:
        """What the author says of filling."""
        return [self.fmt.markdown_line(one.note) for one in self.plan.filling if one.note]

    def stains_later(self) -> bool:
        """Whether a stain goes on when the gaps are filled."""
        return any(
            coat.product is not None and coat.product.stains for coat in self.plan.finish if not coat.before_assembly
        )

    def heads_left(self) -> Markup:
        """What becomes of screw heads that stay in sight; empty where none do."""
        parts = heads_in_sight(self.plan)
        if not parts:
            return Markup("")
        return Markup("Leave the screw heads in {} bare and flush, as they are: filler does not hold on steel.").format(
            self.the_parts(parts)
        )

    @property
    def way(self) -> str:
        """What closes the joint: ``screws``, ``pockets``, ``brads``, ``pegs`` or ``clamps``, which close dowels as well."""
        kinds = {fastener.item.kind for fastener in self.op.fasteners}
        if FastenerKind.PEG in kinds:
            return "pegs"
        if not kinds or all(fastener.item.pin for fastener in self.op.fasteners):
            return "clamps"
        return "pockets" if FastenerKind.POCKET_SCREW in kinds else "brads" if FastenerKind.BRAD in kinds else "screws"

    @property
    def knocked(self) -> bool:
        """Whether round ends are knocked home: nothing presses along them."""
        return self.way == "clamps" and all_knocked_home(self.op.joints) and not self._with_clamps

    @property
    def all_knocked(self) -> bool:
        """Whether all that the step brings together is knocked home so."""
        return all(peer.knocked for peer in self.peers())

    @property
    def slanting(self) -> bool:
        """Whether what comes stands at a slant."""
        return any(joint.normal is not None for joint in self.op.joints)

    @property
    def taped(self) -> bool:
        """Whether tape draws the joint shut, as it does a mitre."""
        return self.way == "clamps" and not self._with_clamps and not self.knocked

    @property
    def _with_clamps(self) -> bool:
        return any(tool.clamp is not None for tool in self.op.method.tools)

    @property
    def hard(self) -> bool:
        """Whether a brad would bend before it is home: driven by hammer, with hardwood on either side."""
        if self.tool != "hammer":
            return False
        parts = {part for fastener in self.op.fasteners for part in (fastener.through, fastener.into)}
        materials = [self.plan.part(part).stock.material for part in parts]
        return any(material.hard and material.solid for material in materials)

    @property
    def pilot(self) -> Markup:
        """``3/32 in``: the pilot hole in the wood that holds the thread. Where the step bores more than one, each is named with its screws
        (``3/32 in for number 8 screws``), and with the parts it goes into where screws of one size take two. Empty where an operation before has told it."""
        own = pilots_of(self.plan, self.op)
        every = {pair for op in self.step.operations for pair in pilots_of(self.plan, op).items()}
        if len({hole for _, hole in every}) < 2:
            return self.fmt.join([self.bit(hole) for hole in dict.fromkeys(own.values())])
        words = []
        for gauge, hole in own.items():
            alike = [op for op in self.step.operations if pilots_of(self.plan, op).get(gauge) == hole]
            if alike[0] is not self.op:
                continue  # told with the first of them
            driven = [one for op in alike for one in op.fasteners if one.item.gauge == gauge]
            told = Markup("{} for {} screws").format(self.bit(hole), screw_size(driven[0].item, self.fmt.units))
            if sum(other == gauge for other, _ in every) > 1:
                told += Markup(" into {}").format(self.the_parts([one.into for one in driven]))
            words.append(told)
        return self.fmt.join(words)
