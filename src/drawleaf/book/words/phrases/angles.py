"""Cuts at an angle in words: which end is longest where, and how the second end follows from the first."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import partial
from math import atan2, degrees

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.english import capitalized
from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, Part
from drawleaf.model.shapes import PlaneCut
from drawleaf.setting_out.slants import angle_text, ends_of, longest_words, narrow_end, slant_of, taper_off, taper_start


class Angles(Speech):
    """Phrases for cuts at an angle."""

    def degrees(self, name: str) -> str:
        """A setting of so many degrees: ``8.9°``."""
        value = self.value(name)
        return angle_text(Fraction(value)) if isinstance(value, (int, Fraction)) else str(value)

    def is_square(self, name: str) -> bool:
        """Whether that angle is none."""
        return not self.value(name)

    def slant_marks(self) -> list[Markup]:
        """Which ends, and where each stays longest: one line for each kind of part."""
        lines = []
        for ids, cuts in self._by_part(PlaneCut):
            part = self.plan.part(ids[0])
            found = [slant_of(part, cut) for cut in cuts]
            where = [longest_words(one, partial(self._called, ids, part)) for one in found]
            if len(set(where)) == 1 and len(found) > 1:
                lines.append(Markup("On {}: both ends, {}").format(self.the_parts(ids), where[0]))
            else:
                ends = [f"the {one.cut.face.value} end {spot}" for one, spot in zip(found, where, strict=True)]
                told = Markup(". ").join([ends[0], *map(capitalized, ends[1:])])
                lines.append(Markup("On {}: {}").format(self.the_parts(ids), told))
        return lines

    def _called(self, ids: Sequence[str], part: Part, face: Face) -> str:
        """A side in a word, as mirrored twins have it too: ``bottom``, ``inside``."""
        inner = self._faces_twin(ids, part, face)
        return face.value if inner is None else "inside" if inner else "outside"

    def second_ends(self) -> list[Markup]:
        """How the second end is cut after the first, one line for each way there is; with the parts' names where the step has several cuts."""
        ways: dict[str, list[str]] = {}
        for part in self.op.parts:
            ways.setdefault(ends_of(self.plan.part(part)), []).append(part)
        opposed = (
            "turn it end for end, the same face down. Cut at the same setting."
            if self.is_square("mitre")
            else "turn it end for end, and swing the miter to the same angle on the other side."
        )
        lines = {
            "parallel": "The two ends of {} are parallel. Slide the piece along to its other end without turning it. Cut at the same setting.",
            "opposed": f"The two ends of {{}} lean toward each other. For the second, {opposed}",
        }
        several = sum(op.kind == self.op.kind for op in self.step.operations) > 1
        return [
            self.words.tell(Markup(lines[way]), self.the_parts(parts) if several else self.words.put("a piece"))
            for way, parts in ways.items()
            if way in lines
        ]

    def are_level(self) -> bool:
        """Whether these ends stand on the floor or carry something level."""
        return all(isinstance(cut, PlaneCut) and cut.kind == "level end" for _, cut in self.op.features)

    def bevel_marks(self) -> list[Markup]:
        """Which edge is bevelled and which of its faces stays the wider."""
        lines = []
        for ids, cuts in self._by_part(PlaneCut):
            part = self.plan.part(ids[0])
            words = [
                f"the {self.twin_side(ids, part, cut.face)}; the {self.twin_side(ids, part, face)} stays the wider"
                for cut in cuts
                if (face := slant_of(part, cut).long_face) is not None
            ]
            lines.append(Markup("{}: {}").format(self.the_parts(ids), self.fmt.join(words)))
        return lines

    def taper_marks(self) -> list[Markup]:
        """From where to where a taper is drawn."""
        lines = []
        for ids, cuts in self._by_part(PlaneCut):
            part = self.plan.part(ids[0])
            for cut in cuts:
                lines.append(Markup("On {}, {}").format(self.the_parts(ids), self._taper(ids, part, cut)))
        return lines

    def _taper(self, ids: Sequence[str], part: Part, cut: PlaneCut) -> Markup:
        start = taper_start(part, cut)
        off = self.fmt.length(taper_off(part, cut))
        narrow = narrow_end(part, cut)
        where = Markup("at the {} end").format(narrow.opposite.value)
        if start:
            where = Markup("{} from the {} end").format(self.fmt.length(start), narrow.opposite.value)
        return Markup(
            "mark the taper along the {} edge. It starts {}. At the {} end it is {} in from that edge"
        ).format(self._called(ids, part, cut.face), where, narrow.value, off)

    # Holes at a slant

    @property
    def slants(self) -> bool:
        """Whether its holes run at a slant to the face."""
        return self.has("slant") and self.value("slant") is not None

    def slant_angle(self) -> str:
        """How far its holes run off square: ``10°``."""
        return angle_text(self.value("slant"))

    def gauge_angle(self) -> str:
        """The angle between bit and face: ``80°``."""
        return angle_text(90 - self.value("slant"))

    def sight_lines(self) -> list[Markup]:
        """For each slanting hole, the line on the face above which the bit leans, from the mark to where the drill leans. Holes with the same
        line share a sentence."""
        found: dict[str, list[str]] = {}
        holes = 0
        for ids, bores in self._by_part(Bore):
            part = self.plan.part(ids[0])
            holes += len(ids) * len(bores)
            for bore in bores:
                first, second = sorted(bore.face.axis.others(), key=lambda axis: -abs(bore.direction[axis.index]))
                ahead, aside = (-bore.direction[axis.index] for axis in (first, second))
                edge = Face.of(first, 1 if ahead > 0 else -1)
                turned = Fraction(round(degrees(atan2(abs(aside), abs(ahead))) * 10), 10)
                words = f"straight toward the {self.twin_side(ids, part, edge)}"
                if turned:
                    to = self.twin_side(ids, part, Face.of(second, 1 if aside > 0 else -1))
                    words = f"toward the {self.twin_side(ids, part, edge)}, turned {angle_text(turned)} toward the {to}"
                along = max(bore.face.axis.others(), key=lambda axis: part.body.extent(axis).exact_mm)
                end, room = self._nearest(part, along, bore.start.along(along))
                mark = Markup("{} from the {}").format(self.fmt.length(room), self.twin_side(ids, part, end))
                found.setdefault(words, []).append(mark)
        if len(found) == 1:
            return [Markup("from {} {}").format("each mark" if holes > 1 else "the mark", one) for one in found]
        return [
            Markup("from the mark{} {} {}").format("s" if len(marks) > 1 else "", self.fmt.join(marks), words)
            for words, marks in found.items()
        ]
