"""Which file a name or an address in a plan means. The answer here is what is opened: nobody reads the name a second time.

A stranger's plan must not show its reader's other files, so a file is given only where it really is in the plan's folder (links
followed), and is neither a folder, a device nor a pipe.
"""

from __future__ import annotations

import stat
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from urllib.parse import unquote_to_bytes

LONGEST_NAME = 4000
_MARKS = ("?", "#", "\\")
"""What ends a path for some readers of addresses and not for others. A file whose name has one is named with %23 and the like."""


_asked_for: ContextVar[Callable[[Path], None] | None] = ContextVar("_asked_for", default=None)


@contextmanager
def files_noted(note: Callable[[Path], None]) -> Iterator[None]:
    """Meanwhile ``note`` is told every file that is asked for, whether it is there or not."""
    token = _asked_for.set(note)
    try:
        yield
    finally:
        _asked_for.reset(token)


class RefusedAddressError(ValueError):
    """An address that a booklet may not open; the text says why."""


def file_inside(folder: Path, name: str) -> Path | None:
    """The file of that name in a folder, with all links resolved; None where it is none, or lies elsewhere."""
    try:
        root = folder.resolve()
        if (note := _asked_for.get()) is not None:
            note(root / name)
        file = (root / name).resolve()
        inside = file.is_relative_to(root) and stat.S_ISREG(file.stat().st_mode)
    except (OSError, RuntimeError, ValueError):  # a ring of links, or a name that no disk takes
        return None
    return file if inside else None


def file_at(address: str, folder: Path | None, suffixes: Iterable[str], also: frozenset[Path] = frozenset()) -> Path:
    """The file that a ``file:`` address means, if it is in ``folder`` and ends as one of ``suffixes``, or is one of ``also``.

    Raises RefusedAddressError for every other address.
    """
    if len(address) > LONGEST_NAME:
        raise RefusedAddressError("it is too long")
    scheme, colon, rest = address.partition(":")
    if not colon or scheme != "file" or not rest.startswith("///"):
        raise RefusedAddressError("a booklet takes nothing from a network, a device or another program")
    if any(mark in rest for mark in _MARKS):
        raise RefusedAddressError("a file is named without “#”, “?” and backslashes")
    try:
        path = Path(unquote_to_bytes(rest.removeprefix("//")).decode())
    except UnicodeDecodeError:
        raise RefusedAddressError("it is no text") from None
    if ".." in path.parts or rest.endswith("/"):
        raise RefusedAddressError("it leads out of a folder, or to none")
    file = file_inside(Path("/"), str(path))
    if file is not None and file in also:
        return file
    if file is None or folder is None or not file.is_relative_to(folder.resolve()):
        raise RefusedAddressError("there is no such file in the plan's folder")
    if file.suffix.lower() not in suffixes:
        raise RefusedAddressError(f"a booklet shows files that end in {', '.join(suffixes)}")
    return file
