"""The price book: several files laid over one another, asked for one price at a time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from drawleaf.model.catalogue import PriceBook
from drawleaf.source.library_lengths import DataProblem, price_at
from drawleaf.source.library_models import PriceBookEntry
from drawleaf.units import Length

Keys = tuple[str, ...]

SECTIONS = ("sheets", "boards", "hardware", "consumables", "finishes")
NO_PRICES = PriceBook(currency="", date="", note="")


@dataclass(slots=True)
class Prices:
    """What things cost: the text that was written, by section and names, with the file it is in.

    ``problems`` collects prices that cannot be read; ``asked`` which were looked for, so that what fits nothing can be reported.
    """

    book: PriceBook = NO_PRICES
    written: dict[Keys, tuple[str, str]] = field(default_factory=dict)
    asked: set[Keys] = field(default_factory=set)
    problems: list[tuple[str, DataProblem]] = field(default_factory=list)

    def lay_over(self, entry: PriceBookEntry, file: str) -> None:
        """A later book replaces prices by name. One in another currency replaces all, as the two cannot be added up."""
        if entry.currency != self.book.currency:
            self.written.clear()
        self.book = PriceBook(entry.currency, entry.date, entry.note)
        for section in SECTIONS:
            for keys, text in _leaves(getattr(entry, section), (section,)):
                self.written[keys] = (text, file)

    def of(self, *keys: str, length: Length | None = None) -> Fraction | None:
        """The price noted under these names, or None. ``length`` is what a price by length is for."""
        self.asked.add(keys)
        if keys not in self.written:
            return None
        text, file = self.written[keys]
        try:
            return price_at(text, length, *keys)
        except DataProblem as problem:
            self.problems.append((file, problem))
            return None

    def unasked(self) -> tuple[tuple[Keys, str], ...]:
        """Prices noted for what is not in the catalogue, with their file."""
        return tuple((keys, file) for keys, (_, file) in self.written.items() if keys not in self.asked)


def _leaves(tree: dict[str, Any], path: Keys) -> Iterator[tuple[Keys, str]]:
    for key, value in tree.items():
        if isinstance(value, dict):
            yield from _leaves(value, (*path, key))
        else:
            yield (*path, key), value
