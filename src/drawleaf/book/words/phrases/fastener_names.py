"""What fasteners are called in a step: short where the step drives no other of the sort, since its list of what one needs has the whole
name."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from drawleaf.book.words.phrases.base import Speech
from drawleaf.english import noun
from drawleaf.model.catalogue import SCREWS, FastenerKind, HardwareItem
from drawleaf.model.plan import Fastener
from drawleaf.units import Units


class FastenerNames(Speech):
    """Phrases that name fasteners."""

    def fastener_words(self) -> Markup:
        """``the 4 #8 x 2 in wood screws``, by item; with what to ask for in a metric shop where millimetres are printed."""
        return self.fmt.join(
            [
                Markup("the {}").format(name)
                if count == 1
                else Markup("the {} {}").format(self.fmt.count_word(count), name)
                for count, name in self._items(self.op.fasteners)
            ]
        )

    def by_item(self, fasteners: Sequence[Fastener]) -> list[Markup]:
        """``four #8 x 2 in wood screws``, for each item among these."""
        return [Markup("{} {}").format(self.fmt.count_word(count), name) for count, name in self._items(fasteners)]

    def _items(self, fasteners: Sequence[Fastener]) -> list[tuple[int, Markup]]:
        """How many there are of each item, and its name for so many."""
        counts: dict[str, int] = {}
        items = {}
        for fastener in fasteners:
            items[fastener.item.id] = fastener.item
            counts[fastener.item.id] = counts.get(fastener.item.id, 0) + 1
        words = []
        for item, count in counts.items():
            metric = f" ({items[item].metric})" if items[item].metric and self.fmt.units is not Units.INCH else ""
            full = Markup("{}{}").format(items[item].name if count == 1 else items[item].plural, metric)
            words.append((count, self._short_name(items[item], count) or full))
        return words

    def _short_name(self, item: HardwareItem, count: int) -> Markup:
        """``screw`` where the step drives no other, or ``2 in screw`` where its length tells it from them: the step's list of what one
        needs has the whole name. Empty where neither does."""
        kind = _short(item)
        driven = {one.item.id: one.item for op in self.step.operations for one in op.fasteners}.values()
        like = [one for one in driven if _short(one) == kind]
        if not kind or len(like) == 1:
            return Markup.escape(noun(count, kind)) if kind else Markup("")
        if self.fmt.units is not Units.INCH or item.length is None or len({one.length for one in like}) < len(like):
            return Markup("")
        return Markup("{} {}").format(self.fmt.length(item.length), noun(count, kind))


def _short(item: HardwareItem) -> str:
    """The sort of a screw or brad in a word or two; empty for what has no shorter name."""
    if item.kind in (FastenerKind.POCKET_SCREW, FastenerKind.BRAD):
        return item.kind
    return "screw" if item.kind in SCREWS else ""
