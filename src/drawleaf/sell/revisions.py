"""Where a revision is found: a compiled folder, a ``plan.json``, the plan's source, or its source at a revision that git keeps."""

from __future__ import annotations

import io
import subprocess
import tarfile
from collections.abc import Callable
from pathlib import Path

from drawleaf.sell.mistakes import SellingError
from drawleaf.sell.piece import Compiled, compiled_from, read_compiled

PLAN_FILE = "plan.json"
Work = Callable[[Path], str]
"""``work(plan folder)``: the text of its ``plan.json``, worked out now."""


class NotFoundError(SellingError):
    """What stands for a revision leads to none; the text says why."""


def revision_at(where: str, plan: Path, work: Work, scratch: Path) -> Compiled:
    """The revision that ``where`` names, for the plan in that folder. ``scratch`` is an empty folder for what git hands out.

    Raises NotFoundError, NotAPlanError or OSError.
    """
    given = Path(where)
    if given.is_file():
        return read_compiled(given)
    if (given / PLAN_FILE).is_file():
        return read_compiled(given / PLAN_FILE)
    if (given / "plan.yaml").is_file():
        return compiled_from(work(given), where)
    if given.is_dir():
        raise NotFoundError(f"{where} holds neither {PLAN_FILE} nor plan.yaml")
    return compiled_from(work(_from_git(where, plan, scratch)), where)


def _from_git(revision: str, plan: Path, scratch: Path) -> Path:
    """The plan's folder as git keeps it at a revision, with all that lies about it there."""
    top = _git(revision, plan, "rev-parse", "--show-toplevel").decode().strip()
    if revision.startswith("-"):
        raise NotFoundError(f"{revision} is no revision")
    packed = _git(revision, Path(top), "archive", "--format=tar", revision)
    try:
        with tarfile.open(fileobj=io.BytesIO(packed)) as archive:
            archive.extractall(scratch, filter="data")
    except tarfile.TarError as error:  # a link that leads out of the repository
        raise NotFoundError(f"what git keeps at {revision} cannot be laid out: {error}") from None
    folder = scratch / plan.resolve().relative_to(Path(top).resolve())
    if not (folder / "plan.yaml").is_file():
        raise NotFoundError(f"at {revision} there is no plan.yaml in {plan}")
    return folder


def _git(revision: str, folder: Path, *words: str) -> bytes:
    """What git answers; ``revision`` is for messages."""
    try:
        return subprocess.run(["git", "-C", str(folder), *words], check=True, capture_output=True).stdout
    except FileNotFoundError:
        raise NotFoundError(f"{revision}: git is not installed; name a folder or a plan.json") from None
    except subprocess.CalledProcessError as error:
        said = error.stderr.decode(errors="replace").strip().splitlines()
        raise NotFoundError(
            f"{revision}: no folder, no plan.json, and git knows no such revision ({said[0] if said else 'no reason given'})"
        ) from None
