"""Edges that are rounded, chamfered or moulded, as a step tells them."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.book.words.phrases.sides import sides_together
from drawleaf.english import listed, noun, plural
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import EdgeProfile, Part


class Edges(Speech):
    """Phrases for profiles along edges."""

    def edges(self) -> Markup:
        """What this operation does to which edges, one clause for each kind of part."""
        clauses: list[Markup] = []
        for ids, profiles in self._by_part(EdgeProfile):
            part = self.plan.part(ids[0])
            clauses.append(Markup("{} of {}").format(self._edges_of_part(ids, part, profiles), self.the_parts(ids)))
        return self.fmt.join(clauses)

    def _edges_of_part(self, ids: Sequence[str], part: Part, profiles: Sequence[EdgeProfile]) -> str:
        """``the front, left and right top edges``, where all are of one kind round one face; else each by itself."""
        words = list(dict.fromkeys(self._edge(ids, part, profile) for profile in profiles))
        round_face = [face for face in profiles[0].edge if all(face in one.edge for one in profiles)]
        kinds = {one.split()[-1] for one in words}
        if len(words) < 2 or len(round_face) != 1 or len(kinds) > 1 or any(one.round_what for one in profiles):
            return f"the {listed(words)}"
        others = [self._which(ids, part, face) for one in profiles for face in one.edge if face is not round_face[0]]
        kind = plural(kinds.pop())
        if len(others) == 4 and round_face[0].axis is part.thickness:
            return f"all four {kind} of the {self.side(part, round_face[0])}"
        return f"the {listed(others)} {self._which(ids, part, round_face[0])} {kind}"

    def _which(self, ids: Sequence[str], part: Part, face: Face) -> str:
        """A side in a word, as mirrored twins both have it: ``outer`` where the one has left what the other has right."""
        side = self.twin_side(ids, part, face)
        return side.which if side.of_twins and self._faces_twin(ids, part, face) is not None else face.value

    def _edge(self, ids: Sequence[str], part: Part, profile: EdgeProfile) -> str:
        if profile.round_what:
            rim = "edge of its outline" if profile.round_what == "outline" else "edge of its opening"
            return f"{profile.edge[0].value} {rim}"
        faces = [face for face in profile.edge if face.axis is not part.thickness]
        first, second = (self._which(ids, part, one) for one in profile.edge)
        return f"{first} {second} {'edge' if len(faces) == 1 else 'corner'}"

    def rounds_ends(self) -> bool:
        """Whether any edge of the step lies at the end of a part, across the grain."""
        found = ((self.plan.part(part), f) for op in self.step.operations for part, f in op.features)
        return any(face.axis is part.length_axis for part, f in found if isinstance(f, EdgeProfile) for face in f.edge)

    def runs_out(self) -> Markup:
        """``the back edge of the seat top 21``: long edges without a profile that the bit runs out over at a profiled end; empty for none."""
        told: dict[str, list[str]] = {}
        for ids, profiles in self._by_part(EdgeProfile):
            part = self.plan.part(ids[0])
            cut = {
                face for one in profiles if not one.round_what for face in one.edge if face.axis is not part.thickness
            }
            (across,) = (axis for axis in Axis if axis not in (part.thickness, part.length_axis))
            bare = [face for face in (across.low, across.high) if face not in cut]
            if bare and any(face.axis is part.length_axis for face in cut):
                told.setdefault(sides_together([self.twin_side(ids, part, face) for face in bare]), []).extend(ids)
        return self.fmt.join([Markup("the {} of {}").format(side, self.the_parts(ids)) for side, ids in told.items()])

    def curved_edges(self) -> bool:
        """Whether any edge of the step follows an outline."""
        return any(isinstance(f, EdgeProfile) and f.courses for op in self.step.operations for _, f in op.features)

    def corner_clauses(self) -> Markup:
        """Which corner is cut off each part."""
        clauses = []
        for ids, profiles in self._by_part(EdgeProfile):
            names = list(dict.fromkeys(" ".join(face.value for face in profile.edge) for profile in profiles))
            clauses.append(
                Markup("the {} {} of {}").format(self.fmt.join(names), noun(len(names), "corner"), self.the_parts(ids))
            )
        return self.fmt.join(clauses)
