"""What drawleaf says, held against published figures; and the page that lists them all."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.conftest import ROOT
from tests.outside.published import Published, all_published

PAGE = ROOT / "docs" / "checks.md"
START, END = "<!-- figures: made by tests/outside/test_published.py -->", "<!-- end of figures -->"
KNOWN = {
    "read": "read",
    "memory": "from memory",
    "arithmetic": "worked by hand",
    "custom": "common practice, no source",
}
FIGURES = all_published()


@pytest.mark.parametrize("figure", FIGURES, ids=lambda one: one.what)
def test_published_figure(figure: Published) -> None:
    assert figure.ours() == pytest.approx(figure.value, abs=figure.within or 1e-12, rel=0)


def published() -> list[Published]:
    """Those that somebody printed: trade customs and sums worked by hand are no published source."""
    return [one for one in FIGURES if one.known in ("read", "memory")]


def test_enough_figures_from_enough_sources() -> None:
    """The house asks for 60 figures from 15 sources."""
    assert len(published()) >= 60
    assert len({one.source for one in published()}) >= 15


def test_each_figure_says_where_it_is_from() -> None:
    assert all(one.source and one.table for one in FIGURES)
    assert [what for what, count in Counter(one.what for one in FIGURES).items() if count > 1] == []


def listed() -> str:
    """The table as the page prints it."""
    known = Counter(one.known for one in FIGURES)
    sources = sorted({one.source for one in published()})
    counts = (
        f"{len(FIGURES)} figures: {len(published())} from {len(sources)} published sources "
        f"({known['read']} read, {known['memory']} from memory), {known['arithmetic']} worked by hand, {known['custom']} trade customs.\n"
    )
    rows = [
        counts,
        "The sources: " + "; ".join(sources) + ".\n",
        "| Figure | Published | Source | Where | Known |",
        "|---|---|---|---|---|",
    ]
    for one in FIGURES:
        value = f"{one.value:.6g} {one.unit}".strip()
        rows.append(
            f"| {one.what[:1].upper()}{one.what[1:]} | {value} | {one.source} | {one.table} | {KNOWN[one.known]} |"
        )
    return "\n".join(rows)


def test_golden_page_lists_every_figure(request: pytest.FixtureRequest) -> None:
    text = PAGE.read_text(encoding="utf-8")
    before, rest = text.split(START, 1)
    _, after = rest.split(END, 1)
    fresh = f"{before}{START}\n\n{listed()}\n\n{END}{after}"
    if request.config.getoption("--golden"):
        PAGE.write_text(fresh, encoding="utf-8")
    assert PAGE.read_text(encoding="utf-8") == fresh
