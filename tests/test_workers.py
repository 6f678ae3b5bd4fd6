"""A workshop with workers gives what one without them gives, whatever becomes of them."""

from __future__ import annotations

import os
import select
import subprocess
import sys
import time
from multiprocessing import get_context
from pathlib import Path

import pytest

from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice
from drawleaf.workers import LAYOUTS, Job, Results, Workers, _Worker
from drawleaf.workshop import Editions, PlanWorkshop

PATIENCE = 600.0
"""Seconds after which what does not come is taken never to come: no machine is so slow."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "crate"
    place.mkdir()
    (place / "plan.yaml").write_text(CRATE, encoding="utf-8")
    return place


def results_of(workers: Workers, jobs: list[Job]) -> dict[Job, Results]:
    """Have the workers do the jobs: all are given, and what comes is awaited, a worker's end too."""
    left, found = list(jobs), {}
    while left or workers.busy:
        workers.give(lambda: left.pop(0) if left else None)
        came = workers.done(PATIENCE)
        assert came, "the workers do nothing"
        found |= dict(came)
    return found


def test_what_a_worker_draws_is_what_the_workshop_would_draw(folder: Path) -> None:
    workers = Workers(Editions, folder, Choice(), 1)
    workers.begin()
    found = results_of(workers, [("part-01",), LAYOUTS])
    workers.dismiss()
    assert set(found) == {("part-01",), LAYOUTS}
    workshop = PlanWorkshop(folder, Choice())
    workshop.take_up()
    drawn = workshop.do(("part-01",))
    (key,) = [key for key in drawn if key[0] == "part"]  # type: ignore[index]
    assert found["part-01",][key] == drawn[key]


def test_a_workshop_with_workers_catches_up_with_the_same_drawings(folder: Path) -> None:
    alone, helped = PlanWorkshop(folder, Choice()), PlanWorkshop(folder, Choice(), workers=1)
    alone.take_up()
    helped.take_up()
    owed = ["cover", "part-01", "part-02", "sheet-01", "board-01", "no-such"]
    drawn = {an_id: drawing for some in helped.catch_up(owed) for an_id, drawing in some.items()}
    helped.close()
    assert set(drawn) == {"cover", "part-01", "part-02"}  # layouts come with the booklet
    assert drawn == alone.draw(owed[:3])


def test_workers_that_are_gone_are_not_missed(folder: Path) -> None:
    workshop = PlanWorkshop(folder, Choice(), workers=1)
    workshop.take_up()
    assert workshop._workers._pool is not None
    for process in workshop._workers._pool.processes:
        process.kill()
        process.join()
    drawn = {an_id for some in workshop.catch_up(["part-01", "part-02"]) for an_id in some}
    assert drawn == {"part-01", "part-02"}
    workshop.take_up()
    assert workshop._workers._pool is None
    workshop.close()


def test_workers_leave_when_their_workshop_is_killed(folder: Path) -> None:
    program = (
        "import sys; from pathlib import Path; from drawleaf.compiler import Choice; from drawleaf.workers import Workers; from drawleaf.workshop import Editions\n"
        "if __name__ == '__main__':\n"
        "    workers = Workers(Editions, Path(sys.argv[1]), Choice(), 1); workers.begin(); print(*(one.pid for one in workers._pool.processes), flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", program, str(folder)]
    workshop = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert workshop.stdout is not None
    worker = int(workshop.stdout.readline())
    assert _runs(worker)
    workshop.kill()
    workshop.communicate()
    assert _leaves(worker)


def _leaves(process: int) -> bool:
    """Wait for the end of a process that is no child of ours: the system tells it where it can."""
    if hasattr(os, "pidfd_open"):
        try:
            door = os.pidfd_open(process)
        except ProcessLookupError:
            return True
        ended, _, _ = select.select([door], [], [], PATIENCE)
        os.close(door)
        return bool(ended)
    end = time.monotonic() + PATIENCE
    while _runs(process) and time.monotonic() < end:
        time.sleep(0.05)
    return not _runs(process)


def _runs(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    status = Path(f"/proc/{process}/stat")
    return not (status.exists() and status.read_text().rsplit(")", 1)[1].split()[0] == "Z")


class Noted:
    """Benches that note what is asked of them."""

    def __init__(self) -> None:
        self.asked: list[object] = []

    def of(self, choice: Choice) -> Noted:
        self.asked.append(choice)
        return self

    def take_up(self) -> None:
        self.asked.append("read")

    def do(self, job: Job) -> Results:
        self.asked.append(job)
        return {"made": job}


def test_jobs_from_before_the_last_save_are_dropped() -> None:
    """By the worker, which reads the plan once for a save."""
    benches, save = Noted(), get_context("spawn").Value("i", 2)
    worker = _Worker(benches, save)
    assert worker.do(1, Choice(), ("cover",)) == {}
    assert worker.do(2, Choice("open"), None) == {}
    assert worker.do(2, Choice("open"), ("part-01",)) == {"made": ("part-01",)}
    save.value = 3
    assert worker.do(2, Choice("open"), ("part-02",)) == {}
    worker.do(3, Choice(), ("part-02",))
    assert benches.asked == [Choice("open"), "read", ("part-01",), Choice(), "read", ("part-02",)]


def test_jobs_given_before_a_save_are_forgotten(folder: Path) -> None:
    workers = Workers(Editions, folder, Choice(), 1)
    workers.begin()
    jobs: list[Job] = [("part-01",), ("part-02",)]
    workers.give(lambda: jobs.pop() if jobs else None)
    assert workers.busy
    workers.begin()
    assert not workers.busy
    workers.dismiss()


def test_the_workers_follow_from_edition_to_edition(folder: Path) -> None:
    """The same process draws the edition that is asked for now, and the first again when that is wanted back."""
    workers = Workers(Editions, folder, Choice(), 1)
    drawn = {}
    for choice in (Choice(), Choice("metric"), Choice()):
        workers.begin(choice)
        drawn[choice] = results_of(workers, [("part-01",)])["part-01",] | drawn.get(choice, {})
    workers.dismiss()
    for choice, found in drawn.items():
        alone = PlanWorkshop(folder, choice)
        alone.take_up()
        made = alone.do(("part-01",))
        (key,) = [key for key in made if key[0] == "part"]  # type: ignore[index]
        assert found[key] == made[key]
