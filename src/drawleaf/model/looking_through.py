"""Questions that go through all entries of the shared catalogue.

What a booklet hangs on is noted while it is made: an entry that is looked up by its id hangs on that entry alone. Who looks through a
kind of entries asks here, so that the booklet hangs on the answer, and not on every entry that was passed over.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.hardware_family import HARDWARE_FAMILIES
from drawleaf.model.tools import KindOfWork, Tool

Given = tuple[str, ...]


def of_kinds(hardware: Mapping[str, HardwareItem], *kinds: str) -> tuple[HardwareItem, ...]:
    """The items of these kinds, in the catalogue's order."""
    return _asked(hardware, "items of the kind", tuple(str(kind) for kind in kinds))


def hole_linings(hardware: Mapping[str, HardwareItem]) -> tuple[HardwareItem, ...]:
    """The items that line a hole, in the catalogue's order."""
    return of_kinds(hardware, *(family.key for family in HARDWARE_FAMILIES if family.lines_hole))


def tools_at_hand(tools: Mapping[str, Tool]) -> frozenset[str]:
    """The tools that every shop has."""
    return frozenset(_asked(tools, "tools that every shop has", ()))


def tools_that_square(tools: Mapping[str, Tool]) -> frozenset[str]:
    """The tools that square a round corner."""
    return frozenset(_asked(tools, "tools that square a corner", ()))


def in_their_order(tools: Mapping[str, Tool], names: frozenset[str]) -> tuple[str, ...]:
    """These tools in the catalogue's order, those that it has not at the end."""
    return _asked(tools, "the order of the tools", tuple(sorted(names)))


def named_by_a_way(methods: Mapping[str, KindOfWork], tools: frozenset[str]) -> frozenset[str]:
    """Those of these tools that some way of working names."""
    return frozenset(_asked(methods, "tools named by a way of working", tuple(sorted(tools))))


def answer(entries: Mapping[str, Any], question: str, given: Given) -> Any:
    """The answer to a question that was noted, from entries as they are now."""
    return _QUESTIONS[question](entries, given)


def _asked(entries: Mapping[str, Any], question: str, given: Given) -> Any:
    """The answer; entries that note what they are asked answer themselves."""
    noting = getattr(entries, "asked", None)
    return answer(entries, question, given) if noting is None else noting(question, given)


def _of_kinds(entries: Mapping[str, Any], kinds: Given) -> tuple[HardwareItem, ...]:
    return tuple(item for item in entries.values() if item.kind in kinds)


def _in_order(entries: Mapping[str, Any], names: Given) -> tuple[str, ...]:
    known = [name for name in entries if name in names]
    return (*known, *(name for name in names if name not in entries))


def _named(entries: Mapping[str, Any], tools: Given) -> tuple[str, ...]:
    named = {one for work in entries.values() for way in work.ways for one in way.tools}
    return tuple(tool for tool in tools if tool in named)


_QUESTIONS: dict[str, Callable[[Mapping[str, Any], Given], Any]] = {
    "items of the kind": _of_kinds,
    "tools that every shop has": lambda tools, _: tuple(sorted(one.id for one in tools.values() if one.at_hand)),
    "tools that square a corner": lambda tools, _: tuple(sorted(one.id for one in tools.values() if one.squares)),
    "the order of the tools": _in_order,
    "tools named by a way of working": _named,
}
