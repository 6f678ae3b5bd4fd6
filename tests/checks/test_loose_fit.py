"""What lifts out has room between the two that it stands between; what a joint holds is not asked."""

from __future__ import annotations

from tests.small_plans import outcome_from
from tests.trade.plans import LOOSE, loose
from tests.trade.rule import HEAD

from drawleaf.model.checks import CheckResult, Verdict


def told(text: str) -> list[CheckResult]:
    derived = outcome_from(HEAD + text).derived
    assert derived is not None
    return [one for one in derived.checks if one.check == "loose-fit"]


def test_the_room_is_told_and_what_to_write() -> None:
    (passes,) = told(LOOSE.format(**loose()))
    assert passes.verdict is Verdict.PASS
    assert dict(passes.words.values)["room"] is not None
    (tight,) = told(LOOSE.format(**loose(play=0)))
    assert tight.verdict is Verdict.ADVICE
    assert "“left: case.side.right + {gap}” and “right: case.side.mirrored.left - {gap}” in " in tight.remedy.template


def test_a_board_held_by_a_joint_is_not_asked() -> None:
    """Dry between the sides, but let into them: its dado says how it fits."""
    text = LOOSE.format(**loose(play=0)).rstrip()
    held = text.replace("case.side.right + 0", "case.side.right").replace(
        "case.side.mirrored.left - 0", "case.side.mirrored.left"
    )
    assert told(held + "\n    joints:\n      - {butt: board, to: case.side}\n") == []
