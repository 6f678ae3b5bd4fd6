"""Templates of the author's own, beside the plan, stand in for ours by name."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.book.output.booklet import make_html


def plan_folder(folder: Path, template: str, text: str) -> Path:
    file = folder / "templates" / template
    file.parent.mkdir(parents=True)
    file.write_text(text, encoding="utf-8")
    for kind in ("cut", "assemble"):  # kinds of work of the made-up steps, none of ours
        words = folder / "templates" / "steps" / f"{kind}.j2"
        words.parent.mkdir(exist_ok=True)
        words.write_text("do: Work.\n", encoding="utf-8")
    plan = folder / "stool"
    plan.mkdir()
    return plan


@pytest.mark.parametrize("for_print", [True, False])
def test_a_chapter_of_the_authors_own_is_used(derived, drawings, plain_words, tmp_path: Path, for_print: bool):
    folder = plan_folder(tmp_path, "chapters/care.html.j2", "<p>Oil it each spring.</p>")
    ours = make_html(derived, drawings, for_print=for_print)
    own = make_html(derived, drawings, for_print=for_print, plan_folder=folder)
    assert "Oil it each spring." in own
    assert "Oil it each spring." not in ours
    assert "Safety first" in own


def test_a_style_sheet_of_the_authors_own_is_used(derived, drawings, plain_words, tmp_path: Path):
    folder = plan_folder(tmp_path, "css/print.css", "h2 { color: #123456 }")
    assert "#123456" in make_html(derived, drawings, for_print=True, plan_folder=folder)
