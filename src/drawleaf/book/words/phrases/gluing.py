"""How long glue stays open, and how one works where that is too short for all of it."""

from __future__ import annotations

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.shop.open_time import joint_goes, panel_goes, too_long
from drawleaf.derive.shop.times import clamp_hours
from drawleaf.model.settings import RipSettings


class Gluing(Speech):
    """Phrases for the time that glue gives."""

    def open_words(self) -> Markup:
        """``You have about 5 minutes``; and how to work in several goes where they are too few."""
        time = Markup("You have {}").format(self.open_time)
        goes = joint_goes(self.plan, self.op)
        if len(goes) > 1:
            first, *rest = (self.the_parts(list(go)) for go in goes)
            later = Markup(", then ").join(rest)
            return time + Markup(", too few for all at once: spread, set and close {} first, then {}").format(
                first, later
            )
        if too_long(self.plan, self.op, self.op.parts):
            return time + Markup(
                ", which is tight for so much glue: let someone spread it with you, or take a glue that stays open longer"
            )
        return time

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
            ", too few for {} seams: glue {} into {} pieces first, one after the other. When the clamps have been on for {}, glue "
            "these together in the same way"
        ).format(
            self.fmt.count_word(sum(goes) - 1), self.fmt.join(names), self.fmt.count_word(len(goes)), self.clamp_time
        )
