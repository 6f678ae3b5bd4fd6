"""The Markdown files and pictures that notes and covers name: inside the plan's folder, and there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.note_pictures import file_named, is_elsewhere, pictures_in
from drawleaf.raster import LARGEST_BYTES, SUFFIXES, why_not
from drawleaf.source.library import shown
from drawleaf.source.models import CoverEntry, NoteEntry, PlanSource
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Positions
from drawleaf.source.text_files import forbidden_in, lines_of, read_text

_LONGEST_NAME = 200
PICTURES = tuple(SUFFIXES)
_COVER = "cover"
"""What a picture beside the plan is called that goes on the cover by itself."""


def read_notes(
    plan: PlanSource, folder: Path, positions: Positions
) -> tuple[PlanSource, dict[str, str], tuple[Diagnostic, ...]]:
    """The plan with the words of its note files in their notes, the texts of these files, and what is wrong with them."""
    reader = _Notes(folder, positions)
    plan = reader.covered(plan)
    notes = [reader.filled(note) for note in plan.notes]
    editions = {
        name: edition.model_copy(update={"notes": [reader.filled(note) for note in edition.notes]})
        for name, edition in plan.editions.items()
    }
    return plan.model_copy(update={"notes": notes, "editions": editions}), reader.texts, tuple(reader.found)


class _Notes:
    """Reads the files that notes name, once each."""

    def __init__(self, folder: Path, positions: Positions) -> None:
        self.folder, self.positions = folder, positions
        self.texts: dict[str, str] = {}
        self.found: list[Diagnostic] = []

    def covered(self, plan: PlanSource) -> PlanSource:
        """The plan with the picture of its cover: the one that it names, or one beside it that is called cover."""
        if plan.cover is None:
            names = (f"{_COVER}{suffix}" for suffix in PICTURES)
            beside = next((name for name in names if file_named(self.folder.resolve(), name)), None)
            if beside is not None:
                self._picture(beside, self.positions.of(plan.source_file, ("plan",)))
                plan = plan.model_copy(update={"cover": CoverEntry(picture=beside)})
        else:
            self._picture(plan.cover.picture, self.positions.of(plan.source_file, (*plan.cover.path, "picture")))
        for edition in plan.editions.values():
            if edition.cover is not None:
                at = self.positions.of(edition.source_file, (*edition.cover.path, "picture"))
                self._picture(edition.cover.picture, at)
        return plan

    def filled(self, note: NoteEntry) -> NoteEntry:
        """The note with the words of its file; with none where these cannot be read, which is reported here alone."""
        if note.picture is not None:
            self._picture(note.picture, self._at(note, "picture"))
        if note.text is not None and note.file is not None:
            mend = "Keep one: put the words in the file, or delete “file”."
            self._tell("note-twice", "a note has both “text” and “file”", self._at(note, "file"), "", mend)
        if note.text is not None:
            self._pictures_in(note.text, self._at(note, "text"), None)
        elif note.file is not None:
            words = self._words(note.file, self._at(note, "file"))
            return note.model_copy(update={"text": words or ""})
        elif note.picture is None:
            mend = "Write “text”, “file” or “picture”."
            self._tell("empty-note", "this note says nothing", self._at(note), "", mend)
            return note.model_copy(update={"text": ""})
        return note

    def _at(self, note: NoteEntry, *keys: str) -> Position:
        return self.positions.of(note.source_file, (*note.path, *keys))

    def _tell(self, code: str, message: str, position: Position, cause: str, mend: str) -> None:
        self.found.append(Diagnostic(code, message, position, cause, mend))

    def _words(self, name: str, position: Position) -> str | None:
        path = self._inside(name, position)
        if path is None:
            return None
        if path.suffix.lower() not in (".md", ".markdown", ".txt"):
            cause = "Notes are Markdown."
            self._tell(
                "not-markdown", f"“{name}” is no Markdown file", position, cause, "Give it a name that ends in .md."
            )
            return None
        file = shown(path)
        text, mistakes = read_text(path, file)
        self.found.extend(mistakes)
        if text is not None:
            self.texts[file] = text
            self._pictures_in(text, position, file)
        return text

    def _pictures_in(self, text: str, position: Position, file: str | None) -> None:
        """Checks the pictures that Markdown shows, at their own place where they are in a file."""
        for line, column, name in _picture_links(text):
            at = Position(file, line, column, len(name)) if file else position
            self._picture(name, at)

    def _picture(self, name: str, position: Position) -> None:
        if is_elsewhere(name):
            cause = "A booklet works without a network, so nothing is fetched from one."
            self._tell(
                "picture-elsewhere",
                f"“{name}” is not in the plan's folder",
                position,
                cause,
                "Save the picture beside the plan and name it here.",
            )
            return
        path = self._inside(name, position)
        if path is None:
            return
        cause = f"It is none of {', '.join(PICTURES)}." if path.suffix.lower() not in PICTURES else _broken(path)
        if cause:
            mend = "Save it as PNG, JPEG or WebP."
            self._tell("not-a-picture", f"“{name}” is no picture that a booklet can show", position, cause, mend)

    def _inside(self, name: str, position: Position) -> Path | None:
        """The file of that name, if it is one inside the plan's folder; else None, with a report."""
        folder = self.folder.resolve()
        pure = PurePosixPath(name)
        path = folder / pure
        if len(name) > _LONGEST_NAME:
            self._tell("odd-path", "this name of a file is too long", position, "", "Give the file a shorter name.")
            return None
        if forbidden_in(name):
            self._tell(
                "odd-path",
                "this name of a file has a character that no name can have",
                position,
                "",
                "Type the name again.",
            )
            return None
        if "\\" in name:
            self._tell(
                "odd-path", f"“{name}” has backslashes in it", position, "", "Write forward slashes between folders."
            )
            return None
        if not name.strip() or pure.is_absolute() or ".." in pure.parts or not _lies_in(path, folder):
            cause = "A plan reads only what lies in its own folder, so that the folder can be moved and shared."
            self._tell(
                "outside-folder",
                f"“{name}” lies outside the plan's folder",
                position,
                cause,
                "Copy the file into the folder and name it here.",
            )
            return None
        file = file_named(folder, name)
        if file is None:
            mend = did_you_mean(name, self._files(), otherwise="Check the name, or put the file beside plan.yaml.")
            self._tell("no-such-file", f"there is no file “{name}” in the plan's folder", position, "", mend)
            return None
        return path if path.is_file() else file

    def _files(self) -> list[str]:
        """Files near the plan, to guess from."""
        near = [*self.folder.glob("*"), *self.folder.glob("*/*")]
        return [path.relative_to(self.folder).as_posix() for path in near if path.is_file()]


def _lies_in(path: Path, folder: Path) -> bool:
    """Whether the file behind a path, links followed, is in a folder. A ring of links is nowhere."""
    try:
        return path.resolve().is_relative_to(folder)
    except (OSError, RuntimeError, ValueError):
        return False


def _broken(path: Path) -> str:
    """Why the file behind a picture's name cannot be shown; empty where it can."""
    try:
        with path.open("rb") as stream:
            return why_not(stream.read(LARGEST_BYTES + 1), path.suffix) or ""
    except OSError as failure:
        return f"It cannot be read: {(failure.strerror or 'the disk refuses').lower()}."


def _picture_links(text: str) -> Iterator[tuple[int, int, str]]:
    for number, line in enumerate(lines_of(text), start=1):
        for start, name in pictures_in(line):
            yield number, start + 1, name
