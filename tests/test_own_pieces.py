"""Pieces of our own that need all of the language, each checked in every edition and in the three kits of tools."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import yaml

from drawleaf.compiler import Choice, Given, read_and_resolve, work_out
from drawleaf.model.plan import Plan
from drawleaf.solids.build import build_solids
from drawleaf.solids.proofs import prove

HERE = Path(__file__).parent / "plans"
KITS = ("hand-held only", "common power tools", "full shop")
WRONG_ON_PURPOSE = ("tall-trouble",)
PIECES = sorted(folder.name for folder in HERE.iterdir() if folder.is_dir() and folder.name not in WRONG_ON_PURPOSE)


def choices() -> list[tuple[str, Choice]]:
    """Every piece with each kit, and with each of its editions."""
    found: list[tuple[str, Choice]] = []
    for piece in PIECES:
        source = yaml.load(
            (HERE / piece / "plan.yaml").read_text(encoding="utf-8"),
            Loader=getattr(yaml, "CBaseLoader", yaml.BaseLoader),
        )
        found += [(piece, Choice(kit=kit)) for kit in KITS]
        found += [(piece, Choice(edition=name)) for name in source.get("editions", {})]
    return found


@cache
def body_of(piece: str) -> tuple[Plan, Given]:
    """The plan with its solids and what their proofs found, which are mostly the same whatever tools it is built with."""
    _, plan = read_and_resolve(HERE / piece, Choice())
    assert plan is not None
    solids = build_solids(plan)
    return plan, Given(solids, prove(plan, solids))


@pytest.mark.parametrize(("piece", "choice"), choices(), ids=lambda one: one if isinstance(one, str) else "")
def test_a_piece_of_our_own_is_good(piece: str, choice: Choice) -> None:
    """Nothing is to be mended in it, whatever it is built with."""
    outcome, plan = read_and_resolve(HERE / piece, choice)
    if plan is not None:
        known, given = body_of(piece)
        alike = (plan.parts, plan.joints, plan.fittings) == (known.parts, known.joints, known.fittings)
        outcome, _ = work_out(outcome, plan, tidy=False, given=given if alike else Given())
    assert [one.message for one in outcome.diagnostics if one.is_error] == []
    assert outcome.derived is not None


@pytest.mark.parametrize("piece", PIECES)
def test_a_piece_says_what_it_needs(piece: str) -> None:
    """Its first lines say what it needs of the language."""
    head = (HERE / piece / "plan.yaml").read_text(encoding="utf-8").split("plan:")[0]
    assert head.startswith("# ")
    assert "needs of the language" in head
