"""How parts meet: where the glue goes, where a part sits, where its screws go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from markupsafe import Markup

from drawleaf.book.phrases.base import MIRRORED, Speech
from drawleaf.derive.channels import bounds
from drawleaf.derive.drafts import plural
from drawleaf.derive.operations_machining import SCREWS
from drawleaf.derive.placing import Offset, placing
from drawleaf.derive.screws import ScrewLine, clearance_hole, pilot_hole, screw_lines
from drawleaf.model.place import Axis, Face, Span
from drawleaf.model.plan import Joint, Part
from drawleaf.units import Length, Units

NEAR = Length.of_mm(12)
"""A gap wider than this beside a drawer front is no gap that anyone sets with spacers."""


class Joints(Speech):
    """Phrases for assembly."""

    # Glue

    def glue_spots(self) -> Markup:
        """Where the glue goes: in the channel; or on the insert's side where two faces only meet."""
        sides: dict[str, list[str]] = {}
        for joints in self._alike(joint for joint in self.op.joints if joint.glued):
            inserts, receivers = [joint.insert for joint in joints], [joint.receiver for joint in joints]
            if joints[0].depth:
                family = joints[0].family
                word = f"in the {family if len(set(receivers)) == 1 else plural(family)}"
                sides.setdefault(f"{word} in", []).extend(receivers)
            else:
                sides.setdefault(f"on the {self._side_word(joints)} of", []).extend(inserts)
        return self.fmt.join(
            [Markup("{} {}").format(side, self.the_parts(parts)) for side, parts in _same_parts(sides).items()]
        )

    def _side_word(self, joints: Sequence[Joint]) -> str:
        """``back face``; ``ends`` where both ends of one part are meant."""
        side = self.side(self.plan.part(joints[0].insert), joints[0].face)
        if len({joint.face for joint in joints}) == 1:
            return side
        kind = side.rsplit(" ", 1)[-1]
        return f"{kind}s" if len({joint.insert for joint in joints}) == 1 else f"joining {kind}"

    # Where a part sits

    def places(self) -> list[Markup]:
        """Where each new part goes: onto or into what, and flush or how far from which edge. One line for each kind of part."""
        return [
            self._between([joint for group in choices for joint in group], choices)
            or self._place(min(choices, key=self._trouble))
            for choices in self._by_mover()
        ]

    def _between(self, joints: Sequence[Joint], choices: Sequence[Sequence[Joint]]) -> Markup | None:
        """A part whose two ends meet two different parts goes between them; None where that is not so."""
        movers = {self._mover(joint) for joint in joints}
        facing = {joint.face for joint in joints}
        if len(choices) != 2 or len(movers) != 1 or len(facing) != 2 or any(joint.depth for joint in joints):
            return None
        if len({face.axis for face in facing}) != 1 or any(joint.insert not in self.op.parts for joint in joints):
            return None
        best = min(choices, key=self._trouble)
        stays = [self._stay(joint) for joint in joints]
        line = Markup("Set {} between {}").format(self.the_parts(list(movers)), self.the_parts(stays))
        spots = self._spots(best)
        return line + (Markup(", {}").format(self.fmt.join(spots)) if spots else Markup(""))

    def _by_mover(self) -> list[list[list[Joint]]]:
        by_mover: dict[str, list[list[Joint]]] = {}
        for joints in self._alike(self.op.joints):
            by_mover.setdefault(self.plan.part(self._mover(joints[0])).kind, []).append(joints)
        return list(by_mover.values())

    # Several moves in one step

    @property
    def gathered(self) -> bool:
        """Whether the step makes more than one such joint, so that the manner is told once and each joint in a line."""
        return len(self.peers()) > 1

    @property
    def gathered_step(self) -> bool:
        """The same, asked by an operation that adds fasteners to a joint."""
        return sum(op.kind == "join" for op in self.step.operations) > 1

    @property
    def after_joins(self) -> bool:
        """Whether joints were made in this step before this operation."""
        return any(op.kind == "join" for op in self.step.operations[: self.step.operations.index(self.op)])

    @property
    def opens(self) -> bool:
        """Whether this is the first of the step's operations of its kind."""
        return self.peers()[0].op is self.op

    @property
    def closes(self) -> bool:
        """Whether this is the last of the step's operations of its kind."""
        return self.peers()[-1].op is self.op

    @property
    def glued_anywhere(self) -> bool:
        """Whether any joint of the step takes glue."""
        return any(joint.glued for op in self.step.operations for joint in op.joints)

    @property
    def ends_glue(self) -> bool:
        """Whether this is the last operation of the step that closes joints, so that the glue is wiped off after it."""
        closing = [op for op in self.step.operations if op.kind in ("join", "fasten")]
        return closing[-1] is self.op

    def step_way(self) -> str:
        """What drives the step's joints home, from the first operation that drives anything."""
        return next((peer.way for peer in self.peers() if peer.op.fasteners), self.way)

    def gathered_lines(self) -> list[Markup]:
        """One line for each kind of part that comes: where it goes, where its glue goes, what is driven."""
        lines = []
        for choices in self._by_mover():
            joints = [joint for group in choices for joint in group]
            tail = [*self._short_glue(joints), *self._short_fasteners(joints)]
            place = self._between(joints, choices) or self._place(min(choices, key=self._trouble))
            lines.append(place + Markup(": ") + (Markup(", ").join(tail) if tail else Markup("no glue here")))
        return lines

    def _short_glue(self, joints: Sequence[Joint]) -> list[Markup]:
        """``glue in the dado``, ``glue on its left end``."""
        words: dict[str, None] = {}
        for group in self._alike(joint for joint in joints if joint.glued):
            if group[0].depth:
                several = len({joint.receiver for joint in group}) > 1
                words[f"in the {plural(group[0].family) if several else group[0].family}"] = None
            else:
                side = self._side_word(group)
                coming = group[0].insert in self.op.parts
                whose = "the" if not coming else "their" if len({joint.insert for joint in group}) > 1 else "its"
                tail = Markup("") if coming else Markup(" of {}").format(self.the_parts([one.insert for one in group]))
                words[Markup("on {} {}{}").format(whose, side, tail)] = None
        return [Markup("glue {}").format(self.fmt.join(list(words)))] if words else []

    def _short_fasteners(self, joints: Sequence[Joint]) -> list[Markup]:
        """``4 screws``; brads with where they stand."""
        ids = {joint.id for joint in joints}
        driven = tuple(fastener for fastener in self.op.fasteners if fastener.joint in ids)
        if not driven:
            return []
        kind = driven[0].item.kind
        if kind != "brad":
            return [Markup(self.fmt.count(len(driven), "pocket screw" if kind == "pocket screw" else "screw"))]
        lines = screw_lines(self.plan, driven)
        groups: dict[Length, list[ScrewLine]] = {}
        for line in lines:
            groups.setdefault(line.across, []).append(line)
        return [
            Markup("{} through {}, {} from the {}").format(
                self.fmt.count(sum(line.count for line in some), "brad"),
                self.the_parts([line.through for line in some]),
                self.fmt.length(some[0].across),
                self._common_side(some, [line.edge for line in some]),
            )
            for some in groups.values()
        ]

    def whole_place(self) -> Markup:
        """Where a body of several parts goes, by the pair of parts that shows it best."""
        best = min(self._alike(self.op.joints), key=self._trouble)
        movers = [self._mover(joint) for joint in best]
        stays = [self._stay(joint) for joint in best]
        spots = self._spots(best)
        line = Markup("{} on {}").format(self.the_parts(movers), self.the_parts(stays))
        return line + (Markup(", {}").format(self.fmt.join(spots)) if spots else Markup(""))

    def _mover(self, joint: Joint) -> str:
        return joint.insert if joint.insert in self.op.parts else joint.receiver

    def _stay(self, joint: Joint) -> str:
        return joint.receiver if joint.insert in self.op.parts else joint.insert

    def _trouble(self, joints: Sequence[Joint]) -> tuple[int, ...]:
        """How hard it is to set a part by these joints: a channel is easiest, then flush faces, then a measure, then an overhang."""
        offsets = [offset for joint in joints[:1] for offset in placing(self.plan, joint)]
        marks = [0 if offset.flush else 1 if offset.room.exact_mm > 0 else 3 for offset in offsets]
        return (0 if joints[0].depth else 1, sum(marks), -len(joints))

    def _place(self, joints: Sequence[Joint]) -> Markup:
        joint = joints[0]
        movers, stays = [self._mover(one) for one in joints], [self._stay(one) for one in joints]
        coming = joint.insert in self.op.parts
        between = len(set(movers)) == 1 and len({one.face for one in joints}) == 2
        if joint.depth:
            how = f"Push {{}} into the {joint.family} in {{}}" if coming else "Push {} over the end of {}"
            if between:
                how = f"Push {{}} into the {joint.family}s in {{}}".replace("dados", "dadoes")
        elif between:
            how = "Set {} between {}"
        else:
            face = joint.face.opposite if coming else joint.face
            how = f"Set {{}} against the {self._stay_side(joints, face)} of {{}}"
        line = Markup(how).format(self.the_parts(movers), self.the_parts(stays))
        spots = self._spots(joints)
        return line + (Markup(", {}").format(self.fmt.join(spots)) if spots else Markup(""))

    def _stay_side(self, joints: Sequence[Joint], face: Face) -> str:
        side = self.side(self.plan.part(self._stay(joints[0])), face)
        return side if len({joint.face for joint in joints}) == 1 else f"nearer {side.rsplit(' ', 1)[-1]}"

    def _spots(self, joints: Sequence[Joint]) -> list[Markup]:
        """Alignment that all these joints share: flush sides in one phrase, then measures."""
        found = [placing(self.plan, joint) for joint in joints]
        receiver, insert = self.plan.part(joints[0].receiver), self.plan.part(joints[0].insert)
        flush: list[str] = []
        spots: list[Markup] = []
        for offsets in zip(*found, strict=True):
            first = offsets[0]
            if joints[0].depth and first.face.axis is insert.thickness:
                continue  # the channel itself holds the part there
            if joints[0].family == "groove":
                continue  # it slides until it is home
            if any(abs(offset.room) != abs(first.room) for offset in offsets) or not self._same_or_mirrored(offsets):
                continue
            mirrored = any(offset.face is not first.face for offset in offsets)
            if first.flush:
                flush.append("outside" if mirrored else first.face.value)
            else:
                spots.append(self._measure(joints, insert, receiver, first, mirrored))
        words = [Markup("flush at {}").format(self.fmt.join([f"the {word}" for word in flush]))] if flush else []
        return words + spots

    @staticmethod
    def _same_or_mirrored(offsets: Sequence[Offset]) -> bool:
        first = offsets[0].face
        return {offset.face for offset in offsets} <= {first, MIRRORED.get(first, first)}

    def _measure(self, joints: Sequence[Joint], insert: Part, receiver: Part, offset: Offset, mirrored: bool) -> Markup:
        mine, theirs = self.side(insert, offset.face), self.side(receiver, offset.face)
        several = len({joint.insert for joint in joints}) > 1
        if mirrored:
            mine, theirs = f"outer {mine.rsplit(' ', 1)[-1]}", f"nearer {theirs.rsplit(' ', 1)[-1]}"
        way = "over" if offset.room.exact_mm < 0 else "from"
        return Markup("with {} {} {} {} the {} of {}").format(
            "their" if several else "its",
            f"{mine}s" if several else mine,
            self.fmt.length(abs(offset.room)),
            way,
            theirs,
            self.the_parts([receiver.id]),
        )

    def overhangs(self) -> Markup:
        """How a top lies on everything beneath it: flush or standing over, side by side."""
        part = self.plan.part(self.op.parts[0])
        standing = [self.plan.part(other) for other in (self.step.scene.standing if self.step.scene else ())]
        around, axis = bounds(standing), self.op.joints[0].face.axis
        rooms: dict[Length, list[str]] = {}
        for face in Face:
            if face.axis is not axis:
                rooms.setdefault((part.body.face(face) - around.face(face)) * face.side, []).append(face.value)
        words = []
        for room, faces in rooms.items():
            where = self.fmt.join([f"the {face}" for face in faces])
            if not room:
                words.append(Markup("is flush at {}").format(where))
            else:
                verb = "stands over by" if room.exact_mm > 0 else "stays back by"
                words.append(Markup("{} {} at {}").format(verb, self.fmt.length(abs(room)), where))
        return self.fmt.join(words)

    def gaps(self) -> Markup:
        """The gaps around a front, to whatever stands beside it in its own plane."""
        part = self.plan.part(self.op.parts[0])
        standing = [self.plan.part(other) for other in (self.step.scene.standing if self.step.scene else ())]
        gaps: dict[Length, list[str]] = {}
        for axis in part.thickness.others():
            for face in (axis.low, axis.high):
                gap = self._gap(part, face, standing)
                if gap is not None and gap <= NEAR:
                    gaps.setdefault(gap, []).append(face.value)
        words = [
            Markup("{} all round").format(self.fmt.length(gap))
            if len(faces) == 4
            else Markup("{} at {}").format(self.fmt.length(gap), self.fmt.join([f"the {face}" for face in faces]))
            for gap, faces in gaps.items()
        ]
        return self.fmt.join(words)

    @staticmethod
    def _gap(part: Part, face: Face, standing: Sequence[Part]) -> Length | None:
        axis = face.axis
        rooms = []
        for other in standing:
            beside = all(_overlap(part.body.span(a), other.body.span(a)) for a in Axis if a is not axis)
            edge = other.body.face(face.opposite)
            room = (edge - part.body.face(face)) * face.side
            if beside and room.exact_mm >= 0:
                rooms.append(room)
        return min(rooms, default=None)

    def _alike(self, joints: Iterable[Joint]) -> list[list[Joint]]:
        """Joints between the same kinds of part, together."""
        groups: dict[tuple, list[Joint]] = {}
        for joint in joints:
            kinds = (self.plan.part(joint.insert).kind, self.plan.part(joint.receiver).kind)
            groups.setdefault((*kinds, joint.family, bool(joint.depth)), []).append(joint)
        return list(groups.values())

    # Fasteners

    def screw_marks(self) -> list[Markup]:
        """Where the screws stand: on which face of which part, so far from which edges. Lines set out alike are told together."""
        groups: dict[tuple, list[ScrewLine]] = {}
        for line in self._screw_lines():
            part = self.plan.part(line.through)
            sides = self._sameish(part, line.face), self._sameish(part, line.end), line.edge.axis
            groups.setdefault((line.along, line.across, *sides), []).append(line)
        return [self._screw_mark(lines) for lines in groups.values()]

    def _screw_lines(self) -> tuple[ScrewLine, ...]:
        """The wood screws that go through this operation's parts, of its size where it names one."""
        gauge = self.number("gauge") if self.has("gauge") else None
        slotted = self.has("slots") and self.word("slots") == "yes"
        screws = tuple(
            fastener
            for joint in self.op.joints
            for fastener in joint.fasteners
            if fastener.item.kind in SCREWS
            and fastener.slotted is slotted
            and fastener.through in self.op.parts
            and gauge in (None, fastener.item.gauge)
        )
        return screw_lines(self.plan, screws)

    def flat_heads(self) -> bool:
        """Whether any screw of the step has a flat head, which is sunk."""
        return any(line.item.kind == "wood screw" for peer in self.peers() for line in peer._screw_lines())

    def slots_among(self) -> bool:
        """Whether any hole of the step is made a slot."""
        return any(peer.word("slots") == "yes" for peer in self.peers())

    def hole_size(self) -> Markup:
        """The clearance hole for the gauge that this operation bores for."""
        return self.bit(clearance_hole(self.number("gauge")))

    def screw_holes_in(self) -> Markup:
        """``in the Bottom``: the parts whose clearance holes the screws of this operation go through."""
        return self.the_parts(list(dict.fromkeys(fastener.through for fastener in self.op.fasteners)))

    def _lines(self) -> tuple[ScrewLine, ...]:
        return screw_lines(self.plan, self.op.fasteners)

    def _sameish(self, part: Part, face: Face) -> str:
        """The kind of side, left and right alike: twins are told together."""
        return self.side(part, face).replace("left ", "").replace("right ", "")

    def _screw_mark(self, lines: Sequence[ScrewLine]) -> Markup:
        first = lines[0]
        part = self.plan.part(first.through)
        end = self._common_side(lines, [line.end for line in lines])
        span = part.body.extent(first.end.axis)
        if len(first.along) == 2 and first.along[0] + first.along[1] == span:
            along = Markup("{} from each {}").format(self.fmt.length(first.along[0]), end.rsplit(" ", 1)[-1])
        else:
            along = Markup("{} from the {}").format(self.distances(first.along), end)
        return Markup("the {} of {}: {} from {}, {}").format(
            self._common_face(lines),
            self.the_parts([line.through for line in lines]),
            self.fmt.length(first.across),
            self._edges_of(lines),
            along,
        )

    def _edges_of(self, lines: Sequence[ScrewLine]) -> str:
        """``bottom edge``; ``either edge`` where a part has a row along both."""
        by_part: dict[str, set[Face]] = {}
        for line in lines:
            by_part.setdefault(line.through, set()).add(line.edge)
        side = self._common_side(lines, [line.edge for line in lines])
        both = all(len(edges) == 2 for edges in by_part.values())
        return f"either {side.rsplit(' ', 1)[-1]}" if both else f"the {side}"

    def _common_face(self, lines: Sequence[ScrewLine]) -> str:
        return self.side(self.plan.part(lines[0].through), lines[0].face)

    def _common_side(self, lines: Sequence[ScrewLine], faces: Sequence[Face]) -> str:
        side = self.side(self.plan.part(lines[0].through), faces[0])
        if len(set(faces)) == 1:
            return side
        return f"nearer {side.rsplit(' ', 1)[-1]}"

    def slotted_parts(self) -> Markup:
        """The parts whose clearance holes are slots; empty where none are."""
        through = dict.fromkeys(line.through for line in self._lines() if line.slotted)
        return self.the_parts(list(through)) if through else Markup("")

    def slot_way(self) -> str:
        """Which way the slots that this operation bores run: across the grain of the board that moves."""
        ways = {Axis.X: "from left to right", Axis.Y: "from front to back", Axis.Z: "up and down"}
        return ways[self.plan.part(self._screw_lines()[0].into).width_axis]

    def brad_lines(self) -> Markup:
        """How many brads into what, and how far the line is from which edge; the rest is even spacing."""
        groups: dict[tuple, list[ScrewLine]] = {}
        for line in self._lines():
            kinds = (self.plan.part(line.through).kind, self.plan.part(line.into).kind)
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
        text = Markup("; ").join(clauses)
        return Markup("through {}, {}").format(self.the_parts(list(through)), text) if len(through) == 1 else text

    def brad_spacing(self) -> Markup:
        """How far the first and last brad are from the ends, and how far apart the widest are."""
        return self._spacing(self._lines())

    def step_brad_spacing(self) -> Markup:
        """The same for all brads of the step's joints."""
        return self._spacing(tuple(line for peer in self.peers() if peer.way == "brads" for line in peer._lines()))

    def _spacing(self, lines: Sequence[ScrewLine]) -> Markup:
        first = min(line.along[0] for line in lines)
        steps = [after - before for line in lines for before, after in pairwise(line.along)]
        if not steps:
            return Markup("")
        grain = Length.of_inches(1) / 4 if self.fmt.units is not Units.MM else Length.of_mm(5)
        widest = grain * round(max(steps).ratio(grain))
        return Markup("the first and the last about {} from the ends, no more than about {} apart").format(
            self.fmt.length(grain * max(1, round(first.ratio(grain)))), self.fmt.length(widest)
        )

    def fastener_words(self) -> Markup:
        """``the 4 #8 x 2 in wood screws``, by item; with what to ask for in a metric shop where millimetres are printed."""
        counts: dict[str, int] = {}
        items = {}
        for fastener in self.op.fasteners:
            items[fastener.item.id] = fastener.item
            counts[fastener.item.id] = counts.get(fastener.item.id, 0) + 1
        words = []
        for item, count in counts.items():
            metric = f" ({items[item].metric})" if items[item].metric and self.fmt.units is not Units.INCH else ""
            words.append(f"the {items[item].name if count == 1 else f'{count} {items[item].plural}'}{metric}")
        return self.fmt.join(words)

    @property
    def way(self) -> str:
        """What closes the joint: ``screws``, ``pockets``, ``brads`` or ``clamps``."""
        kinds = {fastener.item.kind for fastener in self.op.fasteners}
        if not kinds:
            return "clamps"
        return "pockets" if "pocket screw" in kinds else "brads" if "brad" in kinds else "screws"

    @property
    def hard(self) -> bool:
        """Whether a brad would bend before it is home: driven by hammer, with hardwood on either side."""
        if self.tool != "hammer":
            return False
        parts = {part for fastener in self.op.fasteners for part in (fastener.through, fastener.into)}
        materials = [self.plan.part(part).stock.material for part in parts]
        return any(material.hard and material.solid for material in materials)

    @property
    def clearance(self) -> Markup:
        """The clearance hole for this operation's screws."""
        gauges = [fastener.item.gauge for fastener in self.op.fasteners if fastener.item.gauge]
        return self.bit(clearance_hole(max(gauges))) if gauges else Markup("")

    @property
    def pilot(self) -> Markup:
        """The pilot hole in the wood that holds the thread; the densest decides."""
        holes = [
            pilot_hole(fastener.item.gauge, self.plan.part(fastener.into).stock.material.density / 1000)
            for fastener in self.op.fasteners
            if fastener.item.gauge
        ]
        return self.bit(max(holes)) if holes else Markup("")


def _overlap(a: Span, b: Span) -> bool:
    return a.overlap(b) is not None


def _same_parts(sides: dict[str, list[str]]) -> dict[str, list[str]]:
    """Sides of the same parts told together: ``on the ends and the top edge of``."""
    merged: dict[tuple[str, ...], list[str]] = {}
    for side, parts in sides.items():
        merged.setdefault(tuple(dict.fromkeys(parts)), []).append(side)
    result: dict[str, list[str]] = {}
    for parts, words in merged.items():
        faces = [word for word in words if word.startswith("on the ")]
        rest = [word for word in words if word not in faces]
        if len(faces) > 1:
            names = [word.removeprefix("on ").removesuffix(" of") for word in faces]
            rest.insert(0, f"on {', '.join(names[:-1])} and {names[-1]} of")
        else:
            rest = faces + rest
        for word in rest:
            result.setdefault(word, []).extend(parts)
    return result
