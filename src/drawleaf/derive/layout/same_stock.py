"""Stocks that are one thing at the store: one plain and one run to a profile, or one under another name, come from the same boards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drawleaf.model.catalogue import Stock


@dataclass(frozen=True, slots=True)
class Bought:
    """What is bought as one: the stock as the lists call it, and the ids of the plan's stocks that come from it."""

    stock: Stock
    ids: frozenset[str]


def bought_together(stocks: Sequence[Stock]) -> tuple[Bought, ...]:
    """The plan's stocks, those of one material, size and condition together, in the order in which the plan first names each.

    Where names differ it is called what its material is called; what their notes ask for is asked of all.
    """
    groups: dict[tuple[object, ...], list[Stock]] = {}
    for stock in stocks:
        groups.setdefault(_at_the_store(stock), []).append(stock)
    return tuple(Bought(_together(group), frozenset(stock.id for stock in group)) for group in groups.values())


def _at_the_store(stock: Stock) -> tuple[object, ...]:
    """All by which a store, and the shop's first step, tells one stock from another."""
    return (
        stock.material.id,
        stock.nominal,
        stock.thickness,
        stock.width,
        stock.sheets,
        stock.boards,
        stock.uncommon,
        stock.at_yard,
        stock.as_bought,
        stock.defects,
    )


def _together(group: Sequence[Stock]) -> Stock:
    first = group[0]
    if len(group) == 1:
        return first
    names = {stock.name for stock in group}
    notes = dict.fromkeys(stock.note for stock in group if stock.note)
    profiles = {stock.profile for stock in group}
    return replace(
        first,
        name=first.name if len(names) == 1 else first.material.name,
        note=" ".join(notes),
        profile=first.profile if len(profiles) == 1 else "",
    )
