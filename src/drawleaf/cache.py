"""What a session keeps between compiles: results by what they were made from.

A plan that is worked on is compiled again and again with little changed. Work that takes long asks here first, under a key that
holds all that the result follows from. Keys are fingerprints of values, blind to where in a file something was written, so that a new line of
comment changes nothing. A compile from the command line keeps nothing (``NOTHING_KEPT``) and computes the very same.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from hashlib import blake2b
from typing import Any, TypeVar

from drawleaf.model.position import Position
from drawleaf.units import Length

T = TypeVar("T")


class Kept:
    """Results of this round and of the rounds just before; unused results are dropped after ``rounds`` compiles."""

    def __init__(self, rounds: int = 3) -> None:
        self._rounds = rounds
        self._now = 0
        self._results: dict[Hashable, tuple[int, Any]] = {}
        self._fingerprints = Fingerprints()
        self._news: dict[Hashable, Any] = {}

    def next_round(self) -> None:
        """Begin a compile. Forgets what was not used recently."""
        self._now += 1
        self._news = {}
        self._fingerprints = Fingerprints()
        self._results = {
            key: (used, one) for key, (used, one) in self._results.items() if used > self._now - self._rounds
        }

    def get(self, kind: str, made_from: Any, make: Callable[[], T]) -> T:
        """The result that was made from equal values, or a new one."""
        key = (kind, self._fingerprints.of(made_from))
        found = self._results.get(key)
        result = make() if found is None else found[1]
        if found is None:
            self._news[key] = result
        self._results[key] = (self._now, result)
        return result

    def holds(self, kind: str, made_from: Any) -> bool:
        """Whether the result is at hand."""
        return (kind, self._fingerprints.of(made_from)) in self._results

    def copy(self) -> Kept:
        """Another that begins with all that this one holds, and goes on by itself."""
        other = Kept(self._rounds)
        other._now, other._results = self._now, dict(self._results)
        return other

    def news(self) -> dict[Hashable, Any]:
        """What was made in this round since this was last asked, for another ``Kept``."""
        news, self._news = self._news, {}
        return news

    def add(self, results: Mapping[Hashable, Any]) -> None:
        """Take over what another has made."""
        for key, result in results.items():
            self._results.setdefault(key, (self._now, result))

    def __len__(self) -> int:
        return len(self._results)


class _NothingKept(Kept):
    """For a single compile."""

    def get(self, kind: str, made_from: Any, make: Callable[[], T]) -> T:
        return make()

    def holds(self, kind: str, made_from: Any) -> bool:
        return False


class Fingerprints:
    """Short keys of frozen values; values that are met again are not walked again."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[Any, bytes]] = {}
        self._fields: dict[type, tuple[str, ...]] = {}

    def of(self, value: Any) -> bytes:
        """Equal for equal values, whatever positions they carry. Raises TypeError for what is no plain value."""
        match value:
            case None | str() | int() | float() | bytes():
                return f"{type(value).__name__}:{value!r}".encode()
            case Enum():
                return f"{type(value).__name__}.{value.name}".encode()
            case Length():
                return f"L{value.exact_mm}".encode()
        known = self._known.get(id(value))
        if known is None:
            known = self._known[id(value)] = (value, self._walked(value))
        return known[1]

    def _walked(self, value: Any) -> bytes:
        kind = type(value)
        if kind is Position:
            return b"@"
        if is_dataclass(value):
            names = self._fields.get(kind)
            if names is None:
                names = self._fields[kind] = tuple(one.name for one in fields(value) if one.compare)
            pieces = [self.of(getattr(value, name)) for name in names]
        elif isinstance(value, tuple | list):
            pieces = [self.of(one) for one in value]
        elif isinstance(value, Mapping):
            pieces = [piece for name, one in value.items() for piece in (self.of(name), self.of(one))]
        elif isinstance(value, frozenset | set):
            pieces = sorted(self.of(one) for one in value)
        elif hasattr(value, "numerator"):
            pieces = [str(value).encode()]
        else:
            raise TypeError(f"no fingerprint of a {kind.__name__}")
        digest = blake2b(kind.__name__.encode(), digest_size=16)
        for piece in pieces:
            digest.update(len(piece).to_bytes(4, "little"))
            digest.update(piece)
        return digest.digest()


NOTHING_KEPT: Kept = _NothingKept()
