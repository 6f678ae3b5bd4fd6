"""A store on disk of what was made, by content: files, traces, and pieces of work that editions share.

Nothing in it is needed: whatever is missing is made again, so it may be thrown away at any time, also while it is used. Several processes
may use one. What was not used for longest leaves it when it has grown to its limit. Only bytes are kept in it, and files are given back only if they still are what
their digest says.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import stat
import sys
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import diskcache

GIGABYTE = 1024**3
LIMIT = 5 * GIGABYTE
"""How large a store grows, in bytes, where nothing else is asked for."""
TAG = "CACHEDIR.TAG"
"""The name by which programs that make backups know a folder that can be made again: bford.info/cachedir."""
_TAG_TEXT = """Signature: 8a477f597d28d172789f06886806bc55
# Made by drawleaf, of what it can make again. This folder may be thrown away at any time.
"""
_BROKEN = (OSError, sqlite3.Error, diskcache.Timeout, ValueError)


class ForeignStoreError(Exception):
    """The folder of the store is somebody else's, or no folder; the text says so."""


class _BytesAlone(diskcache.Disk):
    """Keeps bytes, and never reads anything else: a value of another kind could run code when it is read."""

    def store(self, value: Any, read: bool, key: Any = diskcache.UNKNOWN) -> Any:
        if not isinstance(value, bytes):
            raise TypeError("the store keeps bytes alone")
        return super().store(value, read, key=key)

    def fetch(self, mode: int, filename: str | None, value: Any, read: bool) -> Any:
        found = None if mode == diskcache.core.MODE_PICKLE else super().fetch(mode, filename, value, read)
        return found if isinstance(found, bytes) else None


class Store:
    """The store in ``folder``; made where there is none yet. A store that cannot be used is as an empty one that keeps nothing."""

    def __init__(self, folder: Path, limit: int = LIMIT) -> None:
        """``limit`` in bytes. Raises ForeignStoreError."""
        self.folder, self._limit = folder, limit
        _own(folder)
        self._cache: diskcache.Cache | None = self._opened()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, where: TracebackType | None
    ) -> None:
        self.close()

    def __reduce__(self) -> tuple[type, tuple[Path, int]]:
        """Another process opens the same store anew."""
        return Store, (self.folder, self._limit)

    def close(self) -> None:
        """Let go of the store's files."""
        if self._cache is not None:
            self._cache.close()

    def get(self, key: str) -> bytes | None:
        """What is kept under a key; None where nothing is, or it cannot be read."""
        try:
            found: Any = None if self._cache is None else self._cache.get(key)
        except _BROKEN:
            return None
        return found

    def put(self, key: str, content: bytes) -> None:
        """Keep bytes under a key, if the disk lets us."""
        try:
            if self._cache is not None:
                self._cache.set(key, content)
        except _BROKEN:
            pass  # it is made again another time

    def put_files(self, files: Mapping[str, bytes]) -> dict[str, str]:
        """Keep files by their content; the digest of each by its name."""
        digests = {name: sha256(content).hexdigest() for name, content in files.items()}
        for name, digest in digests.items():
            if not self._holds(_content(digest)):
                self.put(_content(digest), files[name])
        return digests

    def files(self, digests: Mapping[str, str]) -> dict[str, bytes] | None:
        """The files of these digests by their names; None where one is not kept any more, or not as it was."""
        found: dict[str, bytes] = {}
        for name, digest in digests.items():
            content = self.get(_content(digest))
            if content is None or sha256(content).hexdigest() != digest:
                return None
            found[name] = content
        return found

    def holds_files(self, digests: Mapping[str, str]) -> bool:
        """Whether all these files seem to be there; reading them may still find one broken."""
        return all(self._holds(_content(digest)) for digest in digests.values())

    def _holds(self, key: str) -> bool:
        try:
            return self._cache is not None and key in self._cache
        except _BROKEN:
            return False

    def _opened(self) -> diskcache.Cache | None:
        for attempt in (1, 2):
            try:
                return diskcache.Cache(
                    str(self.folder), size_limit=self._limit, disk=_BytesAlone, eviction_policy="least-recently-used"
                )
            except _BROKEN:
                if attempt == 1:  # what is there is no store, or a broken one
                    shutil.rmtree(self.folder, ignore_errors=True)
                    _own(self.folder)
        return None


def default_folder() -> Path:
    """Where this user's programs keep what can be made again."""
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / "drawleaf"
    named = os.environ.get("LOCALAPPDATA" if sys.platform == "win32" else "XDG_CACHE_HOME")
    return (Path(named) if named else Path.home() / ".cache") / "drawleaf"


def _own(folder: Path) -> None:
    """Make the folder for this user alone, marked as one that may be thrown away. Raises ForeignStoreError where it is anything else."""
    other = "Name another place for the store with --store."
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        found = folder.lstat()
        if not stat.S_ISDIR(found.st_mode) or (hasattr(os, "geteuid") and found.st_uid != os.geteuid()):
            raise ForeignStoreError(f"{folder} belongs to somebody else. {other}")
        tag = folder / TAG
        if not tag.exists():
            if any(folder.iterdir()):
                raise ForeignStoreError(f"{folder} holds other files. {other}")
            tag.write_text(_TAG_TEXT)
    except FileExistsError:
        raise ForeignStoreError(f"{folder} is no folder. {other}") from None
    except OSError:
        return  # it keeps nothing then


def _content(digest: str) -> str:
    return f"content {digest}"
