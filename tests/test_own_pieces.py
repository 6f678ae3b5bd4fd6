"""Pieces of our own that need all of the language, each checked in every edition and in the three kits of tools."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from drawleaf.compiler import Choice, check_plan

HERE = Path(__file__).parent / "plans"
KITS = ("hand-held only", "common power tools", "full shop")
WRONG_ON_PURPOSE = ("tall-trouble",)
PIECES = sorted(folder.name for folder in HERE.iterdir() if folder.is_dir() and folder.name not in WRONG_ON_PURPOSE)


def choices() -> list[tuple[str, Choice]]:
    """Every piece with each kit, and with each of its editions."""
    found: list[tuple[str, Choice]] = []
    for piece in PIECES:
        source = yaml.load((HERE / piece / "plan.yaml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        found += [(piece, Choice(kit=kit)) for kit in KITS]
        found += [(piece, Choice(edition=name)) for name in source.get("editions", {})]
    return found


@pytest.mark.parametrize(("piece", "choice"), choices(), ids=lambda one: one if isinstance(one, str) else "")
def test_a_piece_of_our_own_is_good(piece: str, choice: Choice) -> None:
    """Nothing is to be mended in it, whatever it is built with."""
    outcome = check_plan(HERE / piece, choice)
    assert [one.message for one in outcome.diagnostics if one.is_error] == []
    assert outcome.derived is not None


@pytest.mark.parametrize("piece", PIECES)
def test_a_piece_says_what_it_needs(piece: str) -> None:
    """Its first lines say what it needs of the language."""
    head = (HERE / piece / "plan.yaml").read_text(encoding="utf-8").split("plan:")[0]
    assert head.startswith("# ")
    assert "needs of the language" in head
