"""An author's notes that no page prints, as the chapter they hang on has nothing to show in this plan."""

from __future__ import annotations

from drawleaf.book.chapters import CHAPTERS
from drawleaf.book.chapters.context import Book
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.drawings import Drawings


def unprinted_notes(derived: Derived, drawings: Drawings) -> tuple[Diagnostic, ...]:
    """Advice at each note on a chapter that this booklet leaves out. An edition may leave out what a chapter is about, so it is no error."""
    noted = {note.hook for note in derived.plan.notes if note.target == "chapter"}
    if not noted:
        return ()
    book = Book.of(derived, drawings, for_print=False)
    silent = {chapter.id: chapter for chapter in CHAPTERS if chapter.id in noted and chapter.gather(book) is None}
    return tuple(
        Diagnostic(
            "note-unprinted",
            f"This note is not printed: the booklet has no chapter “{silent[note.hook].title}”",
            note.position,
            "A chapter with nothing to show in a plan, or in an edition of it, is left out with its notes.",
            "Hang the note on another chapter, on a step or on a part.",
            severity=Severity.ADVICE,
        )
        for note in derived.plan.notes
        if note.target == "chapter" and note.hook in silent and not note.passing
    )
