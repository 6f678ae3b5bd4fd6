"""What goes to another machine: laid out there it is the same job, and a source that is edited on the way is found out."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import TINY

from drawleaf.catalogue.making import Job
from drawleaf.catalogue.parcels import contents_of, packed, put_contents, unpacked
from drawleaf.compiler import Choice
from drawleaf.units import Units


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "plans" / "tray").mkdir(parents=True)
    (tmp_path / "plans" / "tray" / "plan.yaml").write_text(TINY)
    return tmp_path / "plans" / "tray"


def test_unpacked_it_is_the_same_job(folder: Path, tmp_path: Path) -> None:
    kit = tmp_path / "mine.yaml"
    kit.write_text("mine: {}\n")
    parcel, files = packed(Job(folder, Choice("long", Units.MM, "a4", None, kit)))
    there = tmp_path / "there"
    (there / "contents").mkdir(parents=True)
    given = contents_of(files, files)
    assert given is not None
    put_contents(given, there / "contents")
    job = unpacked(parcel, there / "contents", there)
    assert job.folder.name == "tray"
    assert (job.folder / "plan.yaml").read_text() == TINY
    choice = job.choice
    assert (choice.edition, choice.units, choice.paper, choice.kit) == ("long", Units.MM, "a4", None)
    assert choice.kit_file is not None
    assert choice.kit_file.read_text() == "mine: {}\n"


def test_a_source_that_was_changed_since_is_not_given(folder: Path) -> None:
    """Under the digest of what it was, a worker would ask for it for ever."""
    _, files = packed(Job(folder, Choice()))
    assert contents_of(files, files) == {digest: TINY.encode() for digest in files}
    (folder / "plan.yaml").write_text(TINY + "\n")
    assert contents_of(files, files) is None
    (folder / "plan.yaml").unlink()
    assert contents_of(files, files) is None
