"""Where a round-over at an end meets an edge that stays square, a scrap keeps the corner: common practice, no source."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived

SHELF = """
plan: {{title: Shelf, number: X-42, date: 2026-11-20, author: Nobody, lengths: in}}
stock: {{board: {{material: pine board, size: 1x8}}}}
assemblies:
  shelf:
    parts: {{shelf: {{stock: board, full_width: y, grain: x, left: 0, right: 20, front: 0, bottom: 0}}}}
    machining: [{{in: shelf, round_over: {{edges: [{edges}], size: 1/4}}}}]
"""


def scraps(derived: Derived) -> list[str]:
    fmt = Formatter.of(derived.plan)
    actions = [str(action) for step in derived.steps for action in step_text(step, derived, fmt).actions]
    return [action for action in actions if "Clamp a scrap flush" in action]


@pytest.mark.parametrize(
    ("edges", "named"),
    [
        ("front-top, left-top, right-top", ["the back edge of"]),
        ("left-top, right-top", ["the front and back edges of"]),
        ("front-top, back-top, left-top, right-top", []),
        ("front-top", []),
    ],
)
def test_the_edge_that_stays_square_is_backed(edges: str, named: list[str]) -> None:
    told = scraps(derived_from(SHELF.format(edges=edges)))
    assert len(told) == len(named)
    assert all(name in action for name, action in zip(named, told, strict=True))


def test_the_tops_of_bench_and_cabinet_are_backed_and_the_stools_is_round_all_over() -> None:
    for name, wanted in (("boot-bench", 1), ("record-cabinet", 1), ("step-stool", 0)):
        derived = outcome_of(name).derived
        assert derived is not None
        assert len(scraps(derived)) == wanted
