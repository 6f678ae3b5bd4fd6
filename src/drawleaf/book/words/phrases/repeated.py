"""A step that is done several times alike: how often, for what, and which parts are others there."""

from __future__ import annotations

import re
from collections.abc import Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.derive.shop.part_words import merged_name
from drawleaf.english import count_words, definite, listed, lower_first

_NUMBERED = re.compile(r"(.*\D)(\d+)")
_RUN = 3
"""So many names in a row, each with the next number, are told by the first and the last."""


class Repeated(Speech):
    """What is told of the copies of a step."""

    @property
    def times(self) -> str:
        """``twice``; ``six times``."""
        count = len(self.step.copies)
        return "twice" if count == 2 else f"{count_words(count)} times"

    @property
    def same_to(self) -> Markup:
        """The parts that the work is done to besides, where these are of several assemblies; empty where each copy has its own."""
        if all(one.assembly for one in self.step.copies):
            return Markup("")
        own = {name for one in self.step.copies[1:] for name in one.operations}
        return self.the_parts(tuple(dict.fromkeys(p for op in self.step.operations if op.id in own for p in op.parts)))

    @property
    def copied_for(self) -> str:
        """The assemblies that it is done for, with their article; empty where it is done more than once in one."""
        homes = [one.assembly for one in self.step.copies]
        return definite(listed(self._names(homes))) if len(set(homes)) == len(homes) else ""

    @property
    def drawn_for(self) -> str:
        """The assembly that the drawing shows, with its article; empty where there is no drawing or nothing to choose from."""
        if not self.copied_for or self.step.scene is None:
            return ""
        return definite(self.plan.assembly(self.step.copies[0].assembly).name.lower())

    def other_parts(self) -> list[Markup]:
        """``case 5: part 7 in place of part 3``, for each set of copies that has other parts than those drawn."""
        first, *others = self.step.copies
        homes: dict[tuple[tuple[int, int], ...], list[str]] = {}
        for copy in others:
            pairs = zip(self._numbers(first.parts), self._numbers(copy.parts), strict=False)
            changed = tuple(dict.fromkeys(pair for pair in pairs if pair[0] != pair[1]))
            if changed:
                homes.setdefault(changed, []).append(copy.assembly)
        return [
            Markup("For {}: {}").format(
                definite(listed(self._names(copies))),
                self.fmt.join([self._swap(here, there) for here, there in changed]),
            )
            for changed, copies in homes.items()
        ]

    def _swap(self, here: int, there: int) -> Markup:
        """``part 7 in place of part 3``, with their balloons."""
        balloon = '<span class="balloon">{}</span>'
        return Markup(f"part {balloon} in place of part {balloon}").format(there, here)

    def _numbers(self, parts: Sequence[str]) -> list[int]:
        return [self.derived.cut_list.item_of(part).number for part in parts]

    def _names(self, assemblies: Sequence[str]) -> list[str]:
        """Their names; a row of them that only count on is told by its ends."""
        names = [lower_first(self.plan.assembly(one).name) for one in assemblies]
        found: list[list[str]] = []
        for name in names:
            if found and _next_to(found[-1][-1], name):
                found[-1].append(name)
            else:
                found.append([name])
        told: list[str] = []
        for run in found:
            told += [self.words.tell("{} to {}", run[0], run[-1])] if len(run) >= _RUN else run
        return told if len(told) < len(names) or len(names) < _RUN else [merged_name(names)]


def _next_to(one: str, other: str) -> bool:
    a, b = _NUMBERED.fullmatch(one), _NUMBERED.fullmatch(other)
    return a is not None and b is not None and a[1] == b[1] and int(b[2]) == int(a[2]) + 1
