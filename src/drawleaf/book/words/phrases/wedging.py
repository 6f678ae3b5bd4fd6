"""Wedges that are driven through an opening and hold a joint without glue, in words."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.joints import Joints
from drawleaf.book.words.phrases.sides import Side
from drawleaf.book.words.phrases.spots import Measured, spot_words
from drawleaf.english import lower_first
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part
from drawleaf.model.shapes import PlaneCut

TAPER = "taper"
PAST_MM = 1.0
"""Blocks that share less than this only touch."""


class Wedging(Joints):
    """Phrases for parts that pass through an opening of another."""

    def wedge_lines(self) -> list[Markup]:
        """How a tapered part is driven through the opening of another that stands; nothing where none is."""
        wedges = [self.plan.part(one) for one in self.op.parts if self._tapered(self.plan.part(one))]
        slotted = list(dict.fromkeys(other for wedge in wedges for other in self._passed_through(wedge)))
        joints = [joint for joint in self.op.joints if joint.insert in self.op.parts and not joint.depth]
        if not slotted or len(wedges) < len(self.op.parts) or not joints:
            return []
        many = len(wedges) > 1
        against = Markup("{} of {}").format(
            self._stay_side(joints, joints[0].face.opposite), self.the_parts([joint.receiver for joint in joints])
        )
        drive = Markup(
            "Push {} through the opening{} in {}, thin end first and the straight edge against the {}"
        ).format(self.the_parts(list(self.op.parts)), "s" if many else "", self.the_parts(slotted), against)
        tap = Markup("Tap {} in with the mallet{} until the shoulders of {} are tight and nothing rocks").format(
            "them" if many else "it", " by turns" if many else "", self.the_parts(slotted)
        )
        drawn = self._along(joints)
        return [drive, tap, *([Markup("As drawn, {}").format(drawn)] if drawn else [])]

    def _along(self, joints: Sequence[Joint]) -> Markup | None:
        """How far in a wedge then is, from what can be reached."""
        measured = [one for one in self._spots(joints) if isinstance(one, Measured)]
        spots = [one for one in measured if isinstance(one.mine, Side) and one.mine.kind == "end"]
        return Markup(lower_first(str(spot_words(spots[0], self.fmt)))) if spots else None

    def _tapered(self, part: Part) -> bool:
        return any(isinstance(feature, PlaneCut) and feature.kind == TAPER for feature in part.features)

    def _passed_through(self, wedge: Part) -> list[str]:
        """The parts whose block it stands in with no joint between: it goes through an opening of theirs."""
        joined = {
            one
            for joint in self.plan.joints
            if wedge.id in (joint.insert, joint.receiver)
            for one in (joint.insert, joint.receiver)
        }
        found = []
        for other in self.plan.parts:
            spans = [(wedge.body.span(axis), other.body.span(axis)) for axis in Axis]
            inside = all(min(a.high, b.high).mm - max(a.low, b.low).mm > PAST_MM for a, b in spans)
            if inside and other.id != wedge.id and other.id not in joined:
                found.append(other.id)
        return found
