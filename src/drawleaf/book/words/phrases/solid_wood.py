"""Mortises, tenons, pegs and dowels, as one marks and cuts them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import ceil

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.book.words.phrases.mark_rows import MarkRow
from drawleaf.english import with_article
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.joint_family import CutKind, Easing
from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, BoxCut, Part
from drawleaf.model.settings import TenonSettings
from drawleaf.setting_out.slants import angle_text, off_square
from drawleaf.setting_out.wood_joints import Mortise, TenonEnd, mortise_of, tenon_ends
from drawleaf.units import Length

DEEPEST_PASS = Length.of_inches(Fraction(1, 4))
"""As the router's caution in ``shared/cautions`` says it."""


class SolidWood(Speech):
    """Phrases for joints in solid wood."""

    # Mortises

    def mortise_marks(self) -> list[Markup]:
        """Each mortise: on which side, from where to where, how deep; one line for each kind of part and side."""
        lines: list[Markup] = []
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            sides: dict[tuple, dict[Face, list[Mortise]]] = {}
            for cut in cuts:
                one = mortise_of(part, cut)
                ends = sides.setdefault((cut.into, one.depth, cut.kind), {})
                ends.setdefault(one.end, []).append(one)
            for (into, depth, kind), ends in sides.items():
                deep = Markup("right through") if depth is None else Markup("{} deep").format(self.fmt.length(depth))
                what = "a haunch on " if kind == CutKind.HAUNCH else ""
                places = []
                for reach, same in self._reaches(ends).items():
                    where = self.side(part, same[0])
                    end = f"the {where}" if len(same) == 1 else f"each {where.kind}"
                    places.append(Markup("{} from {}").format(reach, end))
                on = self._on_side(part, into, ids)
                lines.append(Markup("{}{}: {}, {}").format(what, on, Markup(", and ").join(places), deep))
        return lines

    def _reaches(self, ends: dict[Face, list[Mortise]]) -> dict[Markup, list[Face]]:
        """From where to where mortises run, with the ends of the part that they are so measured from."""
        found: dict[Markup, list[Face]] = {}
        for end, some in ends.items():
            words = [
                Markup("{} to {}").format(self.fmt.length(one.reach[0]), self.fmt.length(one.reach[1]))
                for one in sorted(some, key=lambda one: one.reach)
            ]
            found.setdefault(self.fmt.join(words), []).append(end)
        return found

    def _on_side(self, part: Part, face: Face, ids: Sequence[str]) -> Markup:
        return Markup("the {} of {}").format(self.twin_side(ids, part, face), self.the_parts(ids))

    def mortise_offset(self) -> Markup:
        """How far the mortises lie from which face; face by face where it is not the same for all."""
        room, sides = self.fmt.length(self.value("offset")), {}
        for ids, cuts in self._by_part(BoxCut):
            part = self.plan.part(ids[0])
            for cut in cuts:
                edge = self.twin_side(ids, part, mortise_of(part, cut).offset[0])
                sides.setdefault(edge, {})[self._on_side(part, cut.into, ids)] = None
        if len(sides) == 1:
            return Markup("{} from the {}").format(room, next(iter(sides)))
        return self.join(
            [Markup("{} from the {} on {}").format(room, edge, one) for edge, on in sides.items() for one in on]
        )

    @property
    def goes_through(self) -> bool:
        """Whether any of the mortises comes out on the far side."""
        return any(isinstance(cut, BoxCut) and cut.into.opposite in cut.open for _, cut in self.op.features)

    def pierced_parts(self) -> Markup:
        """The parts of the action whose mortises come out on the far side: ``both rails 4``."""
        return self.the_parts([part for peer in self.peers() if peer.goes_through for part in peer.op.parts])

    # Tenons

    def tenon_marks(self) -> list[Markup]:
        """Each shoulder line, from which ends of which parts: ``1 in from each end of both rails 4``; parts that are marked alike together."""
        alike: dict[tuple[Markup, str], list[str]] = {}
        for ends, ids in self._tenon_ends():
            first = ends[0]
            part = first.part
            kind = "end" if first.face.axis is part.length_axis else "edge"
            where = f"each {kind}" if len(ends) == 2 else f"the {self.side(part, first.face)}"
            alike.setdefault((self.fmt.length(first.length), where), []).extend(ids)
        return [Markup("{} from {} of {}").format(*line, self.the_parts(ids)) for line, ids in alike.items()]

    def _tenon_ends(self) -> list[tuple[list[TenonEnd], list[str]]]:
        """The tenons of this operation, part by part of one kind, with the ids of all such parts."""
        joints = {joint.id for joint in self.op.joints}
        kinds: dict[str, tuple[list[TenonEnd], list[str]]] = {}
        for part_id in self.op.parts:
            part = self.plan.part(part_id)
            ends = [end for end in tenon_ends(self.plan, part) if end.joint.id in joints]
            found = kinds.setdefault(part.kind, (ends, []))
            found[1].append(part_id)
        return list(kinds.values())

    def tenon_section(self) -> Markup:
        """``8 mm thick, 68 mm wide, 9.5 mm from the front face``; face by face where it is not the same one for all."""
        told = self.op.settings
        assert isinstance(told, TenonSettings)
        near, widths = told.cheeks[0], [high - low for low, high in told.places]
        where = Markup("{} from").format(self.fmt.length(near)) if near else Markup("flush with")
        sides = self._sides(lambda end: end.offset[0])
        if len(sides) == 1:
            place = Markup("{} the {}").format(where, next(iter(sides)))
        else:
            place = self.join(
                [Markup("{} the {} of {}").format(where, side, self.the_parts(ids)) for side, ids in sides.items()]
            )
        wide = self.fmt.join([self.fmt.length(one) for one in dict.fromkeys(widths)])
        if len(widths) == 1:
            width = Markup("{} wide").format(wide)
        else:
            each = "each " if len(set(widths)) == 1 else ""
            width = Markup("{} of them, {}{} wide").format(self.fmt.count_word(len(widths)), each, wide)
        return Markup("{} thick, {}{} {}").format(
            self.fmt.length(told.thickness), width, ";" if len(sides) > 1 else ",", place
        )

    def _sides(self, face_of: Callable[[TenonEnd], Face]) -> dict[str, list[str]]:
        """How a side of each tenoned part is called, with the parts that call it so."""
        sides: dict[str, list[str]] = {}
        for ends, ids in self._tenon_ends():
            for end in ends:
                sides.setdefault(self.twin_side(ids, end.part, face_of(end)), []).extend(ids)
        return sides

    def edge_shoulders(self) -> Markup:
        """How much is sawn off beside the tenon at its edges; empty where nothing is."""
        low, high = self.value("edges")
        if low and low == high:
            return Markup("{} at each edge").format(self.fmt.length(low))
        words = []
        for room, face_of in ((low, lambda end: end.along.low), (high, lambda end: end.along.high)):
            if room:
                sides = self._sides(face_of)
                words += [
                    Markup("{} at the {}").format(self.fmt.length(room), side)
                    + (Markup(" of {}").format(self.the_parts(ids)) if len(sides) > 1 else Markup(""))
                    for side, ids in sides.items()
                ]
        return self.fmt.join(words)

    def tenon_places(self) -> Markup:
        """From where to where each tenon of a breadboard tongue runs, from the low edge of the top."""
        return self.fmt.join(
            [
                Markup("{} to {}").format(self.fmt.length(low), self.fmt.length(high))
                for low, high in self.value("places")
            ]
        )

    def tenon_edge(self) -> str:
        """The edge that ``tenon_places`` are measured from."""
        return next(iter(self._sides(lambda end: end.along.low)))

    @property
    def on_end(self) -> bool:
        """Whether a tongue stands on an end, across the grain."""
        return self.flag("on_end")

    @property
    def both_faces(self) -> bool:
        """Whether wood is taken off both faces of a tongue."""
        return all(self.value("cheeks"))

    def cheek_depth(self) -> Markup:
        """How deep each cheek is cut; the one cheek of a tongue that lies at a face."""
        return self.fmt.join([self.fmt.length(room) for room in dict.fromkeys(self.value("cheeks")) if room])

    def deepest_cheek(self) -> Length:
        """How deep the deepest cheek of the step's tenons or tongues is cut."""
        return max(room for peer in self.peers() for room in peer.value("cheeks"))

    @staticmethod
    def pass_count(depth: Length) -> int:
        """How many passes a router takes for a depth: none deeper than the router's caution allows."""
        return max(1, ceil(depth.ratio(DEEPEST_PASS)))

    def passes(self, depth: Length) -> str:
        """``two passes``."""
        count = self.pass_count(depth)
        return f"{self.fmt.count_word(count)} {'pass' if count == 1 else 'passes'}"

    def peg_slots(self) -> Markup:
        """``22 mm``; ``30 and 22 mm``, the longest farthest from the middle: how long the slots are; empty where there are none."""
        return self.fmt.join([self.fmt.length(one) for one in self.value("slots")])

    def tenon_partner(self) -> Markup:
        """The parts whose mortises the tenons are fitted to."""
        return self.the_parts(list(dict.fromkeys(joint.receiver for joint in self.op.joints)))

    def one_partner(self) -> Markup:
        """One of them, to try a tenon in: ``a Foot``; ``the Rail`` where there is one."""
        mates = list(dict.fromkeys(joint.receiver for joint in self.op.joints))
        alike = sum(self._name(mate) == self._name(mates[0]) for mate in mates)
        article = "the" if alike == 1 else with_article(self._name(mates[0])).split()[0]
        return Markup("{} {}").format(article, self.part(mates[0]))

    def tenoned_parts(self) -> Markup:
        """The parts that are let in by the joints of this operation."""
        return self.the_parts(list(dict.fromkeys(joint.insert for joint in self.op.joints)))

    @property
    def tongued(self) -> bool:
        """Whether a channel of this operation takes a tongue, which is thinner than its part."""
        ids = {cut.joint for _, cut in self.op.features if isinstance(cut, BoxCut)}
        return any(joint.id in ids and joint.family.tongued for joint in self.plan.joints)

    @property
    def for_breadboards(self) -> bool:
        """Whether every channel of this operation takes a breadboard's tongue."""
        ids = {cut.joint for _, cut in self.op.features if isinstance(cut, BoxCut)}
        return all(joint.family.caps_end for joint in self.plan.joints if joint.id in ids)

    def ease_words(self) -> str:
        """What to do with a joint that keeps others open, by the kinds of joints among this operation's parts."""
        own = set(self.op.parts)
        joints = [joint for joint in self.plan.joints if joint.insert in own and joint.receiver in own]
        found = {joint.family.easing for joint in joints}
        return "; ".join(one.value for one in Easing if one in found) or "take a shaving off where it touches"

    # Dowels and pegs

    def pin_marks(self) -> list[MarkRow]:
        """Where the holes stand: on which end or side of which part, so far from which edges."""
        lines: list[MarkRow] = []
        for ids, bores in self._by_part(Bore):
            part = self.plan.part(ids[0])
            faces: dict[Face, list[Bore]] = {}
            for bore in bores:
                faces.setdefault(bore.face, []).append(bore)
            groups: dict[tuple, list[Face]] = {}
            for face, some in faces.items():
                groups.setdefault(self._pin_places(ids, face, some), []).append(face)
            for (places, deep), same in groups.items():
                kind = self.side(part, same[0]).kind
                side = f"both {kind}s" if len(same) == 2 else f"the {self.twin_side(ids, part, same[0])}"
                lines.append(
                    MarkRow(
                        side,
                        self.the_parts(ids),
                        Markup(places),
                        self.bit(deep) if deep is not None else Markup(""),
                    )
                )
        return lines

    def pins_to_mark(self) -> list[MarkRow]:
        """Those of all the holes of the step, each place once."""
        return list(dict.fromkeys(row for peer in self.peers() for row in peer.pin_marks()))

    def slanting_ends(self) -> list[Markup]:
        """The parts into whose sawn ends holes go that do not run along the part, each with how far off: ``8.9° off the length of the apron``."""
        found: dict[str, dict[str, None]] = {}
        for part_id, hole in self.op.features:
            if isinstance(hole, Bore) and hole.face.axis is self.plan.part(part_id).length_axis:
                off = off_square(hole)
                if off:
                    found.setdefault(angle_text(off), {}).setdefault(part_id)
        return [Markup("{} off the length of {}").format(off, self.the_parts(list(ids))) for off, ids in found.items()]

    def _pin_places(self, ids: Sequence[str], face: Face, bores: Sequence[Bore]) -> tuple[str, Length | None]:
        part = self.plan.part(ids[0])
        a, b = face.axis.others()
        spread = {axis: len({bore.start.along(axis) for bore in bores}) for axis in (a, b)}
        along = a if (spread[a], part.body.extent(a)) >= (spread[b], part.body.extent(b)) else b
        across = b if along is a else a
        edge, room = self._nearest(part, across, bores[0].start.along(across))
        end = along.low if len(bores) > 1 else self._nearest(part, along, bores[0].start.along(along))[0]
        spots = sorted(abs(bore.start.along(along) - part.body.face(end)) for bore in bores)
        text = Markup("{} from the {}, {} from the {}").format(
            self.distances(list(dict.fromkeys(spots))),
            self.twin_side(ids, part, end),
            self.fmt.length(room),
            self.twin_side(ids, part, edge),
        )
        return str(text), bores[0].depth

    @property
    def loose_tenons(self) -> bool:
        """Whether loose tenons go into all the mortises of the step."""
        joints = {cut.joint for op in self.step.operations for _, cut in op.features if isinstance(cut, BoxCut)}
        pins = {
            joint.id
            for joint in self.plan.joints
            for pin in joint.fasteners
            if pin.item.kind == FastenerKind.LOOSE_TENON
        }
        return bool(joints) and joints <= pins

    def drawbored(self) -> Markup:
        """How much nearer to the shoulder the holes in the tenons stand; empty where they do not."""
        return self.fmt.length(self.value("drawn")) if self.has("drawn") else Markup("")

    @property
    def slotted_pegs(self) -> bool:
        """Whether any peg stands in a slot of its tenon."""
        return any(fastener.slotted for fastener in self.op.fasteners)

    @property
    def dry(self) -> bool:
        """Whether joints close with neither glue nor fasteners, as those of a piece that comes apart."""
        return bool(self.op.joints) and not any(joint.glued or joint.fasteners for joint in self.op.joints)

    @property
    def breadboards(self) -> bool:
        """Whether the operation puts on breadboard ends."""
        return any(joint.family.caps_end for joint in self.op.joints)

    @property
    def panels(self) -> bool:
        """Whether the operation closes grooves that a panel moves in, and nothing else."""
        return all(joint.family.panel for joint in self.op.joints)

    def pin_words(self, counted: bool = True) -> Markup:
        """``the four 8 x 40 mm fluted dowels``: the dowels and loose tenons of these joints, whatever else is driven into them; empty where
        there are none. Not ``counted`` where the step tells how many joint by joint: then those of the whole step."""
        counts: dict[str, int] = {}
        items = {}
        joints = None if not counted else self.op.joints
        own = [op for op in self.step.operations if joints is None or op is self.op or op.joints == joints]
        for fastener in (one for op in own for one in op.fasteners):
            if fastener.item.comes_along:
                items[fastener.item.id] = fastener.item
                counts[fastener.item.id] = counts.get(fastener.item.id, 0) + 1
        return self.fmt.join(
            [
                f"the {f'{self.fmt.count_word(count)} ' if counted else ''}{items[one].plural}"
                if count > 1
                else f"the {items[one].name}"
                for one, count in counts.items()
            ]
        )
