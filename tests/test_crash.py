"""Whole compiles killed at random moments, and two at the same time: the outputs are a whole old or a whole new set."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest
from tests.conftest import TINY

from drawleaf.outputs import LIST, write_set
from quick_compile import quickly

ROOT = Path(__file__).resolve().parent.parent
SEED = 20261120

# A compile without its slow half: what is written depends on the plan's revision alone, and there is enough of it to be caught midway.
# It writes a set for each line that it is sent: one that wrote without end would leave the other no turn on a busy machine.
WRITER = """
import pathlib, sys, time
from drawleaf.outputs import write_set
folder, mark = pathlib.Path(sys.argv[1]), sys.argv[2]
files = {f"drawings/{n}.svg": (mark * 40_000).encode() for n in range(25)}
for line in sys.stdin:
    write_set(folder, {**files, "plan.json": mark.encode()})
    print("written", flush=True)
"""


def writer_at_work(target: Path, mark: str, more: int) -> subprocess.Popen[str]:
    """A writer that has replaced the set once and replaces it so many times more."""
    command = [sys.executable, "-c", WRITER, str(target), mark]
    writer = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    send(writer, 1 + more)
    wait_for(writer)
    return writer


def send(writer: subprocess.Popen[str], sets: int) -> None:
    assert writer.stdin
    writer.stdin.write("go\n" * sets)
    writer.stdin.flush()


def wait_for(writer: subprocess.Popen[str]) -> None:
    """Until it has written a set that it was sent for."""
    assert writer.stdout
    assert writer.stdout.readline() == "written\n", "one writer has failed"


def contents(folder: Path) -> dict[str, bytes]:
    files = {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}
    return {name: content for name, content in files.items() if name != LIST}


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
        writer = writer_at_work(target, chr(97 + turn % 26), more=1000)
        time.sleep(moments.random() * 0.1)
        writer.kill()
        writer.communicate()
        seen.add(mark_of(target))
    assert len(seen) >= 25
    write_set(target, {"last.txt": b"x"})
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench"]


def test_two_writers_at_once_do_not_mix(tmp_path: Path) -> None:
    target = tmp_path / "bench"
    writers = [writer_at_work(target, mark, more=0) for mark in "ab"]
    for _ in range(5):
        for writer in writers:
            send(writer, 1)
        for writer in writers:
            wait_for(writer)
    for writer in writers:
        writer.kill()
        writer.communicate()
    assert mark_of(target) in "ab"


def test_two_compiles_at_once_do_not_mix(tmp_path: Path) -> None:
    """The real command but for its slow ends, twice on one output folder: both come out well, and the set is one of the two."""
    folders = []
    for revision in "AB":
        folder = tmp_path / revision / "tray"
        folder.mkdir(parents=True)
        (folder / "plan.yaml").write_text(TINY.replace("number: TU-1", f"number: TU-1\n  revision: {revision}"))
        folders.append(folder)
    runs = [
        subprocess.Popen(
            quickly("compile", folder, "--out", tmp_path / "out"), cwd=ROOT, stderr=subprocess.PIPE, text=True
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
