"""A workshop with hands gives what one without them gives, whatever becomes of the hands."""

from __future__ import annotations

import os
import select
import subprocess
import sys
import time
from pathlib import Path

import pytest

from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice
from drawleaf.workers import LAYOUTS, Crew, Job, Results, _from_last_save
from drawleaf.workshop import Workshop

PATIENCE = 600.0
"""Seconds after which what does not come is taken never to come: no machine is so slow."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "crate"
    place.mkdir()
    (place / "plan.yaml").write_text(CRATE, encoding="utf-8")
    return place


def results_of(crew: Crew, jobs: list[Job]) -> dict[Job, Results]:
    """Have the crew do the jobs: all are given, and what comes is awaited, a hand's end too."""
    left, found = list(jobs), {}
    while left or crew.busy:
        crew.give(lambda: left.pop(0) if left else None)
        came = crew.done(PATIENCE)
        assert came, "the hands do nothing"
        found |= dict(came)
    return found


def test_what_a_hand_draws_is_what_the_workshop_would_draw(folder: Path) -> None:
    crew = Crew(folder, Choice(), 1)
    crew.begin()
    found = results_of(crew, [("part-01",), LAYOUTS])
    crew.dismiss()
    assert set(found) == {("part-01",), LAYOUTS}
    workshop = Workshop(folder, Choice())
    workshop.take_up()
    drawn = workshop.do(("part-01",))
    (key,) = [key for key in drawn if key[0] == "part"]  # type: ignore[index]
    assert found["part-01",][key] == drawn[key]


def test_a_workshop_with_hands_catches_up_with_the_same_drawings(folder: Path) -> None:
    alone, helped = Workshop(folder, Choice()), Workshop(folder, Choice(), hands=1)
    alone.take_up()
    helped.take_up()
    owed = ["cover", "part-01", "part-02", "sheet-01", "board-01", "no-such"]
    drawn = {an_id: drawing for some in helped.catch_up(owed) for an_id, drawing in some.items()}
    helped.close()
    assert set(drawn) == {"cover", "part-01", "part-02"}  # layouts come with the booklet
    assert drawn == alone.draw(owed[:3])


def test_hands_that_are_gone_are_not_missed(folder: Path) -> None:
    workshop = Workshop(folder, Choice(), hands=1)
    workshop.take_up()
    for hand in workshop._crew._hands:
        hand.process.kill()
        hand.process.join()
    drawn = {an_id for some in workshop.catch_up(["part-01", "part-02"]) for an_id in some}
    assert drawn == {"part-01", "part-02"}
    assert not workshop._crew._hands
    workshop.close()


def test_hands_leave_when_their_workshop_is_killed(folder: Path) -> None:
    program = (
        "import sys; from pathlib import Path; from drawleaf.compiler import Choice; from drawleaf.workers import Crew\n"
        "if __name__ == '__main__':\n"
        "    crew = Crew(Path(sys.argv[1]), Choice(), 1); crew.begin(); print(crew._hands[0].process.pid, flush=True); sys.stdin.read()"
    )
    command = [sys.executable, "-c", program, str(folder)]
    workshop = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    assert workshop.stdout is not None
    hand = int(workshop.stdout.readline())
    assert _runs(hand)
    workshop.kill()
    workshop.communicate()
    assert _leaves(hand)


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


def test_orders_from_before_the_last_save_are_dropped() -> None:
    old, new = (1, ("cover",)), (2, ("cover",))
    assert _from_last_save([(1, Choice()), old, (2, Choice("open")), new]) == [(2, Choice("open")), new]
    assert _from_last_save([old]) == [old]


def test_the_hands_follow_from_edition_to_edition(folder: Path) -> None:
    """The same process draws the edition that is asked for now, and the first again when that is wanted back."""
    crew = Crew(folder, Choice(), 1)
    drawn = {}
    for choice in (Choice(), Choice("metric"), Choice()):
        crew.begin(choice)
        drawn[choice] = results_of(crew, [("part-01",)])["part-01",] | drawn.get(choice, {})
    assert len(crew._hands) == 1
    crew.dismiss()
    for choice, found in drawn.items():
        alone = Workshop(folder, choice)
        alone.take_up()
        made = alone.do(("part-01",))
        (key,) = [key for key in made if key[0] == "part"]  # type: ignore[index]
        assert found[key] == made[key]
