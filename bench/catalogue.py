"""A whole catalogue: what a run costs in which nothing changed, what a changed entry makes again, and what is won side by side.

Times are of this machine and of what else it does meanwhile. Plans are the tutorial's tray under other names and widths, so that a run takes minutes and not
hours; where only the bookkeeping is measured, its PDF is replaced by as many bytes as that of the boot bench has.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path
from unittest.mock import patch

from drawleaf.catalogue.building import Builder, Task, What
from drawleaf.catalogue.cluster import Cluster
from drawleaf.catalogue.crew import Alone, Crew, Processes
from drawleaf.catalogue.reading import read_catalogue
from drawleaf.catalogue.store import Store

ROOT = Path(__file__).resolve().parent.parent
TRAY = (ROOT / "docs" / "tutorial" / "stage-5.yaml").read_text(encoding="utf-8")
HOOK = "    hardware:\n      - {item: coat hook, on: end, face: left, at: {y: 4, z: 1-3/4}}\n"
SMALL = (ROOT / "docs" / "tutorial" / "stage-1.yaml").read_text(encoding="utf-8")
PDF_BYTES = 1_500_000
UNCHANGED_PLANS, HOOKED_PLANS, CHOICES = 15, 5, 4


def measure() -> dict[str, float]:
    """All figures of a catalogue."""
    with tempfile.TemporaryDirectory() as folder:
        figures = bookkeeping(Path(folder) / "bookkeeping")
        return figures | side_by_side(Path(folder) / "side")


def bookkeeping(place: Path) -> dict[str, float]:
    """``catalogue_unchanged_seconds`` of 60 booklets, with those of the processor alone, and ``catalogue_one_hinge_share``: how many are made again when one entry of hardware
    changes, for each that uses it. 1 is exact."""
    for number in range(UNCHANGED_PLANS):
        text = SMALL.replace("width: 22", f"width: {20 + number / 4}") + (HOOK if number < HOOKED_PLANS else "")
        _plan(place, f"tray-{number}", text)
    shutil.copytree(ROOT / "shared" / "hardware", place / "shared" / "hardware")
    (place / "catalogue.yaml").write_text("plans: [{plan: plans/*}]\nunits: [in, mm]\npapers: [letter, a4]\n")
    with (
        patch("drawleaf.book.output.pdf.make_pdf", lambda html, plan_folder=None: os.urandom(16) * (PDF_BYTES // 16)),
        patch("drawleaf.book.page.fonts._subset", lambda file, characters: b"x" * 100_000),
    ):
        done = _built(place, "store", None)
    assert len(done) == UNCHANGED_PLANS * CHOICES, done
    command = [
        sys.executable,
        "-m",
        "drawleaf.cli",
        "build",
        str(place / "catalogue.yaml"),
        "--store",
        str(place / "store"),
    ]
    began, used = time.perf_counter(), children_seconds()
    said = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    unchanged, worked = time.perf_counter() - began, children_seconds() - used
    assert f"{len(done)} as they were" in said, said
    entry = place / "shared" / "hardware" / "fittings.yaml"
    entry.write_text(entry.read_text().replace("held by two screws", "held by two strong screws"))
    again = [one for one in _tasks(place, "store")[1] if one.what is What.MAKE]
    return {
        "catalogue_unchanged_seconds": unchanged,
        "catalogue_unchanged_cpu_seconds": worked,
        "catalogue_one_hinge_share": len(again) / (HOOKED_PLANS * CHOICES),
    }


def side_by_side(place: Path) -> dict[str, float]:
    """``catalogue_speedup_2``, ``catalogue_engine_overhead`` and ``editions_shared_gain``, of real booklets."""
    for number in range(4):
        _plan(place, f"tray-{number}", TRAY.replace("width: 22", f"width: {20 + number}"))
    (place / "catalogue.yaml").write_text("plans: [{plan: plans/*}]\n")
    one = _seconds(place, "one", Processes(1, Store(place / "store 1")))
    two = _seconds(place, "two", Processes(2, Store(place / "store 2")))
    with _two_workers(place) as address:
        engine = _seconds(place, "engine", Cluster(address, print))
    (place / "editions.yaml").write_text(
        "plans: [{plan: plans/tray-0, editions: all}]\npapers: [letter, a4]\nunits: [as written, both]\n"
    )
    together = _seconds(place, "together", Processes(1, Store(place / "store 3")), "editions.yaml", most=5)
    alone = sum(
        _seconds(place, f"by itself {number}", Processes(1), "editions.yaml", first=number, most=1)
        for number in range(5)
    )
    return {
        "catalogue_speedup_2": one / two,
        "catalogue_engine_overhead": engine / two,
        "editions_shared_gain": alone / together,
    }


def children_seconds() -> float:
    """Seconds of the processor that the children have used that have ended."""
    used = os.times()
    return used.children_user + used.children_system


def _plan(place: Path, name: str, text: str) -> None:
    folder = place / "plans" / name
    folder.mkdir(parents=True)
    (folder / "plan.yaml").write_text(text, encoding="utf-8")


def _tasks(place: Path, store: str, file: str = "catalogue.yaml", out: str = "build") -> tuple[Builder, list[Task]]:
    builder = Builder(Store(place / store))
    known = read_catalogue(place / file, builder.libraries, place / out)
    assert known.diagnostics == (), known.diagnostics
    return builder, builder.tasks(known.booklets)


def _built(place: Path, store: str, crew: Crew | None) -> Sequence[object]:
    builder, tasks = _tasks(place, store)
    done = list(builder.do(tasks, crew or Alone(builder.store)))
    assert all(one.what is What.MAKE for one in done), [one.why for one in done]
    return done


def _seconds(
    place: Path, out: str, crew: Crew, file: str = "catalogue.yaml", first: int = 0, most: int | None = None
) -> float:
    """Wall-clock seconds of making some booklets of a catalogue, with a store that is empty."""
    builder, tasks = _tasks(place, f"files {out}", file, out)
    wanted = tasks[first : None if most is None else first + most]
    began = time.perf_counter()
    done = list(builder.do(wanted, crew))
    assert all(one.what is What.MAKE for one in done), [one.why for one in done]
    return time.perf_counter() - began


@contextmanager
def _two_workers(place: Path) -> Iterator[str]:
    """A Dask scheduler with two workers on this machine; its address."""
    import distributed

    file = place / "scheduler.json"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    with ExitStack() as stack:

        def start(*command: str) -> None:
            process = subprocess.Popen([sys.executable, "-m", *command], **quiet)
            stack.callback(process.wait)
            stack.callback(process.kill)

        start(
            "distributed.cli.dask_scheduler",
            "--host",
            "127.0.0.1",
            "--port",
            "0",
            "--no-dashboard",
            "--scheduler-file",
            str(file),
        )
        while not file.exists():
            time.sleep(0.1)
        for _ in range(2):
            options = ("--nthreads", "1", "--no-nanny", "--no-dashboard")
            start("distributed.cli.dask_worker", "--scheduler-file", str(file), *options)
        address = json.loads(file.read_text())["address"]
        with distributed.Client(address, set_as_default=False) as client:
            client.wait_for_workers(2)
        yield address
