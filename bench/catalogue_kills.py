"""The trial of kills: a catalogue built while its run is ended at random moments, and what stands there in the end.

    python bench/catalogue_kills.py [KILLS] [SEED]           the real command with two processes, killed with all its processes by SIGKILL
    python bench/catalogue_kills.py --quick [KILLS] [SEED]   a process of its own without printing and fonts, ended at a moment of its own processor time

After each kill, whatever stands in the output folder must be whole. In the end the bytes must be those of a run that was left in peace. Not part of ``make bench``: it takes
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
from collections.abc import Callable
from pathlib import Path

from catalogue import SMALL, children_seconds
from drawleaf.catalogue.building import Builder, What
from drawleaf.catalogue.crew import Alone
from drawleaf.catalogue.making import Libraries
from drawleaf.catalogue.reading import read_catalogue
from drawleaf.catalogue.store import Store
from drawleaf.outputs import LIST

PLANS = 2
Run = Callable[[Path, str, float | None], bool]
"""A run on a place into a folder of it, ended after so many seconds; whether it came to its end."""


def main(run: Run, kills: int = 30, seed: int = 21) -> None:
    """Try it, and say what was found."""
    moments = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for number in range(PLANS):
            (place / "plans" / f"tray-{number}").mkdir(parents=True)
            text = SMALL.replace("width: 22", f"width: {20 + number}")
            (place / "plans" / f"tray-{number}" / "plan.yaml").write_text(text, encoding="utf-8")
        (place / "catalogue.yaml").write_text("plans: [{plan: plans/*}]\nunits: [as written, mm]\n")
        began = time.monotonic()
        assert run(place, "peace", None)
        whole = children_seconds() if run is forked else time.monotonic() - began
        wanted = digests(place / "peace")
        say(f"{len(wanted)} booklets in {whole:.1f} s without a kill")
        killed = rounds = 0
        while killed < kills:
            # A fresh folder and an empty store each time that it came to its end.
            rounds += 1
            while killed < kills and not run(place, f"killed {rounds}", 0.01 + moments.random() * whole * 0.7):
                killed += 1
                there = digests(place / f"killed {rounds}")
                assert all(there[name] == wanted[name] for name in there), "something is not whole"
                say(f"kill {killed}: {len(there)} of {len(wanted)} stand there, all whole")
            assert run(place, f"killed {rounds}", None), "a run failed"
            assert digests(place / f"killed {rounds}") == wanted, "not the same bytes"
        say(f"{killed} kills in {rounds} rounds: the same bytes every time")


def command(place: Path, out: str, seconds: float | None) -> bool:
    """The real command, the first process of its group, which is killed as a whole."""
    words = [str(place / "catalogue.yaml"), "--out", str(place / out), "--store", str(place / f"store of {out}")]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    call = [sys.executable, "-m", "drawleaf.cli", "build", *words, "--processes", "2"]
    process = subprocess.Popen(call, start_new_session=True, **quiet)
    try:
        assert process.wait(seconds) == 0, "a run failed"
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()
        return False
    return True


LIBRARIES = Libraries()


def forked(place: Path, out: str, seconds: float | None) -> bool:
    """A child process that has everything loaded. The system's own timer of processor time ends it wherever it is; nothing in it can see that come."""
    child = os.fork()
    if child == 0:
        try:
            if seconds is not None:
                signal.signal(signal.SIGPROF, signal.SIG_DFL)
                signal.setitimer(signal.ITIMER_PROF, seconds)
            builder = Builder(Store(place / f"store of {out}"), libraries=LIBRARIES)
            known = read_catalogue(place / "catalogue.yaml", LIBRARIES, place / out)
            done = list(builder.do(builder.tasks(known.booklets), Alone(builder.store)))
            os._exit(0 if done and all(one.what is not What.FAILED for one in done) else 1)
        finally:
            os._exit(1)
    _, status = os.waitpid(child, 0)
    if os.WIFSIGNALED(status):
        assert os.WTERMSIG(status) == signal.SIGPROF
        return False
    assert os.waitstatus_to_exitcode(status) == 0, "a run failed"
    return True


def quicken(place: Path) -> None:
    """Leave printing and fonts out, and load what a run needs before it is forked."""
    from drawleaf.book.output import pdf
    from drawleaf.book.page import fonts

    pdf.make_pdf = lambda html, plan_folder=None: b"%PDF-" + html.encode()
    fonts._subset = lambda file, characters: b""
    folder = place / "plans" / "warm"
    folder.mkdir(parents=True)
    (folder / "plan.yaml").write_text(SMALL, encoding="utf-8")
    (place / "catalogue.yaml").write_text("plans: [{plan: plans/warm}]\n")
    builder = Builder(Store(place / "store"), libraries=LIBRARIES)
    known = read_catalogue(place / "catalogue.yaml", LIBRARIES)
    assert [one.what for one in builder.do(builder.tasks(known.booklets), Alone())] == [What.MAKE]


def digests(out: Path) -> dict[str, str]:
    """Each booklet that stands in a folder, by a digest of all its files; fails where one is not as its list says."""
    found: dict[str, str] = {}
    for folder in sorted(out.iterdir()) if out.is_dir() else ():
        if folder.name.startswith("."):
            continue  # what a killed run left, and the next clears away
        listed = json.loads((folder / LIST).read_bytes())["files"]
        there = {
            file.relative_to(folder).as_posix(): hashlib.sha256(file.read_bytes()).hexdigest()
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
    given = [one for one in sys.argv[1:] if one != "--quick"]
    if len(given) < len(sys.argv) - 1:
        with tempfile.TemporaryDirectory() as warm:
            quicken(Path(warm))
        main(forked, *(int(one) for one in given))
    else:
        main(command, *(int(one) for one in given))
