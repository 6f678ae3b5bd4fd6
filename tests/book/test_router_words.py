"""What a router stands on: wood too narrow for its base is made wider with scraps first."""

from __future__ import annotations

import pytest
from tests.small_plans import derived_from
from tests.trade.plans import SHELF, shelf
from tests.trade.rule import HEAD

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text


@pytest.mark.parametrize(("deep", "told"), [(80, True), (250, False)])
def test_a_router_has_wood_to_stand_on(deep: int, told: bool) -> None:
    derived = derived_from(
        HEAD + SHELF.format(**shelf(deep=deep, joint="dado: shelf, in: side, depth: 6", held="glue"))
    )
    said = Formatter.of(derived.plan)
    (step,) = (step for step in derived.steps if any(op.kind == "channel" for op in step.operations))
    words = " ".join(map(str, step_text(step, derived, said).actions))
    assert ("A router tips" in words) == told
