"""Text from disk, checked before anything reads it: size, encoding, characters that no editor shows."""

from __future__ import annotations

import re
import stat
from pathlib import Path

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position

LARGEST_FILE = 2_000_000

# What YAML 1.1 forbids in a stream (section 5.1, "c-printable"), the invisible no-break mark inside a text, and the marks
# that turn the direction of what follows, so that a line reads otherwise than it is (Unicode Technical Report 36, section 2.6).
_FORBIDDEN = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\u2029\u202f-\u2065\u206a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
_LINE_BREAK = re.compile("\n|\x85|\u2028|\u2029")
_MOST_REPORTED = 5


def lines_of(text: str) -> list[str]:
    """The lines of a text, split where YAML counts a new line."""
    return _LINE_BREAK.split(text)


def read_text(path: Path, file: str | None = None) -> tuple[str | None, tuple[Diagnostic, ...]]:
    """The text of a file with its line ends made alike, or None with the reason. ``file`` is its name as positions give it."""
    file = file or path.as_posix()
    try:
        facts = path.stat()
        if stat.S_ISDIR(facts.st_mode):
            return None, (_unreadable(file, "it is a folder", "Name a file."),)
        if not stat.S_ISREG(facts.st_mode):
            return None, (_unreadable(file, "it is a device or pipe", "Name a file."),)
        if facts.st_size > LARGEST_FILE:
            return None, (_too_large(file),)
        raw = path.read_bytes()
    except FileNotFoundError:
        return None, (_unreadable(file, "there is no such file", "Check the name and the folder."),)
    except OSError as failure:
        reason = (failure.strerror or "the disk refuses").lower()
        return None, (_unreadable(file, reason, "Check who may read it."),)
    return decode(file, raw)


def leads_outside(path: Path, folder: Path) -> bool:
    """Whether a file of a folder is a link to one that lies elsewhere."""
    try:
        return not path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):  # a ring of links
        return True


def link_outside(file: str) -> Diagnostic:
    """What is said of such a file."""
    return Diagnostic(
        "outside-folder",
        f"“{file}” is a link to a file outside its folder",
        Position(file, 1, 1),
        "A folder from a stranger could show any file of yours in this way.",
        "Copy the file itself into the folder.",
    )


def decode(file: str, raw: bytes) -> tuple[str | None, tuple[Diagnostic, ...]]:
    """UTF-8 text out of bytes, or None with what is wrong and where."""
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        return None, (_wrong_encoding(Position(file, 1, 1), "The file is saved as UTF-16."),)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as failure:
        good = raw[: failure.start].decode("utf-8-sig", errors="replace")
        cause = f"The byte {raw[failure.start]:#04x} here is no UTF-8; the file is probably saved in an older encoding."
        return None, (_wrong_encoding(_position_after(file, good), cause),)
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    bad = check_characters(file, text)
    return (None if bad else text), bad


def check_characters(file: str, text: str) -> tuple[Diagnostic, ...]:
    """A diagnostic for each of the first few characters that may not occur in a source."""
    found = []
    for match in _FORBIDDEN.finditer(text):
        found.append(
            Diagnostic(
                "bad-character",
                f"a character that cannot be printed is here (U+{ord(match.group()):04X})",
                _position_after(file, text[: match.start()]),
                "Such characters slip in when text is copied out of other programs.",
                "Delete it and type the text again.",
            )
        )
        if len(found) == _MOST_REPORTED:
            break
    return tuple(found)


def forbidden_in(text: str) -> str | None:
    """The first character that may not occur in a text, as ``U+0000``; None where there is none."""
    match = _FORBIDDEN.search(text)
    return f"U+{ord(match.group()):04X}" if match else None


def _position_after(file: str, text: str) -> Position:
    lines = lines_of(text)
    return Position(file, len(lines), len(lines[-1]) + 1)


def _too_large(file: str) -> Diagnostic:
    return Diagnostic(
        "file-too-large",
        "this file is larger than 2 MB",
        Position(file, 1, 1),
        "A plan source is a few pages of text; this is probably another file.",
        "Check the file, or move notes into Markdown files of their own.",
    )


def _unreadable(file: str, reason: str, mend: str) -> Diagnostic:
    return Diagnostic("file-unreadable", f"cannot read {file}: {reason}", Position(file, 1, 1), "", mend)


def _wrong_encoding(position: Position, cause: str) -> Diagnostic:
    return Diagnostic(
        "wrong-encoding",
        "this file is not saved as UTF-8 text",
        position,
        cause,
        "Open it in your editor and save it with the encoding UTF-8.",
    )
