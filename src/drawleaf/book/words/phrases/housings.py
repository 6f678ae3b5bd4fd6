"""Housings in words: where their lines are drawn, and for what."""

from __future__ import annotations

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.joinery.housing.bench import housing_of
from drawleaf.model.shapes import OutlineCut


class Housings(Speech):
    """Phrases for channels at an angle."""

    def joint_inserts(self) -> Markup:
        """The parts that go into this operation's housings: ``the Shelf 3``."""
        joints = {cut.joint for _, cut in self.op.features if isinstance(cut, OutlineCut)}
        return self.the_parts([joint.insert for joint in self.plan.joints if joint.id in joints])

    def housing_marks(self) -> list[Markup]:
        """One line for each kind of part: the lower line from mark to mark, the upper one beside it."""
        lines = []
        for ids, cuts in self._by_part(OutlineCut):
            part = self.plan.part(ids[0])
            for cut in cuts:
                one = housing_of(part, cut)
                (a, b), (c, d) = one.marks
                edge, end = self.side(part, one.edge), self.side(part, one.end)
                lines.append(
                    Markup(
                        "On {}, mark two points on the {}: {} from the {} and {} from the {}, then {} and {} from the same. Draw the "
                        "line through both from edge to edge, and a second one {} above it."
                    ).format(
                        self.the_parts(ids),
                        self.side(part, cut.into),
                        self.fmt.length(a),
                        edge,
                        self.fmt.length(b),
                        end,
                        self.fmt.length(c),
                        self.fmt.length(d),
                        self.fmt.length(one.width),
                    )
                )
        return lines

    def is_stopped(self) -> bool:
        """Whether a housing of this operation ends short of an edge."""
        return any(
            housing_of(self.plan.part(part), cut).stopped
            for part, cut in self.op.features
            if isinstance(cut, OutlineCut)
        )
