"""What a plan is made from, as a parcel that can be sent elsewhere: names with digests, and the contents that are asked for."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from drawleaf.catalogue.making import Job
from drawleaf.compiler import Choice
from drawleaf.outputs import LIST
from drawleaf.raster import SUFFIXES
from drawleaf.resources import lent_from_above
from drawleaf.source.reader import PLAN_FILE

_PLANS, _TOOL_SET = "plans", "tool-set"
_NOTES = (".md", ".markdown", ".txt")


@dataclass(frozen=True, slots=True)
class Parcel:
    """``files`` gives the digest of each file by its path in the parcel; ``plan`` is the path of the plan's folder, ``kit_file`` that of a tool
    set's file."""

    files: tuple[tuple[str, str], ...]
    plan: str
    choice: Choice
    kit_file: str | None = None

    @property
    def digest(self) -> str:
        """Equal for parcels with equal files."""
        return sha256(repr((self.files, self.plan)).encode()).hexdigest()


def packed(job: Job) -> tuple[Parcel, dict[str, Path]]:
    """A job's parcel, and where the content of each digest lies. Raises OSError where a file cannot be read."""
    plan = f"{_PLANS}/{job.folder.name}"
    places = {f"{plan}/{one.relative_to(job.folder).as_posix()}": one for one in _sources(job.folder)}
    for folder in lent_from_above(job.folder):
        places |= {f"{folder.name}/{one.relative_to(folder).as_posix()}": one for one in _all(folder)}
    kit = job.choice.kit_file
    kit_name = None if kit is None else f"{_TOOL_SET}/{kit.name}"
    if kit is not None and kit_name is not None:
        places[kit_name] = kit
    digests = {name: sha256(file.read_bytes()).hexdigest() for name, file in sorted(places.items())}
    parcel = Parcel(tuple(digests.items()), plan, replace(job.choice, kit_file=None), kit_name)
    return parcel, {digest: places[name] for name, digest in digests.items()}


def contents_of(digests: Iterable[str], files: Mapping[str, Path]) -> dict[str, bytes] | None:
    """The contents of these digests, from where each lay when it was packed; None where one has been changed or taken away since."""
    found: dict[str, bytes] = {}
    for digest in digests:
        try:
            found[digest] = files[digest].read_bytes()
        except OSError:
            return None
        if sha256(found[digest]).hexdigest() != digest:
            return None
    return found


def unpacked(parcel: Parcel, contents: Path, place: Path) -> Job:
    """The job with its files laid out in a folder in ``place``, from a folder that holds each content by its digest. Raises OSError."""
    root = place / parcel.digest
    if not root.is_dir():
        fresh = Path(tempfile.mkdtemp(dir=place))
        for name, digest in parcel.files:
            target = fresh / name
            if not target.resolve().is_relative_to(fresh.resolve()):
                raise OSError(f"“{name}” leads out of its parcel")
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(contents / digest, target)
        try:
            fresh.rename(root)
        except OSError:  # another job was faster
            shutil.rmtree(fresh, ignore_errors=True)
    kit_file = None if parcel.kit_file is None else root / parcel.kit_file
    return Job(root / parcel.plan, replace(parcel.choice, kit_file=kit_file))


def put_contents(given: Mapping[str, bytes], contents: Path) -> None:
    """Lay contents into the folder that holds them by their digest; what is not what its digest says is left out. Raises OSError."""
    for digest, content in given.items():
        if sha256(content).hexdigest() == digest and not (contents / digest).exists():
            handle, fresh = tempfile.mkstemp(dir=contents)
            with os.fdopen(handle, "wb") as stream:
                stream.write(content)
            Path(fresh).rename(contents / digest)


def _sources(folder: Path) -> Iterator[Path]:
    """What a plan's folder may give to a booklet: its source, notes, pictures, and its own shared entries and templates."""
    for file in _all(folder):
        inside = file.relative_to(folder).parts
        own = inside[0] in ("shared", "templates")
        if own or file.name == PLAN_FILE or file.suffix.lower() in (*_NOTES, *SUFFIXES):
            yield file


def _all(folder: Path) -> Iterator[Path]:
    """All plain files in a folder; none of a folder that a compile has written, none whose name begins with a dot."""
    for place, folders, files in os.walk(folder):
        if LIST in files:
            folders.clear()
            continue
        folders[:] = sorted(one for one in folders if not one.startswith("."))
        for name in sorted(files):
            file = Path(place) / name
            if not name.startswith(".") and file.is_file() and file.resolve().is_relative_to(folder.resolve()):
                yield file
