"""How long glue stays open, and how one works where that is too short for all of it."""

from __future__ import annotations

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.shop.clamps import clamp_goes, clamps_of, pressed_along, stays_clamped
from drawleaf.derive.shop.methods import kit_of
from drawleaf.derive.shop.open_time import closed_together, closing_minutes, joint_goes, panel_goes, too_long
from drawleaf.derive.shop.times import clamp_hours, open_minutes
from drawleaf.model.plan import Joint
from drawleaf.model.settings import RipSettings
from drawleaf.model.steps import Operation
from drawleaf.units import Length

_TIGHT = ", which is tight for so much glue. Let someone spread it with you, or take a glue that stays open longer"

CAULS_APART = 24
"""Inches between two cauls of a long panel. One twice as long needs none but those at its ends: common practice, no source."""


class Gluing(Speech):
    """Phrases for the time that glue gives."""

    def open_words(self) -> Markup:
        """``You have about 5 minutes``; and how to work in several goes where they are too few."""
        time = Markup("You have {}").format(self.open_time)
        goes = joint_goes(self.plan, self.op)
        if len(goes) > 1:
            first, *rest = (self.the_parts(list(go)) for go in goes)
            later = Markup(", then ").join(rest)
            return time + Markup(", too few for all at once. Spread, set and close {} first, then {}").format(
                first, later
            )
        stages = clamp_goes(self.plan, self.op)
        if len(stages) > 1:
            first, *rest = (self.the_parts(list(go)) for go in stages)
            return time + Markup(
                ". Your clamps hold {} at a time: {} first. When the clamps have been on for {}, go on with {}"
            ).format(
                "one" if len(stages[0]) == 1 else self.fmt.count_word(len(stages[0])),
                first,
                self.clamp_time,
                Markup(", and as long after that ").join(rest),
            )
        if too_long(self.plan, self.op, self.op.parts):
            return time + Markup(_TIGHT)
        return time

    @property
    def one_go(self) -> str:
        """``Work in one go``; where the step makes several bodies, one after the other."""
        several = len(closed_together(self._clamped())) > 1
        return "Glue each in one go, one after the other" if several else "Work in one go"

    def all_open_words(self) -> Markup:
        """The same for all that a step closes together under the same clamps."""
        together = self._clamped()
        each = " for each" if len(closed_together(together)) > 1 else ""
        time = Markup("You have {}{}").format(self.open_time, each)
        if closing_minutes(together) <= open_minutes(self.plan.catalogue):
            return time
        return time + Markup(_TIGHT)

    def _clamped(self) -> list[Operation]:
        """What the step glues and clamps until it has set."""
        return [op for op in self.step.operations if stays_clamped(op)]

    def _clamped_joints(self) -> list[Joint]:
        """The glued joints of the step that clamps hold; a round end holds in its hole."""
        joints = (joint for op in self._clamped() for joint in op.joints)
        return [joint for joint in joints if joint.glued and not joint.family.square_end]

    def press_words(self) -> Markup:
        """`` along the Front apron 3, from outside to outside``: where each clamp presses along a part; empty where some press otherwise."""
        joints = self._clamped_joints()
        along = [part for joint in joints if (part := pressed_along(self.plan, joint)) is not None]
        if not joints or len(along) < len(joints):
            return Markup("")
        named = self._each_named(along)
        words = (
            " along {}, from outside to outside" if len(named) < 3 else ", from outside to outside. Set them along {}"
        )
        return Markup(words).format(self.fmt.join(named))

    def wedge_words(self) -> Markup:
        """How a clamp holds on a face that leans away from it; empty where all are square."""
        leaning = [joint.receiver for joint in self._clamped_joints() if self._leans(joint)]
        if not leaning:
            return Markup("")
        return Markup(
            " A jaw slides off a face that leans. Lay the offcuts of the angled ends as wedges under the jaws on {}."
        ).format(self.the_parts(leaning))

    def _leans(self, joint: Joint) -> bool:
        tilt = self.plan.part(joint.receiver).tilt
        return tilt is not None and any(face.axis is joint.face.axis for face, _ in tilt.lean)

    def reach_words(self) -> Markup:
        """What to do where the work is longer than the longest clamp of the tool set; empty where one reaches."""
        owned = [own.opening for own in kit_of(self.plan).clamps]
        most = max((use.opening for use in clamps_of(self.plan, self.step.operations)), default=None)
        if not owned or most is None or most <= max(owned):
            return Markup("")
        return Markup(
            " They must open {}. Hook two shorter ones together head to head, or pull with a loop of rope twisted tight with a stick."
        ).format(self.fmt.length(most))

    def rest_words(self) -> Markup:
        """``Let the glue set for 12 hours in all before you go on.``: the step's wait, where it is longer than the clamps stay on."""
        if self.step.wait_hours <= clamp_hours(self.plan.catalogue):
            return Markup("")
        return Markup("Let the glue set for {} in all before you go on.").format(self.hours(self.step.wait_hours))

    def any_strips(self) -> bool:
        """Whether any operation of the step makes strips for a panel."""
        return any(isinstance(op.settings, RipSettings) and op.settings.strips for op in self.step.operations)

    def milled_edges(self) -> bool:
        """Whether the strips are as wide as their boards, so that no seam is sawn."""
        ids = set(self.op.parts)
        return all(
            one.width == board.board.width
            for board in self.derived.layouts.boards
            for one in board.placed
            if one.part in ids
        )

    def more_cauls(self) -> Markup:
        """`` and across the middle``: where cauls keep the strips of a long panel level, besides those at its ends."""
        lengths = self.value("rough_length").ratio(Length.of_inches(CAULS_APART))
        if lengths <= 2:
            return Markup("")
        if lengths <= 3:
            return Markup(" and across the middle")
        return Markup(" and across it about every {}").format(self.about(CAULS_APART))

    def panel_open_words(self) -> Markup:
        """The same for the strips of a panel."""
        time = Markup("You have {}").format(self.open_time)
        goes = panel_goes(self.plan, self.plan.part(self.op.parts[0]))
        if len(goes) < 2:
            return time
        names, first = [], 1
        for count in goes:
            names.append(f"strip {first}" if count == 1 else f"strips {first} to {first + count - 1}")
            first += count
        return time + Markup(
            ", too few for {} seams. Glue {} into {} pieces first, one after the other. When the clamps have been on for {}, glue "
            "these together in the same way"
        ).format(
            self.fmt.count_word(sum(goes) - 1), self.fmt.join(names), self.fmt.count_word(len(goes)), self.clamp_time
        )
