"""Outputs appear whole or not at all."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from drawleaf import outputs


def contents(folder: Path) -> dict[str, bytes]:
    return {str(file.relative_to(folder)): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


def test_a_set_replaces_all_that_was_there(tmp_path: Path) -> None:
    target = tmp_path / "build" / "bench"
    outputs.write_set(target, {"a.txt": b"1", "deep/b.txt": b"2"})
    outputs.write_set(target, {"c.txt": b"3"})
    assert contents(target) == {"c.txt": b"3"}
    assert [entry.name for entry in target.parent.iterdir()] == ["bench"]


@pytest.mark.parametrize("can_swap", [True, False])
def test_a_failed_write_leaves_the_last_good_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, can_swap: bool
) -> None:
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"good"})
    if not can_swap:
        monkeypatch.setattr(outputs, "_swap", lambda one, other: False)

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        outputs.write_set(target, {"a.txt": b"new"})
    assert contents(target) == {"a.txt": b"good"}
    assert [entry.name for entry in tmp_path.iterdir()] == ["bench"]


def test_without_a_swap_the_set_is_still_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(outputs, "_swap", lambda one, other: False)
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    outputs.write_set(target, {"a.txt": b"2"})
    assert contents(target) == {"a.txt": b"2"}


def test_a_set_moved_aside_by_a_stopped_run_comes_back(tmp_path: Path) -> None:
    target = tmp_path / "bench"
    outputs.write_set(target, {"a.txt": b"1"})
    target.rename(tmp_path / ".bench.old")
    outputs.recover(target)
    assert contents(target) == {"a.txt": b"1"}


def test_killed_at_any_moment_the_set_is_whole(tmp_path: Path) -> None:
    """A writer that replaces the set over and over is killed twenty times; what is left is always one whole set."""
    target = tmp_path / "bench"
    program = (
        "import itertools, pathlib, sys; from drawleaf.outputs import write_set\n"
        "for n in itertools.count():\n"
        "    write_set(pathlib.Path(sys.argv[1]), {f'{i}.txt': str(n).encode() for i in range(5)})\n"
    )
    for turn in range(20):
        writer = subprocess.Popen([sys.executable, "-c", program, str(target)])
        time.sleep(0.12 + 0.011 * turn)
        writer.kill()
        writer.wait()
        if target.exists():
            files = contents(target)
            assert len(files) == 5
            assert len(set(files.values())) == 1
    assert target.exists()
