"""Ways of working and kits from the data files: what each method takes, what a buyer owns."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drawleaf.model.tool_sets import Kit, KitClamps
from drawleaf.model.tools import KindOfWork, Way
from drawleaf.source.library_lengths import DataProblem, length_at
from drawleaf.source.library_models import KitEntry, MethodEntry
from drawleaf.source.library_prices import Prices
from drawleaf.source.names import did_you_mean


def method(name: str, entry: MethodEntry, prices: Prices) -> KindOfWork:
    """A kind of work with its ways."""
    ways = tuple(
        Way(way.name, tuple(way.tools), tuple(way.uses), way.pace, way.note, practiced=way.practiced)
        for way in entry.ways
    )
    return KindOfWork(name, entry.once, entry.each, ways, entry.lesson or "")


def kits(entries: Mapping[str, KitEntry]) -> Iterator[Kit | tuple[str, DataProblem]]:
    """The kits, each after the one that it is like; or a kit's name and what is wrong with it."""
    made: dict[str, Kit] = {}
    waiting = dict(entries)
    while waiting:
        ready = [name for name, entry in waiting.items() if entry.like is None or entry.like in made]
        if not ready:
            for name, entry in waiting.items():
                mend = did_you_mean(entry.like or "", [*made, *waiting], otherwise="Name one of the tool sets.")
                yield name, DataProblem(("like",), f"“{entry.like}” is no tool set that this one can be like", mend)
            return
        for name in ready:
            try:
                made[name] = _kit(name, waiting.pop(name), made)
                yield made[name]
            except DataProblem as problem:
                yield name, problem


def _kit(name: str, entry: KitEntry, made: Mapping[str, Kit]) -> Kit:
    """One kit. Raises DataProblem."""
    base = made.get(entry.like) if entry.like else None
    tools = (base.tools if base else frozenset()) | frozenset(entry.tools)
    clamps = tuple(
        KitClamps(one.count, length_at(one.opening, "clamps", index, "opening"))
        for index, one in enumerate(entry.clamps)
    )
    if entry.straightedge is not None:
        straightedge = length_at(entry.straightedge, "straightedge")
    else:
        straightedge = base.straightedge if base else None
    return Kit(
        id=name,
        name=entry.name,
        summary=entry.summary,
        tools=tools - frozenset(entry.without),
        clamps=clamps or (base.clamps if base else ()),
        straightedge=straightedge,
    )
