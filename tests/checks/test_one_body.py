"""Parts that are joined fast are one body: a top on two rails of one frame is held, and boards glued side by side move as one."""

from __future__ import annotations

import pytest
from tests.trade.plans import FAST, SLIDES, STRIPS, TABLE, TIED, table

from drawleaf.model.checks import Verdict


def of_the_top(checked, ends: str, front: str, back: str, deep: int) -> Verdict:
    outcome = checked(TABLE.format(**table(deep=deep, strips=deep // 130 + 1, ends=ends, front=front, back=back)))
    assert outcome.derived is not None, outcome.diagnostics
    told = [one for one in outcome.derived.checks if one.check == "wood-movement" and "seat.top" in one.parts]
    return max((one.verdict for one in told), key=list(Verdict).index)


@pytest.mark.parametrize(
    ("ends", "front", "back", "verdict"),
    [
        (TIED, "glue", "glue", Verdict.STOP),
        (TIED, FAST, FAST, Verdict.ADVICE),
        (TIED, FAST, SLIDES, Verdict.PASS),
        ("", FAST, FAST, Verdict.PASS),
    ],
)
def test_a_top_on_two_rails(checked, ends: str, front: str, back: str, verdict: Verdict) -> None:
    """Of oak, on rails some 170 mm apart, screwed, it advises, and some 370 mm, glued, it stops; slots at the back free it, and so do rails
    that nothing ties."""
    deep = 480 if front == "glue" else 280
    assert of_the_top(checked, ends, front, back, deep) is verdict


@pytest.mark.parametrize(
    ("count", "verdict"),
    [(16, Verdict.STOP), (2, Verdict.PASS)],
)
def test_strips_glued_side_by_side_move_as_one(checked, count: int, verdict: Verdict) -> None:
    """Sixteen strips of 19 mm are a board of 305 mm across the grain; each by itself would pass on any rail."""
    outcome = checked(STRIPS.format(count=count))
    assert outcome.derived is not None, outcome.diagnostics
    told = [one for one in outcome.derived.checks if "boards with the" in one.words.template]
    assert [one.verdict for one in told] == [verdict]
    assert dict(told[0].words.values)["count"] == count
    assert dict(told[0].words.values)["width"].mm == pytest.approx(count * 19.05)
