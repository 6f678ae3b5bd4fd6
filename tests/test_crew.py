"""A workshop with hands gives what one without them gives, whatever becomes of the hands."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice
from drawleaf.crew import LAYOUTS, Crew, Job, Results, _from_last_save
from drawleaf.workshop import Workshop


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    place = tmp_path / "crate"
    place.mkdir()
    (place / "plan.yaml").write_text(CRATE, encoding="utf-8")
    return place


def results_of(crew: Crew, jobs: list[Job]) -> dict[Job, Results]:
    """Have the crew do the jobs."""
    left, found = list(jobs), {}
    end = time.monotonic() + 30
    while (left or crew.busy) and time.monotonic() < end:
        crew.give(lambda: left.pop(0) if left else None)
        found |= dict(crew.done(0.2))
    return found


def test_what_a_hand_draws_is_what_the_workshop_would_draw(folder: Path) -> None:
    crew = Crew(folder, Choice(), 1)
    crew.begin()
    found = results_of(crew, [("cover",), ("part-01",), LAYOUTS])
    crew.dismiss()
    assert set(found) == {("cover",), ("part-01",), LAYOUTS}
    workshop = Workshop(folder, Choice())
    workshop.take_up()
    drawn = workshop.do(("cover",))
    (key,) = [key for key in drawn if key[0] == "cover"]  # type: ignore[index]
    assert found["cover",][key] == drawn[key]


def test_a_workshop_with_hands_catches_up_and_gives_the_same_booklet(folder: Path) -> None:
    alone, helped = Workshop(folder, Choice()), Workshop(folder, Choice(), hands=1)
    alone.take_up()
    helped.take_up()
    owed = helped.draft().owed
    drawn = {an_id for some in helped.catch_up(owed) for an_id in some}
    assert drawn == {an_id for an_id in owed if not an_id.startswith(("sheet-", "board-"))}
    assert helped.booklet().html == alone.booklet().html
    helped.close()


def test_hands_that_are_gone_are_not_missed(folder: Path) -> None:
    workshop = Workshop(folder, Choice(), hands=1)
    workshop.take_up()
    owed = workshop.draft().owed
    for hand in workshop._crew._hands:
        hand.process.kill()
        hand.process.join()
    drawn = {an_id for some in workshop.catch_up(owed) for an_id in some}
    assert "cover" in drawn
    assert not workshop._crew._hands
    assert workshop.booklet().html
    workshop.close()


def test_orders_from_before_the_last_save_are_dropped() -> None:
    old, new = (1, ("cover",)), (2, ("cover",))
    assert _from_last_save([(1, None), old, (2, None), new]) == [(2, None), new]
    assert _from_last_save([old]) == [old]
