"""How parts meet: where the glue goes, where a part sits, where its screws go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import MIRRORED
from drawleaf.book.words.phrases.fastenings import Fastenings
from drawleaf.book.words.phrases.sides import GluePlace, Side, told_together
from drawleaf.book.words.phrases.spots import Flush, Measured, Row, Spot, spot_words
from drawleaf.derive.operations.fitted import goes_round, is_edging
from drawleaf.joinery import family_of
from drawleaf.joinery.bench import PartlyGlued
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.fitted import FittedAs
from drawleaf.model.place import Face
from drawleaf.model.plan import Joint, Part
from drawleaf.model.pose import Pose
from drawleaf.setting_out.overhang import Overhang, overhangs_of
from drawleaf.setting_out.placing import Offset, placing
from drawleaf.setting_out.wood_joints import channel_word, crosses, several_channels
from drawleaf.units import Length

_MOST_WORDS = 20
"""More words than these do not stand in the part of a sentence that says where glue goes."""
_MOST_PAST = 4
"""More rows of parts than this that a top stands over are not named."""
BROAD = 0.35
"""A joint that covers less than this share of a part's broad face is a strip on it."""


class Joints(Fastenings):
    """Phrases for assembly."""

    # Glue

    def glue_spots(self) -> Markup:
        """Where the glue goes, a sentence for each sort of place: in the channel; or on the insert's side where two faces only meet."""
        places: dict[GluePlace, list[str]] = {}
        strips = all(self._narrow(joint) for joint in self.op.joints if joint.glued and not joint.depth)
        for joints in self._alike(joint for joint in self.op.joints if joint.glued):
            inserts, receivers = [joint.insert for joint in joints], [joint.receiver for joint in joints]
            if joints[0].depth:
                places.setdefault(self._in_channel(joints), []).extend(receivers)
            elif (telling := joints[0].family.telling) is not None and telling.glue:
                place = GluePlace(telling.glue_where, self.words.put(telling.glue))
                places.setdefault(place, []).extend(inserts if telling.glue_on_first else receivers)
            elif strips:
                for joint in joints:
                    side = self.side(self.plan.part(joint.receiver), joint.face.opposite)
                    places.setdefault(GluePlace("on", f"the {side}"), []).append(joint.receiver)
            else:
                places.setdefault(GluePlace("on", f"the {self._side_word(joints)}"), []).extend(inserts)
        return Markup(". Then spread it ").join(
            self._glued(place, self._each_named(parts)) for place, parts in _same_parts(places).items()
        )

    def _glued(self, place: GluePlace, named: Sequence[Markup]) -> Markup:
        """``on the ends of the rail 3``; the last of many parts in a sentence of their own."""
        told = Markup("{} {} {}").format(place.words, place.whose, self.fmt.join(named))
        if len(named) < 3 or len(told.striptags().split()) <= _MOST_WORDS:
            return told
        half = (len(named) + 1) // 2
        whose = f"that {place.whose}" if place.whose == "of" else place.whose
        first, rest = self.fmt.join(named[:half]), self.fmt.join(named[half:])
        words = Markup("{} {} {}. Spread it also {} {} {}")
        return words.format(place.words, place.whose, first, place.where, whose, rest)

    def _in_channel(self, joints: Sequence[Joint]) -> GluePlace:
        """``in the dado``; with how much of it, where glue all over would keep the wood from moving."""
        word = self.words.put(channel_word(joints[0], several_channels(joints)))
        family = family_of(joints[0].family)
        glued = family.glued_span(self.plan, joints[0]) if isinstance(family, PartlyGlued) else None
        if glued is None:
            return GluePlace("in", f"the {word}", "in")
        side = self.side(self.plan.part(joints[0].receiver), glued[0])
        what = Markup("{} at the {}, in the {}").format(self.fmt.length(glued[1].extent), side, word)
        return GluePlace("over", what, "in")

    def _narrow(self, joint: Joint) -> bool:
        """Whether a part meets only a strip of the other's broad face: the glue then goes on what stands, not all over the face."""
        part = self.plan.part(joint.insert)
        if joint.face.axis is not part.thickness:
            return False
        a, b = joint.face.axis.others()
        meets = joint.contact.extent(a).mm * joint.contact.extent(b).mm
        return meets < BROAD * part.body.extent(a).mm * part.body.extent(b).mm

    def _side_word(self, joints: Sequence[Joint]) -> Side:
        """``back face``; ``ends`` where both ends of one part are meant."""
        side = self.side(self.plan.part(joints[0].insert), joints[0].face)
        if len({joint.face for joint in joints}) == 1:
            return side
        ends: dict[str, set[Face]] = {}
        for joint in joints:
            ends.setdefault(joint.insert, set()).add(joint.face)
        if all(len(faces) > 1 for faces in ends.values()):
            return Side("", f"{side.kind}s")
        if all(self.side(self.plan.part(joint.insert), joint.face).inward for joint in joints):
            return Side("inside", side.kind, inward=True)
        twins = self.twin_side([joint.insert for joint in joints], self.plan.part(joints[0].insert), joints[0].face)
        return twins if twins.of_twins else Side("joining", side.kind)

    # Where a part sits

    def places(self) -> list[Markup]:
        """Where each new part goes: onto or into what, and flush or how far from which edge. One line for each kind of part."""
        lines = []
        for choices in self._by_mover():
            best = min(choices, key=self._trouble)
            between = self._between([joint for group in choices for joint in group], choices)
            lines.append(between or self._place(best) + self._also(choices, best))
        return lines

    def _also(self, choices: Sequence[Sequence[Joint]], best: Sequence[Joint]) -> Markup:
        """``. Its top end lies against the Shelf``: the one other part that it only touches."""
        others = [group for group in choices if group is not best]
        if len(others) != 1 or others[0][0].depth or crosses(others[0][0]) or len({one.face for one in others[0]}) != 1:
            return Markup("")
        joints = others[0]
        movers, stays = [self._mover(one) for one in joints], [self._stay(one) for one in joints]
        face = joints[0].face if joints[0].insert in self.op.parts else joints[0].face.opposite
        side = self.side(self.plan.part(movers[0]), face)
        several = len(set(movers)) > 1
        words = Markup(". Their {}s lie against {}") if several else Markup(". Its {} lies against {}")
        return words.format(side, self.the_parts(stays))

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
        return line + self._set_at(best)

    def _by_mover(self) -> list[list[list[Joint]]]:
        by_mover: dict[str, list[list[Joint]]] = {}
        for joints in self._alike(self.op.joints):
            by_mover.setdefault(self.plan.part(self._mover(joints[0])).kind, []).append(joints)
        return list(by_mover.values())

    @property
    def faces_level(self) -> bool:
        """Whether the broad faces of what pocket screws join here lie level with an edge or face of what they are screwed to."""
        pocketed = [
            joint
            for joint in self.op.joints
            if any(fastener.item.kind == FastenerKind.POCKET_SCREW for fastener in joint.fasteners)
        ]
        return all(
            any(offset.flush and offset.face.axis is self.plan.part(joint.insert).thickness for offset in offsets)
            for joint in pocketed
            for offsets in (placing(self.plan, joint),)
        )

    @property
    def comes_in_several(self) -> bool:
        """Whether what is put on are several pieces that nothing joins yet: a pair of plinth ends."""
        own = set(self.op.parts)
        tied = {
            part
            for joint in self.plan.joints
            if {joint.insert, joint.receiver} <= own
            for part in (joint.insert, joint.receiver)
        }
        return len(own) > 1 and not tied

    def whole_place(self) -> Markup:
        """Where a body of several parts goes, by the pair of parts that shows it best."""
        firm = [joint for joint in self.op.joints if not goes_round(self.plan.part(self._stay(joint)))]
        best = min(self._alike(firm or self.op.joints), key=self._trouble)
        movers = [self._mover(joint) for joint in best]
        stays = [self._stay(joint) for joint in best]
        return Markup("{} on {}").format(self.the_parts(movers), self.the_parts(stays)) + self._set_at(best)

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
        verb = joint.family.verb
        if joint.depth:
            how = (
                f"{verb} {{}} into the {channel_word(joint)} in {{}}" if coming else f"{verb} {{}} over the end of {{}}"
            )
            if between or several_channels(joints):
                how = (
                    f"{verb} {{}} into the {channel_word(joint, True)} in {{}}"
                    if coming
                    else f"{verb} {{}} over the ends of {{}}"
                )
        elif (telling := joint.family.telling) is not None:
            how = telling.comes if coming else telling.comes_over
        elif between:
            how = "Set {} between {}"
        else:
            face = joint.face.opposite if coming else joint.face
            how = f"Set {{}} against the {self._stay_side(joints, face)} of {{}}"
        line = Markup(self.words.put(how)).format(self.the_parts(movers), self.the_parts(stays))
        return line + self._set_at(joints)

    def _stay_side(self, joints: Sequence[Joint], face: Face) -> Side:
        side = self.side(self.plan.part(self._stay(joints[0])), face)
        if len({joint.face for joint in joints}) == 1:
            return side
        turned = joints[0].face.opposite is not face
        sides = {
            self.side(self.plan.part(self._stay(one)), one.face if turned else one.face.opposite) for one in joints
        }
        if len(sides) == 1:
            return side
        side = self.twin_side([self._stay(one) for one in joints], self.plan.part(self._stay(joints[0])), face)
        return side if side.of_twins else Side("nearer", side.kind)

    @property
    def whole_by_measure(self) -> bool:
        """Whether a body of several parts is set by a measure."""
        firm = [joint for joint in self.op.joints if not goes_round(self.plan.part(self._stay(joint)))]
        best = min(self._alike(firm or self.op.joints), key=self._trouble)
        return any(isinstance(spot, Measured | Row) for spot in self._spots(best))

    @property
    def set_by_measure(self) -> bool:
        """Whether any part that comes is set by a measure, so that it must be measured again once it is fast."""
        return any(
            isinstance(spot, Measured | Row)
            for choices in self._by_mover()
            for spot in self._spots(min(choices, key=self._trouble))
        )

    def _set_at(self, joints: Sequence[Joint]) -> Markup:
        """``, flush at the left. Its top edge is ...``; empty where the joint itself sets the part."""
        if all(is_edging(self.plan.part(joint.insert)) for joint in joints):
            several = len({joint.insert for joint in joints}) > 1
            return Markup(". Let {} stand proud of both faces alike, and over at both ends").format(
                "them" if several else "it"
            )
        if all(self.plan.part(joint.insert).fitted_as is FittedAs.FLUSH for joint in joints):
            return Markup(". Let it stand over alike wherever it will be trimmed")
        spots = self._spots(joints)
        flush = [Markup(", {}").format(spot_words(one, self.fmt)) for one in spots if isinstance(one, Flush)]
        measured = [
            Markup(". {}").format(spot_words(one, self.fmt)) for one in spots if isinstance(one, Measured | Row)
        ]
        return Markup("").join((*flush, *measured))

    def _spots(self, joints: Sequence[Joint]) -> list[Spot]:
        """Alignment that all these joints share: flush sides first, then measures."""
        found = [placing(self.plan, joint) for joint in joints]
        receiver, insert = self.plan.part(joints[0].receiver), self.plan.part(joints[0].insert)
        flush: list[str] = []
        spots: list[Spot] = []
        for offsets in zip(*found, strict=True):
            first = offsets[0]
            if joints[0].depth and (first.face.axis is insert.thickness or joints[0].family.holds_all_round):
                continue  # the channel itself holds the part there
            if crosses(joints[0]):
                continue  # so do laps, fingers and tails
            if joints[0].family.panel:
                continue  # it slides until it is home
            if any(abs(offset.room) != abs(first.room) for offset in offsets) or not self._same_or_mirrored(offsets):
                spots += self._in_row(joints, offsets)
                continue
            mirrored = any(offset.face is not first.face for offset in offsets)
            if first.flush:
                flush.append(self._flush_where(joints, first.face, mirrored))
            else:
                spots.append(self._measure(joints, insert, receiver, first, mirrored))
        return [Flush(tuple(flush)), *spots] if flush else spots

    def _in_row(self, joints: Sequence[Joint], offsets: Sequence[Offset]) -> list[Spot]:
        """Where parts of one kind stand in a row on one part; nothing where they are no row."""
        axis = offsets[0].face.axis
        stays = [self.plan.part(joint.receiver) for joint in joints]
        parts = [self.plan.part(one) for one in dict.fromkeys(joint.insert for joint in joints)]
        odd = len(parts) < 2 or len({part.kind for part in parts}) > 1
        odd |= len({part.seen.face(axis.low) for part in stays}) > 1
        if odd or any(offset.face.axis is not axis for offset in offsets):
            return []
        places = sorted(part.body.face(axis.low) - stays[0].seen.face(axis.low) for part in parts)
        if places[0].exact_mm < 0 or len(set(places)) < len(parts):
            return []
        mine, theirs = self.side(parts[0], axis.low), self.side(stays[0], axis.low)
        return [Row(mine, self.distances(places), theirs, self.the_parts([stays[0].id]))]

    def _flush_where(self, joints: Sequence[Joint], face: Face, mirrored: bool) -> str:
        """``the left``; ``both ends`` where a part is as long as what it is joined to."""
        pairs = [(self.plan.part(joint.insert), self.plan.part(joint.receiver)) for joint in joints]
        along = face.axis
        if all(one.length_axis is along and one.body.span(along) == other.body.span(along) for one, other in pairs):
            return "both ends"
        return "the outside" if mirrored else f"the {face.value}"

    @staticmethod
    def _same_or_mirrored(offsets: Sequence[Offset]) -> bool:
        first = offsets[0].face
        return {offset.face for offset in offsets} <= {first, MIRRORED.get(first, first)}

    def _measure(
        self, joints: Sequence[Joint], insert: Part, receiver: Part, offset: Offset, mirrored: bool
    ) -> Measured:
        mine, theirs = self.side(insert, offset.face), self.side(receiver, offset.face)
        several = len({joint.insert for joint in joints}) > 1
        if mirrored:
            mine, theirs = Side("outer", mine.kind), Side("nearer", theirs.kind)
        buried = self._buried_in(receiver, offset.face)
        if buried is not None and not mirrored:
            room = abs(insert.body.face(offset.face) - receiver.seen.face(offset.face))
            around = self.plan.part(buried.receiver)
            return Measured(mine, several, room, self.side(around, offset.face.opposite), self.the_parts([around.id]))
        return Measured(mine, several, offset.room, theirs, self.the_parts([receiver.id]))

    @property
    def upside_down(self) -> bool:
        """Whether the step works on the piece lying upside down."""
        return self.step.scene is not None and self.step.scene.pose is Pose.OVER

    @property
    def front_unlike_back(self) -> bool:
        """Whether a top stands over otherwise at the front than at the back, so that turned over one must know which is which."""
        rooms = {one.face: one.room for one in self._overhangs()}
        return rooms.get(Face.FRONT) != rooms.get(Face.BACK)

    def _buried_in(self, part: Part, face: Face) -> Joint | None:
        """The joint that hides this side of a part in another that stands by now: nobody can hold a rule to it any more."""
        standing = self.step.scene.standing if self.step.scene else ()
        hiding = (one for one in self.plan.joints if one.insert == part.id and one.face is face and one.depth)
        return next((one for one in hiding if {one.insert, one.receiver} <= set(standing)), None)

    @property
    def over_by_measure(self) -> bool:
        """Whether a top is set by a measure at any side, and not flush all round."""
        return any(one.room for one in self._overhangs())

    def _overhangs(self) -> tuple[Overhang, ...]:
        """How far a top stands over what it comes down on."""
        part = self.plan.part(self.op.parts[0])
        standing = [self.plan.part(other) for other in (self.step.scene.standing if self.step.scene else ())]
        return overhangs_of(part, standing, self.op.joints[0].face.axis)

    def overhangs(self) -> Markup:
        """How a top lies on what is beneath it: ``stands over by 3/4 in at the left and the right, and is flush at the back``."""
        rooms: dict[Length, list[str]] = {}
        for one in self._overhangs():
            rooms.setdefault(one.room, []).append(f"the {one.face.value}")
        words, before = list[Markup](), ""
        for room, sides in rooms.items():
            verb = "is flush" if not room else "stands over" if room.exact_mm > 0 else "stays back"
            by = Markup(" by {}").format(self.fmt.length(abs(room))) if room else Markup("")
            told = Markup("{}{} at {}").format("" if verb == before else f"{verb}", by, self.fmt.join(sides))
            words.append(Markup(told.strip()))
            before = verb
        return Markup(", ").join(words[:-1]) + Markup(", and ") + words[-1] if len(words) > 1 else words[0]

    def overhung(self) -> Markup:
        """`` Measure from the sides 7 and 8.``: what the figures of ``overhangs`` are measured from; empty where these are too many to name."""
        past = dict.fromkeys(other.id for one in self._overhangs() if one.room for other in one.past)
        if not past or len(self._rows(list(past))) > _MOST_PAST:
            return Markup("")
        return Markup(" Measure from {}.").format(self.the_parts(list(past)))

    def _alike(self, joints: Iterable[Joint]) -> list[list[Joint]]:
        """Joints between the same kinds of part, together."""
        groups: dict[tuple, list[Joint]] = {}
        for joint in joints:
            kinds = (self.plan.part(joint.insert).kind, self.plan.part(joint.receiver).kind)
            groups.setdefault((*kinds, joint.family, bool(joint.depth)), []).append(joint)
        return list(groups.values())


def _same_parts(places: dict[GluePlace, list[str]]) -> dict[GluePlace, list[str]]:
    """Places on the same parts in one phrase: ``on the ends and the top edge of``."""
    by_parts: dict[tuple[str, ...], list[GluePlace]] = {}
    for place, parts in places.items():
        by_parts.setdefault(tuple(dict.fromkeys(parts)), []).append(place)
    result: dict[GluePlace, list[str]] = {}
    for parts, some in by_parts.items():
        for place in told_together(some):
            result.setdefault(place, []).extend(parts)
    return result
