"""What a worker of the cluster does: one booklet from a parcel. It keeps contents and unpacked plans as long as it lives."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from pathlib import Path

import drawleaf
from drawleaf.catalogue.making import Libraries, Made, make
from drawleaf.catalogue.parcels import Parcel, put_contents, unpacked
from drawleaf.catalogue.sharing import Bench
from drawleaf.catalogue.states import folder_state, own_state
from drawleaf.resources import product_folder
from drawleaf.source.stamps import stamp_of


@dataclass(frozen=True, slots=True)
class Reply:
    """What came of a parcel: what was ``made``; or the digests that the worker ``lacks``; or its own version, where it has ``another``."""

    made: Made | None = None
    lacks: tuple[str, ...] = ()
    another: str = ""


@cache
def whole_version() -> str:
    """Equal where drawleaf, its data and its libraries are: the version in words, and a digest."""
    folders = [product_folder(name) for name in ("shared", "templates")]
    parts = [own_state(), *(folder_state(one, stamp_of([one])) for one in folders)]
    return f"{drawleaf.__version__} {sha256(' '.join(parts).encode()).hexdigest()[:12]}"


class _Place:
    """Where a worker works, one job after the other: a compile has the process for itself."""

    def __init__(self) -> None:
        self.turn = threading.Lock()
        self._folder = tempfile.TemporaryDirectory(prefix="drawleaf-")
        self.contents, self.plans = Path(self._folder.name) / "contents", Path(self._folder.name) / "plans"
        self.contents.mkdir()
        self.plans.mkdir()
        self.libraries, self.bench = Libraries(), Bench()


@cache
def _place() -> _Place:
    return _Place()


def do(parcel: Parcel, given: Mapping[str, bytes], version: str) -> Reply:
    """The booklet of a parcel, for whoever has this version of drawleaf; ``given`` are contents that the worker may lack."""
    if whole_version() != version:
        return Reply(another=whole_version())
    place = _place()
    with place.turn:
        try:
            put_contents(given, place.contents)
            lacks = {digest for _, digest in parcel.files if not (place.contents / digest).exists()}
            if lacks:
                return Reply(lacks=tuple(sorted(lacks)))
            job = unpacked(parcel, place.contents, place.plans)
        except OSError as error:
            return Reply(Made(told=f"a worker cannot write to its disk: {error.strerror or error}."))
        return Reply(make(job, place.libraries, place.bench))
