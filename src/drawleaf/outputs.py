"""Writing a set of files whole or not at all, and nothing of anybody else's lost.

The set is written into a fresh folder beside its place and then swapped in with one rename, so a reader sees either the old
set or the new one, never a mix. Where the system cannot swap two folders, the old one is moved aside first and moved back by the next
run should this one be stopped between the two renames.

A list of what was written, with hashes, stays in the folder. Only files that are still as that list says are replaced: one that was
changed since makes the whole set wait, and files that no compile wrote go along into the new folder. Runs that write beside each
other take turns, so what an earlier one has left unfinished belongs to nobody.
"""

from __future__ import annotations

import ctypes
import errno
import filecmp
import glob
import hashlib
import json
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

LIST = ".written.json"
"""The list's name in the folder."""
PATIENCE_SECONDS = 60.0
"""So long is another run waited for that writes beside this one."""

_SWAP = 2  # RENAME_EXCHANGE of renameat2(2), RENAME_SWAP of renamex_np(2)
_HERE = -100  # AT_FDCWD


class OutputRefusedError(Exception):
    """A set must not replace what is there; the text says why, as words after “as”."""


def refusal(folder: Path) -> str:
    """Why a booklet must not replace what is there: a plan, another's files, a changed file, a link; empty where it may.

    Raises OSError where the folder cannot be read.
    """
    if folder.is_symlink():
        return "it is a link"
    if not folder.exists():
        return ""
    if not folder.is_dir():
        return "it is a file"
    held = {one.name for one in folder.iterdir()}
    if "plan.yaml" in held:
        return "it holds a plan, which a booklet would replace"
    written = written_there(folder)
    if written is None:
        return "it holds files that no compile has written there" if held else ""
    changed = sorted(name for name, file in _files(folder) if name in written and _changed(file, written[name]))
    if changed:
        others = f" and {len(changed) - 1} more" if len(changed) > 1 else ""
        return f"“{changed[0]}”{others} in it was changed since it was written: move it away, or delete it"
    return ""


def try_place(folder: Path) -> None:
    """Raises OSError where ``folder`` could not be written, so that this is known before the work and not after it. Leaves nothing."""
    held = next(one for one in folder.absolute().parents if one.exists())
    # The name is one that the next run clears away, should this one be killed here.
    Path(tempfile.mkdtemp(prefix=f".{folder.name}.", suffix=".new", dir=held)).rmdir()


