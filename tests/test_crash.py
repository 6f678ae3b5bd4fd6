"""Whole compiles killed at random moments, and two at the same time: the outputs are a whole old or a whole new set."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from tests.conftest import TINY

from drawleaf.outputs import write_set

ROOT = Path(__file__).resolve().parent.parent
SEED = 20261120

# A compile without its slow half: what is written depends on the plan's revision alone, and there is enough of it to be caught midway.
WRITER = """
import pathlib, sys, time
from drawleaf.outputs import write_set
folder, mark = pathlib.Path(sys.argv[1]), sys.argv[2]
files = {f"drawings/{n}.svg": (mark * 40_000).encode() for n in range(25)}
while True:
    write_set(folder, {**files, "plan.json": mark.encode()})
"""


def contents(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


def mark_of(folder: Path) -> str:
    """The mark that all files of a set bear; fails where the set is not whole."""
    files = contents(folder)
    assert len(files) == 26
    mark = files.pop("plan.json").decode()
    assert set(files.values()) == {(mark * 40_000).encode()}
    return mark


def test_killed_at_random_moments(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """25 kills here, 200 with ``--long``: after each, what stands there is a whole set, and the next run clears the litter away."""
    moments = random.Random(SEED)
    target = tmp_path / "bench"
    kills = 200 if request.config.getoption("--long") else 25
    seen = set()
    for turn in range(kills):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(target), chr(97 + turn % 26)])
        time.sleep(0.15 + moments.random() * 0.25)
        writer.kill()
        writer.wait()
        if target.exists():
            seen.add(mark_of(target))
    assert len(seen) > 5
    for litter in tmp_path.glob(".bench.*"):
        os.utime(litter, (0, 0))
    write_set(target, {"last.txt": b"x"})
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench"]


def test_litter_of_a_run_that_still_works_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / ".bench.abc.new").mkdir()
    write_set(tmp_path / "bench", {"a.txt": b"x"})
    assert (tmp_path / ".bench.abc.new").is_dir()


def test_two_writers_at_once_do_not_mix(tmp_path: Path) -> None:
    target = tmp_path / "bench"
    writers = [subprocess.Popen([sys.executable, "-c", WRITER, str(target), mark]) for mark in "ab"]
    time.sleep(2)
    for writer in writers:
        assert writer.poll() is None, "one writer has failed"
        writer.kill()
        writer.wait()
    assert mark_of(target) in "ab"


def test_two_compiles_at_once_do_not_mix(tmp_path: Path) -> None:
    """The real command, twice on one output folder: both come out well, and the set is one of the two."""
    folders = []
    for revision in "AB":
        folder = tmp_path / revision / "tray"
        folder.mkdir(parents=True)
        (folder / "plan.yaml").write_text(TINY.replace("number: TU-1", f"number: TU-1\n  revision: {revision}"))
        folders.append(folder)
    command = [sys.executable, "-m", "drawleaf.cli", "compile"]
    runs = [
        subprocess.Popen(
            [*command, str(folder), "--out", str(tmp_path / "out")], cwd=ROOT, stderr=subprocess.PIPE, text=True
        )
        for folder in folders
    ]
    for run in runs:
        _, said = run.communicate()
        assert run.returncode == 0, said
    booklet = tmp_path / "out" / "tray"
    revision = json.loads((booklet / "plan.json").read_text())["plan"]["revision"]
    page = (booklet / "tray.html").read_text()
    assert f"revision {revision})</title>" in page
    assert [entry.name for entry in booklet.parent.iterdir()] == ["tray"]
