"""What is worked out of bodies alone is worked out once, also for plans in which some parts are in another state."""

from __future__ import annotations

from typing import Any

OF_SOLIDS = frozenset({"seen", "shape", "cover", "seen faces", "hits", "fastener"})
"""Kinds of memo entries that follow from the solids named in their keys and from nothing else of the plan."""
_SHARED = OF_SOLIDS | {"states", "homes"}


class SharedMemo(dict[Any, Any]):
    """A memo of its own for what follows from the plan; what follows from solids is kept in the memo of another plan."""

    def __init__(self, other: dict[Any, Any]) -> None:
        super().__init__()
        self._other = other

    def __contains__(self, key: Any) -> bool:
        return key in self._other if key[0] in _SHARED else super().__contains__(key)

    def __missing__(self, key: Any) -> Any:
        if key[0] in _SHARED:
            return self._other[key]
        raise KeyError(key)

    def __setitem__(self, key: Any, value: Any) -> None:
        if key[0] in _SHARED:
            self._other[key] = value
        else:
            super().__setitem__(key, value)

    def setdefault(self, key: Any, default: Any = None, /) -> Any:
        if key not in self:
            self[key] = default
        return self[key]
