"""Mitres in words: which end, where it stays longest, how long from long point to long point."""

from __future__ import annotations

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.model.shapes import PlaneCut
from drawleaf.setting_out.mitres import mitre_waste, spline_slots
from drawleaf.setting_out.slants import slant_of


class Mitres(Speech):
    """Phrases for mitres."""

    def mitre_marks(self) -> list[Markup]:
        """The mitred ends of each kind of part, where they stay longest, and the finished length."""
        return [self._ends(ids, cuts) for ids, cuts in self._by_part(PlaneCut)]

    def _ends(self, ids: list[str], cuts: list[PlaneCut]) -> Markup:
        part = self.plan.part(ids[0])
        found = [slant_of(part, cut) for cut in cuts]
        where = [f"long point at the outer {'face' if one.long_face else 'edge'}" for one in found]
        length = self.fmt.length(part.body.extent(part.length_axis))
        if len(found) == 2 and len(set(where)) == 1:
            words = Markup("{}: both ends, {}; {} from long point to long point")
            return words.format(self.the_parts(ids), where[0], length)
        ends = [f"the {cut.face.value} end, {spot}" for cut, spot in zip(cuts, where, strict=True)]
        if len(found) == 1:
            words = Markup("{}: {}; {} from the long point to the other end")
            return words.format(self.the_parts(ids), ends[0], length)
        return Markup("{}: {}; {} long").format(self.the_parts(ids), self.fmt.join(ends), length)

    def mitred_edges(self) -> list[Markup]:
        """Which edges are bevelled for a mitre and which face keeps its full width."""
        lines = []
        for ids, cuts in self._by_part(PlaneCut):
            part = self.plan.part(ids[0])
            edges = [self.side(part, cut.face) for cut in cuts]
            wide = next((face for cut in cuts if (face := slant_of(part, cut).long_face) is not None), None)
            lines.append(
                Markup("the {} of {}{}").format(
                    self.fmt.join(edges),
                    self.the_parts(ids),
                    f", the {self._face(part, wide)} at full width" if wide else "",
                )
            )
        return lines

    def _face(self, part: Part, face: Face) -> str:
        return self.side(part, face)

    def has_waste(self) -> bool:
        """Whether the pieces were cut longer for these mitres."""
        return any(mitre_waste(self.plan.part(part)) for part in self.op.parts)

    def has_two(self) -> bool:
        """Whether any piece is mitred at both its ends."""
        return any(len(cuts) > 1 for _, cuts in self._by_part(PlaneCut))

    def splines(self) -> Markup:
        """``a Spline 3``: one of those that go into the slots of the operation."""
        joints = {cut.joint for part_id in self.op.parts for cut in spline_slots(self.plan.part(part_id))}
        one = next(part.id for part in self.plan.parts if part.brought in joints)
        return Markup("a {}").format(self.names([one]))

    def slot_ends(self) -> str:
        """From where the splines of the operation slide in, as the drawing's arrows show it."""
        scene = self.step.scene
        ways = {move.direction for move in (scene.moves if scene else ()) if move.part in self.op.parts}
        names = {way: face.value for face in Face for way in ways if way == face.opposite.normal}
        if len(names) < len(ways):
            return self.words.put("from the outside of each corner, along the miter")
        return f"from the {self.fmt.join(sorted(names.values()))}"
