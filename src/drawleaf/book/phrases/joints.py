"""How parts meet: where the glue goes, where a part sits, where its screws go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from markupsafe import Markup

from drawleaf.book.phrases.base import MIRRORED, Speech
from drawleaf.derive.placing import placing
from drawleaf.derive.screws import clearance_hole, entered_face, pilot_hole, screw_lines
from drawleaf.model.plan import Joint


class Joints(Speech):
    """Phrases for assembly."""

    # Joints

    def glue_spots(self) -> Markup:
        """Where the glue goes: the channel and the end that enters it; the smaller of two faces that only meet."""
        words: dict[str, None] = {}
        for joints in self._alike([joint for joint in self.op.joints if joint.glued]):
            insert, receiver = joints[0].insert, joints[0].receiver
            inserts, receivers = [joint.insert for joint in joints], [joint.receiver for joint in joints]
            side = self.side(self.plan.part(insert), joints[0].face)
            if joints[0].depth:
                words[str(Markup("in the {} of {}").format(joints[0].family, self.the_parts(receivers)))] = None
            else:
                word = self._side_of_many(joints, side)
                words[str(Markup("on the {} of {}").format(word, self.the_parts(inserts)))] = None
            del receiver
        return self.fmt.join([Markup(word) for word in words])

    def _side_of_many(self, joints: Sequence[Joint], side: str) -> str:
        faces = {joint.face for joint in joints}
        if len(faces) == 1:
            return side
        return (
            f"{side.rsplit(' ', 1)[-1]}s" if len({joint.insert for joint in joints}) == 1 else side.rsplit(" ", 1)[-1]
        )

    def places(self) -> list[Markup]:
        """Where each new part goes: onto or into what, flush or how far from which edge."""
        lines = []
        new = set(self.op.parts)
        for joints in self._alike(self.op.joints):
            joint = joints[0]
            insert, receiver = self.plan.part(joint.insert), self.plan.part(joint.receiver)
            movers = [one.insert if one.insert in new else one.receiver for one in joints]
            stays = [one.receiver if one.insert in new else one.insert for one in joints]
            spots = self._spots(joints)
            if joint.depth:
                verb = "Push" if joint.insert in new else "Set"
                target = f"into the {joint.family} of" if joint.insert in new else "over the end of"
            else:
                verb, target = "Set", f"against the {self.side(receiver, joint.face.opposite)} of"
                if joint.insert not in new:
                    target = f"against the {self.side(insert, joint.face)} of"
            line = Markup("{} {} {} {}").format(verb, self.the_parts(movers), target, self.the_parts(stays))
            if spots:
                line += Markup(", {}").format(self.fmt.join(spots))
            lines.append(line)
        return lines

    def _spots(self, joints: Sequence[Joint]) -> list[Markup]:
        """Alignment that all these joints share; mirrored ones in one phrase."""
        found = [placing(self.plan, joint) for joint in joints]
        spots = []
        for offsets in zip(*found, strict=True):
            first = offsets[0]
            receiver = self.plan.part(joints[0].receiver)
            mirrored = {offset.face for offset in offsets} == {first.face, MIRRORED.get(first.face, first.face)}
            same_face = all(offset.face is first.face for offset in offsets)
            if not (same_face or mirrored) or any(abs(offset.room) != abs(first.room) for offset in offsets):
                continue
            side = self.side(receiver, first.face)
            if not same_face:
                side = "nearer " + side.rsplit(" ", 1)[-1]
            if first.flush:
                spots.append(Markup("flush with the {}").format(side))
            elif first.room.exact_mm > 0:
                spots.append(Markup("{} in from the {}").format(self.fmt.length(first.room), side))
            else:
                spots.append(Markup("standing {} over the {}").format(self.fmt.length(-first.room), side))
        return spots

    def _alike(self, joints: Iterable[Joint]) -> list[list[Joint]]:
        """Joints between the same kinds of part, together."""
        groups: dict[tuple, list[Joint]] = {}
        for joint in joints:
            key = (
                self.plan.part(joint.insert).kind,
                self.plan.part(joint.receiver).kind,
                joint.family,
                bool(joint.depth),
            )
            groups.setdefault(key, []).append(joint)
        return list(groups.values())

    # Fasteners

    def screw_marks(self) -> list[Markup]:
        """Lines of screws or brads, the same on both twins told once."""
        return [text for _, text in self._screw_groups()]

    def _screw_groups(self) -> list[tuple[int, Markup]]:
        groups: dict[tuple, list] = {}
        for line in screw_lines(self.plan, self.op.fasteners):
            part = self.plan.part(line.through)
            key = (part.kind, self.plan.part(line.into).kind, line.item.id, line.along, line.across, line.face.axis)
            groups.setdefault(key, []).append(line)
        found = []
        for lines in groups.values():
            first = lines[0]
            part = self.plan.part(first.through)
            through = list(dict.fromkeys(line.through for line in lines))
            end = self.side(part, first.end)
            edge = self.side(part, first.edge)
            if len({line.end for line in lines}) > 1:
                end = "nearer " + end.rsplit(" ", 1)[-1]
            if len({line.edge for line in lines}) > 1:
                edge = "nearer " + edge.rsplit(" ", 1)[-1]
            total = sum(line.count for line in lines)
            text = Markup("{} through {} into {}: {} in from the {}, {} from the {}").format(
                total,
                self.the_parts(through),
                self.the_parts([line.into for line in lines]),
                self.fmt.length(first.across),
                edge,
                self.distances(first.along),
                end,
            )
            found.append((total, text))
        return found

    def fastener_words(self) -> Markup:
        """``4 #8 x 2 in wood screws``, by item."""
        counts: dict[str, int] = {}
        items = {}
        for fastener in self.op.fasteners:
            items[fastener.item.id] = fastener.item
            counts[fastener.item.id] = counts.get(fastener.item.id, 0) + 1
        return self.fmt.join(
            [f"{count} × {items[item].name if count == 1 else items[item].plural}" for item, count in counts.items()]
        )

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

    @property
    def driven_from(self) -> str:
        """The side the heads are on, seen on the standing piece."""
        faces = list(dict.fromkeys(entered_face(fastener) for fastener in self.op.fasteners))
        return " and ".join(face.value for face in faces)
