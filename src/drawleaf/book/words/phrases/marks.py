"""Where cuts, holes and edges go, as one marks them out."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.book.words.phrases.sides import Side, sides_together
from drawleaf.derive.operations.machining import BIG_HOLE, CHANNELS
from drawleaf.derive.operations.standing_rabbet import blocked_by
from drawleaf.derive.shop.bits import straight_bit, wider_bit
from drawleaf.english import listed, plural
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.joint_family import CutKind
from drawleaf.model.looks import Build
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, Fastener, Part
from drawleaf.model.settings.cutting import CrosscutSettings
from drawleaf.setting_out.channels import bounds, channel_of
from drawleaf.setting_out.origins import distance, pin_origins
from drawleaf.setting_out.slants import off_square
from drawleaf.units import Length

SAME_MM = 0.01
FENCE_REACH = Length.of_inches(12)
"""How far the fence of a usual saw reaches to the side of the blade: common practice, no source."""
VENEERED = (Build.ROTARY, Build.SLICED)
VENEER_GRIT = 150
"""A sanding machine begins on a face veneer with this grit, or a finer one: common practice, no source."""


class Marks(Speech):
    """Phrases for work on loose parts."""

    # Lengths

    @property
    def stop_past_fence(self) -> bool:
        """Whether a stop of the step is to be set further from the blade than a saw's own fence reaches."""
        some = (op.settings for op in self.step.operations)
        return any(isinstance(one, CrosscutSettings) and one.stop > FENCE_REACH for one in some)

    # Channels and notches

    def channel_marks(self) -> list[Markup]:
        """Where the channel lies: one line for all parts that are marked alike, with the edge to measure from."""
        walls = self._marked(inward=True)
        own = self._marked(inward=False)
        # The walls of a box are marked alike on their inside faces, though one is a front and one a side.
        lines = walls if len(walls) < len(own) else own
        return [Markup("{}. Draw {}").format(self.the_parts(list(ids)), one) for one, ids in lines.items()]

    def _marked(self, *, inward: bool) -> dict[Markup, dict[str, None]]:
        """The parts by how their channels are marked; ``inward``: a face that looks into its assembly is called the inside face."""
        lines: dict[Markup, dict[str, None]] = {}
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            both = self._rabbets_of_both_ends(part, cuts)
            if both is not None:
                told = [Markup("one line {} from each end, on the {}").format(*both)]
            else:
                told = [self._channel_mark(ids, part, cut, inward=inward) for cut in cuts]
            for one in told:
                lines.setdefault(one, {}).update(dict.fromkeys(ids))
        return lines

    def _channel_mark(self, ids: Sequence[str], part: Part, cut: BoxCut, *, inward: bool) -> Markup:
        """``two lines across the inside face, 12 in and 12-3/4 in from the bottom end``."""
        channel = channel_of(part, cut)
        face = self.twin_side(ids, part, cut.into)
        if inward and self._looks_in(part, cut.into):
            face = Side("inside", "face", inward=True)
        edge = self.twin_side(ids, part, channel.edge)
        if cut.kind == CutKind.RABBET or not channel.offset:
            return Markup("one line {} from the {}, on the {}").format(self.fmt.length(channel.width), edge, face)
        near, far = self.fmt.length(channel.offset), self.fmt.length(channel.offset + channel.width)
        way = "along" if channel.run is part.length_axis else "across"
        return Markup(f"two lines {way} the {{}}, {{}} and {{}} from the {{}}").format(face, near, far, edge)

    def _looks_in(self, part: Part, face: Face) -> bool:
        """Whether the face of a front or a back looks to the middle of its assembly, whatever stands before it."""
        around = bounds(self.plan.parts_in(part.assembly)).span(face.axis)
        apart = (around.middle - part.body.span(face.axis).middle).exact_mm
        return face.axis is Axis.Y and apart * face.side > part.body.extent(face.axis).exact_mm

    def _rabbets_of_both_ends(self, part: Part, cuts: Sequence[BoxCut]) -> tuple[Markup, str] | None:
        """The width and the face of two rabbets that are alike at both ends of a part; None where they are not."""
        channels = [channel_of(part, cut) for cut in cuts]
        ends = {channel.edge for channel in channels}
        alike = len({(cut.into, channel.width) for cut, channel in zip(cuts, channels, strict=True)}) == 1
        if len(cuts) != 2 or any(cut.kind != CutKind.RABBET for cut in cuts) or not alike:
            return None
        if len(ends) != 2 or any(end.axis is not part.length_axis for end in ends):
            return None
        return self.fmt.length(channels[0].width), self.side(part, cuts[0].into)

    @property
    def bit_hangs_over(self) -> bool:
        """Whether this is a rabbet that a straight bit cuts in one setting, hanging over the edge."""
        width = self.value("width")
        return self.word("kind") == CutKind.RABBET and isinstance(width, Length) and wider_bit(self.plan, width) > width

    def straight_bit(self) -> Markup:
        """The straight bit for the channels of this operation, with what else will do."""
        width = self.value("width")
        assert isinstance(width, Length)
        if self.bit_hangs_over:
            return self.words.tell(Markup("{}, or any wider than the rabbet"), self.bit(wider_bit(self.plan, width)))
        bit = straight_bit(self.plan, width)
        return (
            self.bit(bit)
            if bit == width
            else Markup("{}, or one as wide as the {}").format(self.bit(bit), self.words.put(self.word("kind")))
        )

    def sanded_before(self) -> bool:
        """Whether an earlier step has told how parts are sanded, through the same grits."""
        sooner = (op for step in self.derived.steps if step.number < self.step.number for op in step.operations)
        return any(op.kind == self.op.kind and op.settings == self.op.settings for op in sooner)

    def sanded_now(self) -> list[str]:
        """What the step sands, of all its lots: told with the first of them, and empty for the others."""
        lots = [op for op in self.step.operations if op.kind == self.op.kind]
        return [part for lot in lots for part in lot.parts] if lots[0].id == self.op.id else []

    def veneer_grit(self) -> int:
        """The grit that plywood among the operation's parts is begun with, where the schedule begins coarser; 0 where nothing is said."""
        grits = self.op.coat.grits if self.op.coat is not None else ()
        looks = self.plan.catalogue.looks
        made = (looks.get(self.plan.part(one).stock.material.look) for one in self.op.parts)
        if not grits or grits[0] >= VENEER_GRIT or not any(look and look.build in VENEERED for look in made):
            return 0
        return next((grit for grit in grits if grit >= VENEER_GRIT), VENEER_GRIT)

    def channel_words(self) -> str:
        """``dadoes, grooves and rabbets``: the channels that the operation's parts have; empty where they have none."""
        kinds = [
            feature.kind
            for part in self.op.parts
            for feature in self.plan.part(part).features
            if isinstance(feature, BoxCut) and feature.kind in CHANNELS
        ]
        return listed([self.words.put(plural(kind)) for kind in dict.fromkeys(kinds)]) if kinds else ""

    def blocked(self) -> Markup:
        """The parts at which the bearing of a rabbeting bit is stopped; empty where it runs through."""
        standing = self.step.scene.standing if self.step.scene else ()
        found = [
            part
            for part_id, cut in self.op.features
            if isinstance(cut, BoxCut)
            for part in blocked_by(self.plan, channel_of(self.plan.part(part_id), cut), standing)
        ]
        return self.the_parts(list(dict.fromkeys(found))) if found else Markup("")

    def stops(self) -> list[Markup]:
        """Ends where the channel stops short: ``6 mm short of the front and back edges of both Ends 3``."""
        lines = []
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            for cut in cuts:
                rooms: dict[Length, list[Side]] = {}
                for face, room in channel_of(part, cut).stops:
                    rooms.setdefault(room, []).append(self.twin_side(ids, part, face))
                for room, sides in rooms.items():
                    lines.append(
                        Markup("{} short of the {} of {}").format(
                            self.fmt.length(room), sides_together(sides), self.the_parts(ids)
                        )
                    )
        return list(dict.fromkeys(lines))

    @property
    def partner(self) -> str | None:
        """The part that goes into the channel, to try it with."""
        by_id = {joint.id: joint for joint in self.plan.joints}
        inserts = (
            by_id[feature.joint].insert
            for _, feature in self.op.features
            if isinstance(feature, BoxCut) and feature.joint in by_id
        )
        return next(inserts, None)

    # Holes

    def pin_rows(self) -> list[Markup]:
        """Rows of shelf-pin holes, part by part: the row's distance, the lowest hole, spacing, count."""
        lines = []
        for ids, bores in self._by_part(Bore):
            part = self.plan.part(ids[0])
            rows: dict[str, list[Bore]] = {}
            for bore in bores:
                rows.setdefault(bore.row or "", []).append(bore)
            starts = [min((bore.start for bore in row), key=lambda point: point.z.exact_mm) for row in rows.values()]
            across = next(axis for axis in part.thickness.others() if axis is not Axis.Z)
            # From one edge on every part of a bay, so that the rows are level from front to back.
            face = pin_origins(part)[across]
            around = sorted(distance(part, face, start.along(across)) for start in starts)
            lowest = starts[-1].z - part.body.z.low
            one = next(iter(rows.values()))
            heights = sorted(bore.start.z for bore in one)
            pitch = heights[1] - heights[0] if len(heights) > 1 else None
            text = Markup("On the {} of {}: {}. The lowest hole is {} up from the {}").format(
                self.side(part, bores[0].face),
                self.the_parts(ids),
                self.fmt.join([f"{self.fmt.count_word(len(rows))} rows" if len(rows) > 1 else "one row"])
                + Markup(", {} from the {}").format(self.distances(around), self.side(part, face)),
                self.fmt.length(lowest),
                self.side(part, Face.BOTTOM),
            )
            if pitch is not None:
                text += Markup(", then {} more, {} apart").format(len(heights) - 1, self.fmt.length(pitch))
            lines.append(text)
        return lines

    def pin_pitch(self) -> Markup:
        """How far apart the holes of a row are; empty where rows differ or have one hole."""
        rows: dict[tuple[str, str | None], list[Length]] = {}
        for part_id, bore in self.op.features:
            if isinstance(bore, Bore):
                rows.setdefault((part_id, bore.row), []).append(bore.start.z)
        gaps = {after - before for row in rows.values() for before, after in pairwise(sorted(row))}
        return self.fmt.length(gaps.pop()) if len(gaps) == 1 else Markup("")

    def bores(self) -> list[Markup]:
        """Single holes: in which part, on which face, how far from which edges. Those on one line of a face share a sentence."""
        lines = []
        for ids, bores in self._by_part(Bore):
            part = self.plan.part(ids[0])
            rows: dict[tuple[Face, Length, Fraction], list[Bore]] = {}
            for bore in bores:
                _, across = self._set_out(part, bore.face)
                rows.setdefault((bore.face, bore.start.along(across), off_square(bore)), []).append(bore)
            lines += [self._bore_line(ids, part, row) for row in rows.values()]
        return lines

    @staticmethod
    def _set_out(part: Part, face: Face) -> tuple[Axis, Axis]:
        """The axis of a face along which holes are set out, and the one across it."""
        a, b = face.axis.others()
        return (a, b) if part.body.extent(a) >= part.body.extent(b) else (b, a)

    def _bore_line(self, ids: list[str], part: Part, row: Sequence[Bore]) -> Markup:
        face = row[0].face
        along, across = self._set_out(part, face)
        spots = sorted(bore.start.along(along) - part.body.span(along).low for bore in row)
        end = along.low
        if len(row) == 1:
            end, room = self._nearest(part, along, row[0].start.along(along))
            spots = [room]
        edge, up = self._nearest(part, across, row[0].start.along(across))
        count = self.fmt.count(len(row), "hole") if len(row) > 1 else "a hole"
        each = " each of" if len(ids) > 1 and len(row) > 1 else ""
        return Markup("{} in{} {}, on the {}: {} from the {}, {} from the {}").format(
            count,
            each,
            self.the_parts(ids),
            self.twin_side(ids, part, face),
            self.fmt.length(up),
            self.twin_side(ids, part, edge),
            self.distances(spots),
            self.twin_side(ids, part, end),
        )

    @property
    def is_finger_hole(self) -> bool:
        return self.has("kind") and self.word("kind") == "finger hole"

    @property
    def is_blind(self) -> bool:
        """Whether its holes end in the wood."""
        return any(feature.depth is not None for _, feature in self.op.features if isinstance(feature, Bore))

    @property
    def is_wide(self) -> bool:
        """Whether the holes take a bit with a point and a wide rim."""
        return any(feature.diameter > BIG_HOLE for _, feature in self.op.features if isinstance(feature, Bore))

    def hole_depth(self) -> Markup:
        """``right through``, or how deep."""
        depths = [feature.depth for _, feature in self.op.features if isinstance(feature, Bore)]
        deep = depths[0] if depths else None
        return Markup("right through") if deep is None else Markup("{} deep").format(self.bit(deep))

    # Pocket holes

    def pockets(self) -> list[Markup]:
        """How many pockets in which ends and edges of which parts, on which face, how far from their edges; parts bored alike together."""
        alike: dict[tuple[str, tuple[tuple[str, str, str], ...]], list[str]] = {}
        for part_id in self.op.parts:
            part = self.plan.part(part_id)
            alike.setdefault((self._pocket_face(part), self._pockets_of(part)), []).append(part_id)
        lines = []
        for (face, rows), ids in alike.items():
            if len(rows) == 1:
                count, where, rooms = rows[0]
                told = Markup("{} in {}, on the {}, {}").format(count, where, face, Markup(rooms))
            else:
                words = [Markup("{} in {}, {}").format(count, where, Markup(rooms)) for count, where, rooms in rows]
                told = Markup("; ").join(words) + Markup("; all on the {}").format(face)
            lines.append(Markup("{}: {}").format(self.the_parts(ids), told))
        return lines

    def _pockets_of(self, part: Part) -> tuple[tuple[str, str, str], ...]:
        """Count, place and distances of the pockets of each end and edge; both ends together where they are bored alike."""
        ends: dict[Face, list[Length]] = {}
        for screw in self._pocket_screws(part):
            end = self._pocket_end(part, screw.direction)
            across = next(axis for axis in part.thickness.others() if axis is not end.axis)
            ends.setdefault(end, []).append(screw.at.along(across) - part.body.span(across).low)
        alike: dict[tuple[str, str, Axis], list[Face]] = {}
        for end, rooms in ends.items():
            key = self.fmt.count(len(rooms), "pocket"), self._pocket_rooms(part, end, sorted(rooms)), end.axis
            alike.setdefault(key, []).append(end)
        rows = []
        for (count, rooms, axis), faces in alike.items():
            kind = "end" if axis is part.length_axis else "edge"
            where = f"each {kind}" if len(faces) == 2 else f"the {self.side(part, faces[0])}"
            rows.append((count, where, rooms))
        return tuple(rows)

    def _pocket_rooms(self, part: Part, end: Face, rooms: list[Length]) -> str:
        """``3/4 in from either edge``."""
        across = next(axis for axis in part.thickness.others() if axis is not end.axis)
        edge = self.side(part, across.low)
        if len(rooms) == 2 and abs((rooms[0] + rooms[1] - part.body.extent(across)).mm) < SAME_MM:
            return str(Markup("{} from either {}").format(self.fmt.length(rooms[0]), edge.kind))
        return str(Markup("{} from the {}").format(self.distances(rooms), edge))

    def _pocket_screws(self, part: Part) -> list[Fastener]:
        return [
            fastener
            for joint in self.plan.joints
            for fastener in joint.fasteners
            if fastener.through == part.id and fastener.item.kind == FastenerKind.POCKET_SCREW
        ]

    def _pocket_end(self, part: Part, direction: Sequence[float]) -> Face:
        axis = max(part.thickness.others(), key=lambda one: abs(direction[one.index]))
        return Face.of(axis, 1 if direction[axis.index] > 0 else -1)

    def _pocket_face(self, part: Part) -> str:
        faces = [feature.face for feature in part.features if isinstance(feature, Bore) and feature.kind == "pocket"]
        if faces:
            return self.side(part, faces[0])
        for joint in self.plan.joints:
            for fastener in joint.fasteners:
                if fastener.through == part.id and fastener.item.kind == FastenerKind.POCKET_SCREW:
                    slope = fastener.direction[part.thickness.index]
                    return self.side(part, Face.of(part.thickness, -1 if slope > 0 else 1))
        return f"{part.thickness.low.value} face"
