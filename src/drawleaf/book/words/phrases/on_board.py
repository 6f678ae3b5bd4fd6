"""Work along a full board, before short parts are cut off it, in words."""

from __future__ import annotations

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.shop.limits import SHORTEST_RIP
from drawleaf.model.joint_family import CutKind
from drawleaf.model.lists import BoardLayout
from drawleaf.model.plan import BoxCut, EdgeProfile
from drawleaf.model.settings import ChannelSettings, EdgeSettings
from drawleaf.model.steps import Operation
from drawleaf.setting_out.channels import channel_of


class OnBoardWords(Speech):
    """Phrases for what is run along boards."""

    def whole_boards(self) -> Markup:
        """Which boards stay whole, why, and what is cut off them first."""
        own = set(self.op.parts)
        boards = self._whole()
        others = list(dict.fromkeys(piece.part for one in boards for piece in one.placed if piece.part not in own))
        least = min(self.plan.part(one).size[0] for one in own)
        if self._before(self.op.parts[0]):
            return Markup("{} {} stay{} whole for this too.").format(
                "Boards" if len(boards) > 1 else "Board", self.word("boards"), "" if len(boards) > 1 else "s"
            )
        words = Markup(
            "Leave {} {} of the layouts whole until this is done: a part only {} long cannot be held safely by itself."
        ).format("boards" if len(boards) > 1 else "board", self.word("boards"), self.fmt.length(least))
        if others:
            words += Markup(" Cut off first only {}.").format(self.the_parts(others))
        return words

    def board_marks(self) -> Markup:
        """Where a channel lies on the board, from the edge that is its nearer one on every part."""
        name, cut = next((one, feature) for one, feature in self.op.features if isinstance(feature, BoxCut))
        part = self.plan.part(name)
        channel = channel_of(part, cut)
        on_face = cut.into.axis is part.thickness
        several = len(self._whole()) > 1
        where = self._becomes("face" if on_face else "edge")
        where += " of each" if several else ""
        side = "edge" if on_face else "face"
        boards = "boards" if several else "board"
        if cut.kind == CutKind.RABBET or not channel.offset:
            return Markup("along the {}: one line on {}, {} from one {}").format(
                boards, where, self.fmt.length(channel.width), side
            )
        near, far = self.fmt.length(channel.offset), self.fmt.length(channel.offset + channel.width)
        return Markup("along the {}: two lines on {}, {} and {} from one {}").format(boards, where, near, far, side)

    def _becomes(self, word: str) -> str:
        """The face or edge of the board that a channel goes into: what it will be on the parts, where it is the same on all."""
        found = {
            self.twin_side(ids, self.plan.part(ids[0]), cut.into) for ids, cuts in self._by_part(BoxCut) for cut in cuts
        }
        return f"what will be the {found.pop()}" if len(found) == 1 else f"one {word}"

    def board_edges(self) -> Markup:
        """Which edges of the board a profile goes along, and how they lie to a channel that is there already."""
        found = [(one, feature) for one, feature in self.op.features if isinstance(feature, EdgeProfile)]
        name = found[0][0]
        mine = [feature for one, feature in found if one == name]
        words = Markup("{} of {}").format(
            "one edge" if len(mine) == 1 else f"{self.fmt.count_word(len(mine))} edges",
            "each board" if len(self._whole()) > 1 else "the board",
        )
        before = self._channel_before(name)
        if before is None or len(mine) > 1:
            return words
        same_edge = channel_of(self.plan.part(name), before).edge in mine[0].edge
        return words + Markup(", {} the {} and on the {} face,").format(
            "beside" if same_edge else "the one farther from",
            before.kind,
            "same" if before.into in mine[0].edge else "other",
        )

    def too_short_to_hold(self) -> bool:
        """Whether what is cut off a board would be too short to hold by itself."""
        return self.value("stop") < SHORTEST_RIP

    def pieces_cut_off(self) -> Markup:
        """What is cut off a board: parts, or so many strips of a panel."""
        if any(self.plan.part(one).glue_up is None for one in self.op.parts):
            return self.the_parts(self.op.parts)
        count = self.number("count")
        return Markup("{} {} for {}").format(
            self.fmt.count_word(count), "strips" if count > 1 else "strip", self.the_parts(self.op.parts)
        )

    def _whole(self) -> list[BoardLayout]:
        own = set(self.op.parts)
        return [one for one in self.derived.layouts.boards if own & {piece.part for piece in one.placed}]

    def _channel_before(self, part: str) -> BoxCut | None:
        """The channel that an earlier step has run along the same board."""
        cuts = (f for op in self._before(part) for one, f in op.features if one == part and isinstance(f, BoxCut))
        return next(cuts, None)

    def _before(self, part: str) -> list[Operation]:
        """What earlier steps have run along the board that a part is cut from."""
        return [
            op
            for step in self.derived.steps[: self.step.number - 1]
            for op in step.operations
            if isinstance(op.settings, ChannelSettings | EdgeSettings) and op.settings.boards and part in op.parts
        ]
