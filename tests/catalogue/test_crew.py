"""Real processes: one that dies over a job is replaced, the job tried once more, and nothing else is stopped."""

from __future__ import annotations

from pathlib import Path

from tests.catalogue.jobs import one_file

from drawleaf.catalogue.crew import Processes
from drawleaf.catalogue.making import Job
from drawleaf.compiler import Choice


def test_a_process_that_dies_stops_nothing(tmp_path: Path) -> None:
    names = ["good", "deadly", "once", "fine"]
    for name in names:
        (tmp_path / name).mkdir()
    jobs = [Job(tmp_path / name, Choice()) for name in names]
    made = dict(Processes(2, work=one_file).make(jobs))
    assert sorted(made) == [0, 1, 2, 3]
    assert [made[place].files.get("name.txt") for place in (0, 2, 3)] == [b"good", b"once", b"fine"]
    assert made[1].files == {}
    assert "ended by signal 9" in made[1].told
