"""What the booklets of one plan share: layouts and drawings that are the same, and solids with all that was seen of them.

A drawing follows from the values that it is made from, and from what making it looked up. Both are kept with it: whoever takes it over hangs on the same things, and takes it
over only while they stand as they did. What is shared lies in the store too, where other processes and later runs find it.
"""

from __future__ import annotations

import pickle
import zlib
from collections.abc import Callable, Hashable
from pathlib import Path
from typing import Any, Protocol, TypeVar

from drawleaf.cache import Kept
from drawleaf.catalogue.notes import Note
from drawleaf.catalogue.states import PlanStates, own_state
from drawleaf.catalogue.store import Store
from drawleaf.model.plan import Plan
from drawleaf.solids.again import build_again
from drawleaf.solids.build import Solids, build_solids

T = TypeVar("T")
_ROUNDS = 1000
"""Nothing is dropped as long as booklets of the same plan are made."""


class Noted(Protocol):
    """Notes of one booklet."""

    def tell(self, note: Note) -> None: ...
    def part(self) -> Any: ...


class SharedPieces(Kept):
    """Layouts and drawings of one plan's booklets, with what each hangs on."""

    def __init__(self, store: Store | None = None) -> None:
        super().__init__(_ROUNDS)
        self._store = store
        self._hung: dict[Hashable, dict[Note, str]] = {}
        self._notes: Noted | None = None
        self._states: PlanStates | None = None
        self.taken = self.made = 0
        """How many pieces were taken over, and how many made."""

    def begin(self, notes: Noted, states: PlanStates) -> None:
        """The next booklet, whose notes are taken here; ``states`` tell how things stand for it."""
        self.next_round()
        self._notes, self._states = notes, states

    def get(self, kind: str, made_from: Any, make: Callable[[], T]) -> T:
        """The piece that was made from equal values and still hangs on the same, or a new one."""
        assert self._notes is not None
        assert self._states is not None
        key = (kind, self._fingerprints.of(made_from))
        if self._stands(key) or self._stored(key):
            self.taken += 1
            result = self._results[key][1]
            self._results[key] = (self._now, result)
            for note in self._hung[key]:
                self._notes.tell(note)
            return result
        self.made += 1
        with self._notes.part() as seen:
            result = make()
        self._results[key] = (self._now, result)
        self._hung[key] = {note: self._states.of(note) for note in seen}
        if self._store is not None:
            self._store.put(_name(key), zlib.compress(pickle.dumps((self._hung[key], result)), 1))
        return result

    def _stands(self, key: tuple[str, bytes]) -> bool:
        """Whether a piece is at hand, and all that it hung on stands as it did."""
        assert self._states is not None
        if key not in self._results:
            return False
        return all(self._states.of(note) == state for note, state in self._hung[key].items())

    def _stored(self, key: tuple[str, bytes]) -> bool:
        """Whether the store has such a piece, which is then at hand."""
        if self._store is None or (text := self._store.get(_name(key))) is None:
            return False
        try:
            self._hung[key], result = pickle.loads(zlib.decompress(text))
            self._results[key] = (self._now, result)
            return self._stands(key)
        except Exception:  # whatever a broken piece gives, it is made again
            self._results.pop(key, None)
            return False


class Bench:
    """Where the booklets of a plan are made one after the other, as long as the next is of the same plan."""

    def __init__(self, store: Store | None = None) -> None:
        self._store = store
        self._folder: Path | None = None
        self._last: Solids | None = None
        self.pieces = SharedPieces(store)

    def begin(self, folder: Path, notes: Noted, states: PlanStates) -> SharedPieces:
        """The next booklet, of the plan in a folder: the pieces that it may take over."""
        if folder != self._folder:
            self._folder, self._last, self.pieces = folder, None, SharedPieces(self._store)
        self.pieces.begin(notes, states)
        return self.pieces

    def solids(self, plan: Plan) -> Solids:
        """The solids of a plan, those that are as in the last booklet taken over."""
        self._last = build_solids(plan) if self._last is None else build_again(self._last, plan)
        return self._last


def _name(key: tuple[str, bytes]) -> str:
    return f"piece {own_state()} {key[0]} {key[1].hex()}"
