"""Elevations tell each size once, the sizes of the whole always, and how far legs lean."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from tests.conftest import outcome_of, solids_of

from drawleaf.compiler import Choice, check_plan
from drawleaf.draw.drawings import Desk
from drawleaf.draw.piece.elevations import _once
from drawleaf.model.derived import Derived
from drawleaf.solids.build import Solids, build_solids
from drawleaf.units import Length


def texts(derived: Derived, solids: Solids) -> dict[str, Counter[str]]:
    """The words on each elevation."""
    drawn = Desk(derived, solids).elevations()
    lines = {one.id: [line for line in one.svg.splitlines() if line.lstrip().startswith("<text")] for one in drawn}
    return {an_id: Counter(line.split(">")[1].split("<")[0] for line in found) for an_id, found in lines.items()}


def test_a_stool_tells_its_splay_and_how_wide_its_top_and_its_feet_are() -> None:
    """The legs are placed at 9 degrees seen from the front and at 7 seen from the side; 16 x 11 1/4 is its top, its feet stand 16 9/32 apart."""
    derived = outcome_of("step-stool").derived
    assert derived is not None
    found = texts(derived, solids_of("step-stool"))
    assert found["elevation-front"]["9°"] == found["elevation-side"]["7°"] == 1
    assert found["elevation-front"]["16"] == 2  # once alone, once before 9/32
    assert found["elevation-front"]["32"] == found["elevation-side"]["32"] == 1
    assert sum(count for word, count in found["elevation-front"].items() if "°" in word) == 1


def test_three_splayed_legs_have_their_angle_in_the_views_that_show_it() -> None:
    outcome = check_plan(Path("tests/plans/splayed-table"), Choice())
    assert outcome.derived is not None
    found = texts(outcome.derived, build_solids(outcome.derived.plan))
    assert any("°" in word for word in found["elevation-front"])
    assert not any("°" in word for word in found["elevation-top"])


def test_a_piece_that_stands_square_has_no_angles() -> None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    assert not any("°" in word for words in texts(derived, solids_of("key-ledge")).values() for word in words)


@pytest.mark.parametrize(
    ("chain", "places", "left", "running"),
    [
        ([(0, 90), (90, 1610), (1610, 1700)], [0, 90, 1610, 1700], [(0, 90), (90, 1610), (1610, 1700)], []),
        ([(0, 713), (713, 740)], [0, 70, 713, 740], [(713, 740)], [0, 70, 713]),
        ([], [0, 740], [], []),
        ([], [0, 70, 740], [], [0, 70]),
    ],
)
def test_no_size_is_given_twice(chain, places, left, running) -> None:
    """What the distances one after another tell is not told from the datum too, nor the other way round; the size of the whole is told
    once."""
    mm = Length.of_mm
    whole = [(mm(places[0]), mm(places[-1]))]
    found = _once([(mm(a), mm(b)) for a, b in chain], [mm(one) for one in places], whole)
    assert found == ([(mm(a), mm(b)) for a, b in left], [mm(one) for one in running])