def write_set(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put ``files`` (relative name to content) into ``folder`` in place of those that were written there the last time.

    Other files there stay. Raises OutputRefusedError where ``refusal`` has a reason or such a file has the name of a new
    one, OSError where something cannot be written; ``folder`` is then as it was.
    """
    files = {name: content for name, content in files.items() if name != LIST}
    folder.parent.mkdir(parents=True, exist_ok=True)
    with _turn(folder.parent) as alone:
        recover(folder)
        if alone:
            _clear_litter(folder)
        if why := refusal(folder):
            raise OutputRefusedError(why)
        fresh = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", suffix=".new", dir=folder.parent))
        try:
            fresh.chmod(0o755)
            _fill(fresh, {**files, LIST: _list_of(files)})
            _take_along(folder, fresh)
            _put_in_place(fresh, folder)
        except BaseException:
            shutil.rmtree(fresh, ignore_errors=True)
            raise
        _clear(fresh, folder)


def recover(folder: Path) -> None:
    """Bring back the set that a stopped run had moved aside, if its place is empty."""
    aside = _aside(folder)
    if aside.is_dir():
        if folder.exists():
            _clear(aside, folder)
        else:
            aside.rename(folder)


def _fill(fresh: Path, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        target = fresh / name
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())


def _list_of(files: Mapping[str, bytes]) -> bytes:
    hashes = {name: hashlib.sha256(content).hexdigest() for name, content in sorted(files.items())}
    about = "What drawleaf wrote into this folder, with SHA-256. A compile replaces these files and no others."
    return (json.dumps({"about": about, "files": hashes}, ensure_ascii=False, indent=1) + "\n").encode()


def written_there(folder: Path) -> dict[str, str] | None:
    """What the last compile wrote there: name to hash; None where there is no list that makes sense."""
    file = folder / LIST
    try:
        if file.is_symlink() or not file.is_file():
            return None
        listed = json.loads(file.read_bytes())["files"]
        return {str(name): str(digest) for name, digest in listed.items()}
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def _files(folder: Path) -> Iterator[tuple[str, Path]]:
    """All that is in a folder but its list and plain folders: links are listed, not followed."""
    for place, folders, files in os.walk(folder):
        for name in (*files, *(one for one in folders if (Path(place) / one).is_symlink())):
            file = Path(place) / name
            relative = file.relative_to(folder).as_posix()
            if relative != LIST:
                yield relative, file


def _changed(file: Path, digest: str) -> bool:
    """Whether what was written has been changed since."""
    if file.is_symlink() or not file.is_file():
        return True
    with file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest() != digest


def _take_along(folder: Path, fresh: Path) -> None:
    """The files of others in the old folder, also in the new one: as further names of the same files where the disk can."""
    written = written_there(folder) or {}
    for place, folders, _ in os.walk(folder):
        for name in folders:
            own = Path(place) / name
            there = own.relative_to(folder)
            if not own.is_symlink() and not any(own.iterdir()):
                _room(fresh, there, folder=True)
    for name, file in _files(folder):
        if name in written:
            continue
        target = _room(fresh, Path(name))
        if file.is_symlink():
            target.symlink_to(os.readlink(file))
            continue
        try:
            os.link(file, target)
        except OSError:
            shutil.copy2(file, target)


def _room(fresh: Path, name: Path, *, folder: bool = False) -> Path:
    """The place in the new folder for what others have put into the old one."""
    target = fresh / name
    try:
        (target if folder else target.parent).mkdir(parents=True, exist_ok=True)
        taken = not folder and os.path.lexists(target)
    except (FileExistsError, NotADirectoryError):
        taken = True
    if taken:
        raise OutputRefusedError(
            f"“{name.as_posix()}” in it is not of the last compile, and the new booklet has such a file"
        )
    return target


def _clear(old: Path, folder: Path) -> None:
    """Remove a set whose place was taken. What came into it in the last moment moves into the new one."""
    written = written_there(old) or {}
    for name, file in list(_files(old)):
        if name in written and not _changed(file, written[name]):
            continue
        target = folder / name
        with suppress(OSError):
            if os.path.lexists(target) and (file.is_symlink() or filecmp.cmp(file, target, shallow=False)):
                continue
            while os.path.lexists(target):
                target = target.with_name(f"{target.stem} (before){target.suffix}")
            target.parent.mkdir(parents=True, exist_ok=True)
            file.rename(target)
    shutil.rmtree(old, ignore_errors=True)


def _clear_litter(folder: Path) -> None:
    """Remove what runs that were killed left behind. Whoever has the turn knows that nobody else is at work there."""
    for litter in folder.parent.glob(f".{glob.escape(folder.name)}.*.new"):
        shutil.rmtree(litter, ignore_errors=True)


@contextmanager
def _turn(parent: Path) -> Iterator[bool]:
    """One run at a time writes sets into a folder. The system gives the turn back when a run is killed.

    Raises OSError where another one has it for too long. False on a disk that knows no locks: there all go on at once.
    """
    try:
        import fcntl
    except ImportError:  # Windows
        yield False
        return
    handle = os.open(parent, os.O_RDONLY)
    try:
        until = time.monotonic() + PATIENCE_SECONDS
        while True:
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                if time.monotonic() > until:
                    raise OSError(errno.EBUSY, "another run is writing there", str(parent)) from None
                time.sleep(0.02)
            except OSError:
                alone = False
                break
            else:
                alone = True
                break
        yield alone
    finally:
        os.close(handle)


def _put_in_place(fresh: Path, folder: Path) -> None:
    if not folder.exists():
        try:
            fresh.rename(folder)
        except OSError:
            if not folder.exists():
                raise
            # Another run has put its own set there in the meantime: swap with that one.
        else:
            return
    if _swap(fresh, folder):
        return
    aside = _aside(folder)
    folder.rename(aside)
    try:
        fresh.rename(folder)
    except OSError:
        aside.rename(folder)
        raise
    _clear(aside, folder)


def _aside(folder: Path) -> Path:
    return folder.parent / f".{folder.name}.old"


def _swap(one: Path, other: Path) -> bool:
    """Exchange two folders in one step; False where this system has no such call."""
    a, b = os.fsencode(one), os.fsencode(other)
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            result = library.renamex_np(a, b, _SWAP)
        else:
            result = library.renameat2(_HERE, a, _HERE, b, _SWAP)
    except (AttributeError, OSError, TypeError):
        return False
    if result == 0:
        return True
    code = ctypes.get_errno()
    if code in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP):
        return False
    raise OSError(code, os.strerror(code), str(other))
