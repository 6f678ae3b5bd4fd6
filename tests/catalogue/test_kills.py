"""The real command, killed at a moment of its own, and run again: the same bytes as without the kill, nothing made twice that was whole."""

from __future__ import annotations

import re
import signal
import subprocess
from pathlib import Path

from tests.conftest import ROOT, TINY

from quick_compile import quickly

# In this process, where the ends are quick; the crew of real processes has tests of its own. The run kills itself just after the first trace is kept.
HERE = """
from drawleaf.catalogue import crew
crew.Processes = lambda count, store=None: crew.Alone(store)
"""
KILLED = (
    HERE
    + """
import os, signal
from drawleaf.catalogue import building
building.write_set = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
"""
)


def run(place: Path, out: str, store: str, first: str) -> subprocess.CompletedProcess[str]:
    command = quickly("build", place / "catalogue.yaml", "--out", place / out, "--store", place / store, first=first)
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def contents(folder: Path) -> dict[str, bytes]:
    return {str(one.relative_to(folder)): one.read_bytes() for one in folder.rglob("*") if one.is_file()}


def test_a_run_that_is_killed_goes_on(tmp_path: Path) -> None:
    """Killed between the store and the folder, the worst of all moments: the booklet is put there from the store, and not made again."""
    (tmp_path / "plans" / "tray").mkdir(parents=True)
    (tmp_path / "plans" / "tray" / "plan.yaml").write_text(TINY)
    (tmp_path / "catalogue.yaml").write_text("plans: [{plan: plans/tray}]\nunits: [as written, mm]\n")
    killed = run(tmp_path, "out", "store", KILLED)
    assert killed.returncode == -signal.SIGKILL
    assert not (tmp_path / "out" / "tray").exists()
    again = run(tmp_path, "out", "store", HERE)
    assert again.returncode == 0, again.stderr
    assert re.fullmatch(r"2 booklets in .*: 1 made, 1 from the store\n", again.stdout)
    straight = run(tmp_path, "straight", "other store", HERE)
    assert straight.returncode == 0, straight.stderr
    assert contents(tmp_path / "out") == contents(tmp_path / "straight")


def test_copies_for_buyers(tmp_path: Path) -> None:
    """A copy of each booklet for each buyer; the next run leaves them as they are."""
    (tmp_path / "plans" / "tray").mkdir(parents=True)
    (tmp_path / "plans" / "tray" / "plan.yaml").write_text(TINY)
    (tmp_path / "buyers.csv").write_text("name,order,date\nAda,A-17,2026-11-30\n")
    (tmp_path / "catalogue.yaml").write_text("plans: [{plan: plans/tray}]\ncopies: buyers.csv\n")
    first = "from drawleaf.sell import copies; copies.make_master = lambda data, name: None\n"
    made = run(tmp_path, "out", "store", HERE + first)
    assert made.returncode == 0, made.stderr
    copy = (tmp_path / "copies" / "tray" / "tray-A-17.html").read_text()
    assert "Copy for Ada, order A-17, 2026-11-30" in copy
    assert "copies of 1 booklet in" in made.stdout
    assert made.stdout.endswith(": 1 files written\n")
