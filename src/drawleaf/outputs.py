"""Writing a set of files whole or not at all.

The set is written into a fresh folder beside its place and then swapped in with one rename, so a reader sees either the old
set or the new one, never a mix. Where the system cannot swap two folders, the old one is moved aside first and moved back by the next
run should this one be stopped between the two renames.
"""

from __future__ import annotations

import ctypes
import errno
import glob
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Mapping
from pathlib import Path

_SWAP = 2  # RENAME_EXCHANGE of renameat2(2), RENAME_SWAP of renamex_np(2)
LITTER_AGE = 3600
"""Seconds after which an unfinished set is taken to belong to a run that was killed."""

_HERE = -100  # AT_FDCWD


def refusal(folder: Path) -> str:
    """Why a booklet must not take the place of what stands there: a plan, another's files, a link; empty where it may."""
    if folder.is_symlink():
        return "it is a link"
    if not folder.exists():
        return ""
    if not folder.is_dir():
        return "it is a file"
    held = {one.name for one in folder.iterdir()}
    if "plan.yaml" in held:
        return "it holds a plan, which a booklet would replace"
    if held and "plan.json" not in held:
        return "it holds files that are no booklet"
    return ""


def write_set(folder: Path, files: Mapping[str, bytes]) -> None:
    """Put ``files`` (relative name to content) into ``folder``, replacing all that was in it; ask ``refusal`` first whether it may.

    Raises OSError where something cannot be written; ``folder`` is then as it was.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    recover(folder)
    _clear_litter(folder)
    fresh = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", suffix=".new", dir=folder.parent))
    try:
        fresh.chmod(0o755)
        for name, content in files.items():
            target = fresh / name
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("wb") as stream:
                stream.write(content)
                stream.flush()
                os.fsync(stream.fileno())
        _put_in_place(fresh, folder)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def recover(folder: Path) -> None:
    """Bring back the set that a stopped run had moved aside, if its place is empty."""
    aside = _aside(folder)
    if aside.is_dir():
        if folder.exists():
            shutil.rmtree(aside, ignore_errors=True)
        else:
            aside.rename(folder)


def _clear_litter(folder: Path) -> None:
    """Remove what runs that were killed left behind. A young one may belong to a run that is still at work."""
    for litter in folder.parent.glob(f".{glob.escape(folder.name)}.*.new"):
        try:
            old = time.time() - litter.stat().st_mtime > LITTER_AGE
        except OSError:
            continue
        if old:
            shutil.rmtree(litter, ignore_errors=True)


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
    shutil.rmtree(aside, ignore_errors=True)


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
