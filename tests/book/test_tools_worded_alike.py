"""A tool that is handled like another takes that one's words in its steps, and no template knows it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from drawleaf.model.tools import Tool
from drawleaf.resources import product_folder
from drawleaf.source.library import load_library
from small_plans import derived_from

BOARD = """\
plan: {title: Board, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  board: {material: pine board, size: 1x8}
assemblies:
  board:
    loose: yes
    parts:
      board: {stock: board, thickness: z, grain: x, left: 0, right: 20, front: 0, full_width: y, bottom: 0}
    machining:
      - {in: board, round_over: {edges: [front-top], size: 1/4}}
"""


@cache
def board() -> tuple[Derived, Step, Tool]:
    """The board, the step that rounds its edges, and the tool that does it."""
    derived = derived_from(BOARD)
    step = next(step for step in derived.steps if step.operations[0].kind == "round-over")
    return derived, step, step.operations[0].method.tools[0]


def told(tool: Tool) -> list[str]:
    derived, step, ours = board()
    method = step.operations[0].method
    tools = tuple(tool if one is ours else one for one in method.tools)
    operation = replace(step.operations[0], method=replace(method, tools=tools))
    text = step_text(replace(step, operations=(operation,)), derived, Formatter.of(derived.plan))
    return [str(line) for line in (*text.setup, *text.actions, text.check or "", text.if_not or "")]


@pytest.mark.parametrize(("worded_as", "alike"), [("router", True), ("", False)])
def test_a_trim_router_of_ones_own_is_told_as_a_router_where_it_says_so(worded_as: str, alike: bool) -> None:
    _, _, ours = board()
    assert ours.id == "router"
    own = replace(ours, id="trim router", worded_as=worded_as)
    assert (told(own) == told(ours)) is alike


def test_the_other_tool_must_be_there(tmp_path: Path) -> None:
    tool = "trim router: {name: Trim router, group: Routers, power: yes, cautions: [router], worded_as: WHAT}\n"
    for what, codes in (("router", []), ("ruoter", ["unknown-item"])):
        (tmp_path / "tools.yaml").write_text(tool.replace("WHAT", what), encoding="utf-8")
        library, found = load_library([product_folder("shared"), tmp_path])
        assert [one.code for one in found] == codes
        if not found:
            assert library.catalogue.tools["trim router"].handled_as == "router"
            assert library.catalogue.tools["router"].handled_as == "router"
