"""The trial of kills: a catalogue built while its run is killed at random moments, and what stands there in the end.

    python bench/catalogue_kills.py [KILLS] [SEED]

Every kill is a SIGKILL of the command's whole group of processes, at a random moment of what a run without a kill takes. After each,
whatever stands in the output folder must be whole. In the end the bytes must be those of a run that was left in peace. Not part of ``make bench``: it takes
as long as it takes.
"""

from __future__ import annotations

import hashlib
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from catalogue import SMALL

LIST = ".written.json"
UNITS = "[as written, mm, both]"
PLANS = 4


def main(kills: int = 30, seed: int = 21) -> None:
    """Try it, and say what was found."""
    moments = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for number in range(PLANS):
            (place / "plans" / f"tray-{number}").mkdir(parents=True)
            text = SMALL.replace("width: 22", f"width: {20 + number}")
            (place / "plans" / f"tray-{number}" / "plan.yaml").write_text(text, encoding="utf-8")
        (place / "catalogue.yaml").write_text(f"plans: [{{plan: plans/*}}]\nunits: {UNITS}\npapers: [letter, a4]\n")
        began = time.monotonic()
        finish(start(place, "peace"))
        whole = time.monotonic() - began
        wanted = digests(place / "peace")
        say(f"{len(wanted)} booklets in {whole:.0f} s without a kill")
        killed = rounds = 0
        while killed < kills:
            # A fresh start each time that it came to its end between two kills.
            rounds += 1
            out = f"killed {rounds}"
            while killed < kills:
                process = start(place, out)
                try:
                    process.wait(moments.random() * whole * 0.6)
                except subprocess.TimeoutExpired:
                    os.killpg(process.pid, signal.SIGKILL)
                    process.wait()
                    killed += 1
                    there = digests(place / out)
                    assert all(there[name] == wanted[name] for name in there), "something is not whole"
                    say(f"kill {killed}: {len(there)} of {len(wanted)} stand there, all whole")
                else:
                    break
            finish(start(place, out))
            assert digests(place / out) == wanted, "not the same bytes"
        say(f"{killed} kills in {rounds} rounds: the same bytes every time")


def start(place: Path, out: str) -> subprocess.Popen[bytes]:
    """A run of the command, the first process of its group."""
    command = [
        "build",
        str(place / "catalogue.yaml"),
        "--out",
        str(place / out),
        "--store",
        str(place / f"store of {out}"),
    ]
    options = ["--processes", "2"]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    return subprocess.Popen([sys.executable, "-m", "drawleaf.cli", *command, *options], start_new_session=True, **quiet)


def finish(process: subprocess.Popen[bytes]) -> None:
    """Let it come to its end."""
    assert process.wait() == 0, "a run failed"


def digests(out: Path) -> dict[str, str]:
    """Each booklet that stands in a folder, by a digest of all its files; fails where one is not as its list says."""
    found: dict[str, str] = {}
    for folder in sorted(out.iterdir()) if out.is_dir() else ():
        if folder.name.startswith("."):
            continue  # what a killed run left, and the next clears away
        listed = json.loads((folder / LIST).read_bytes())["files"]
        there = {
            str(file.relative_to(folder)): hashlib.sha256(file.read_bytes()).hexdigest()
            for file in sorted(folder.rglob("*"))
            if file.is_file() and file.name != LIST
        }
        assert there == listed, f"{folder} is not whole"
        found[folder.name] = hashlib.sha256(json.dumps(there, sort_keys=True).encode()).hexdigest()
    return found


def say(line: str) -> None:
    """One line of the report."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(*(int(one) for one in sys.argv[1:]))
