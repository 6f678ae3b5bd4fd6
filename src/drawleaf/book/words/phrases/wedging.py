"""Wedges that are driven through an opening and hold a joint without glue, in words."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.joints import Joints
from drawleaf.book.words.phrases.sides import Side
from drawleaf.book.words.phrases.spots import Measured, spot_words
from drawleaf.english import lower_first
from drawleaf.model.place import Axis, Box
from drawleaf.model.plan import Joint, Part
from drawleaf.setting_out.slants import slants
from drawleaf.units import Length

TOUCH = Length.of_mm(1)
"""Blocks that share no more than this only touch."""


class Wedging(Joints):
    """Phrases for parts that pass through an opening of another."""

    def wedge_lines(self) -> list[Markup]:
        """How a tapered part is driven through the opening of another that stands; nothing where none is."""
        wedges = [part for part in map(self.plan.part, self.op.parts) if _tapered(part)]
        slotted = list(dict.fromkeys(other for wedge in wedges for other in self._passed_through(wedge)))
        joints = [joint for joint in self.op.joints if joint.insert in self.op.parts and not joint.depth]
        if not slotted or len(wedges) < len(self.op.parts) or not joints:
            return []
        many = len(wedges) > 1
        against = Markup("{} of {}").format(
            self._stay_side(joints, joints[0].face.opposite), self.the_parts([joint.receiver for joint in joints])
        )
        drive = Markup(
            "Push {} through the opening{} in {}, thin end first. Keep the straight edge against the {}"
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

    def _passed_through(self, wedge: Part) -> list[str]:
        """The parts whose block it stands in with no joint between: it goes through an opening of theirs."""
        pairs = [{joint.insert, joint.receiver} for joint in self.plan.joints]
        joined = {wedge.id}.union(*(pair for pair in pairs if wedge.id in pair))
        return [other.id for other in self.plan.parts if other.id not in joined and _inside(wedge.body, other.body)]


def _tapered(part: Part) -> bool:
    return any(slant.sort == "taper" for slant in slants(part))


def _inside(one: Box, other: Box) -> bool:
    both = one.overlap(other)
    return both is not None and all(both.extent(axis) > TOUCH for axis in Axis)
