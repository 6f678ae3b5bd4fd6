"""What booklets of one plan share: a piece is made once, whoever takes it over hangs on the same things, and only while these stand as they did."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from drawleaf.catalogue.making import Notes
from drawleaf.catalogue.notes import Note
from drawleaf.catalogue.sharing import SharedPieces
from drawleaf.catalogue.states import FIXED
from drawleaf.catalogue.store import Store

HINGE, SCREW = ("entry", "hardware", "hinge"), ("entry", "hardware", "screw")


class Standing:
    """How things stand: each note as it is told here, else as its own name."""

    def __init__(self, **changed: str) -> None:
        self.changed = changed

    def of(self, note: Note) -> str:
        return self.changed.get(note[-1], note[-1])


def begun(pieces: SharedPieces, states: Standing) -> Notes:
    notes = Notes()
    pieces.begin(notes, states)  # type: ignore[arg-type]
    return notes


def drawing_of(notes: Notes, *looked_up: Note) -> Callable[[], str]:
    def draw() -> str:
        for note in looked_up:
            notes.tell(note)
        return "a drawing"

    return draw


def never() -> str:
    raise AssertionError("it was made already")


def test_who_takes_a_piece_over_hangs_on_what_it_hung_on() -> None:
    pieces = SharedPieces()
    first = begun(pieces, Standing())
    first.tell(SCREW)
    assert pieces.get("part", (1, 2), drawing_of(first, HINGE)) == "a drawing"
    second = begun(pieces, Standing())
    assert pieces.get("part", (1, 2), never) == "a drawing"
    assert second.seen - set(FIXED) == {HINGE}, "and not on what was looked up beside it"
    assert (pieces.made, pieces.taken) == (1, 1)


def test_another_process_finds_it_in_the_store(tmp_path: Path) -> None:
    here, there = SharedPieces(Store(tmp_path / "store")), SharedPieces(Store(tmp_path / "store"))
    notes = begun(here, Standing())
    here.get("part", (1, 2), drawing_of(notes, HINGE))
    other = begun(there, Standing())
    assert there.get("part", (1, 2), never) == "a drawing"
    assert HINGE in other.seen


def test_a_stored_piece_of_a_changed_hinge_is_made_again(tmp_path: Path) -> None:
    """Though all that it was given is equal: what it looked up is not."""
    store = Store(tmp_path / "store")
    pieces = SharedPieces(store)
    pieces.get("part", (1, 2), drawing_of(begun(pieces, Standing()), HINGE))
    later = SharedPieces(store)
    notes = begun(later, Standing(hinge="another"))
    later.get("part", (1, 2), drawing_of(notes, HINGE))
    assert (later.made, later.taken) == (1, 0)


def test_a_piece_at_hand_of_a_changed_hinge_is_made_again() -> None:
    """Where it was changed while other booklets of the plan were made."""
    pieces = SharedPieces()
    pieces.get("part", (1, 2), drawing_of(begun(pieces, Standing()), HINGE))
    notes = begun(pieces, Standing(hinge="another"))
    pieces.get("part", (1, 2), drawing_of(notes, HINGE))
    assert (pieces.made, pieces.taken) == (2, 0)


def test_a_broken_piece_is_made_again(tmp_path: Path) -> None:
    store = Store(tmp_path / "store")
    store.get = lambda key: b"no piece"  # type: ignore[method-assign]
    pieces = SharedPieces(store)
    notes = begun(pieces, Standing())
    assert pieces.get("part", (1, 2), drawing_of(notes)) == "a drawing"
