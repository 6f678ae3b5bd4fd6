"""Caches of what is worked out of solids: each is a typed ``Memo`` that belongs to the module that fills it."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from drawleaf.solids.solid import Solid

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Memo(Generic[K, V]):
    """Results by key, kept with the solids of a plan.

    ``bodies`` gives the solids that a key is about, for results that follow from these alone: they serve every plan that has the same
    solids, and last as long as these do. Without it they are results of one plan.
    """

    def __init__(self, bodies: Callable[[K], Iterable[Solid]] | None = None) -> None:
        self._bodies = bodies

    def all(self, memos: Memos) -> dict[K, V]:
        """All results so far, to be added to."""
        kept = memos.own if self._bodies is None else memos.of_bodies
        return kept.setdefault(self, {})

    def get(self, memos: Memos, key: K, make: Callable[[], V]) -> V:
        """The result of that key, made where there is none yet."""
        results = self.all(memos)
        if key not in results:
            results[key] = make()
        return results[key]

    def about(self, results: dict[K, V], live: set[int]) -> dict[K, V]:
        """Those of the results whose solids are all among the live ones, which are given by ``id``."""
        bodies = self._bodies
        assert bodies is not None
        return {key: value for key, value in results.items() if all(id(one) in live for one in bodies(key))}


@dataclass(frozen=True, eq=False, slots=True)
class Memos:
    """All results of one plan (``own``), and those about solids, which it may share with other plans (``of_bodies``)."""

    own: dict[Memo[Any, Any], dict[Any, Any]] = field(default_factory=dict)
    of_bodies: dict[Memo[Any, Any], dict[Any, Any]] = field(default_factory=dict)

    def beside(self) -> Memos:
        """For a plan in which some parts are in another state: what is worked out of bodies alone is shared."""
        return Memos({}, self.of_bodies)

    def only(self, live: Iterable[Solid]) -> Memos:
        """For a plan that was changed: the results about solids that are still there."""
        ids = {id(solid) for solid in live}
        return Memos({}, {memo: memo.about(results, ids) for memo, results in self.of_bodies.items()})
