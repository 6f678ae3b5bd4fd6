"""Templates of an author's own are rendered apart: what they take is bounded, whatever they do."""

from __future__ import annotations

import resource
import sys
from pathlib import Path

import pytest
from tests.conftest import TINY, drawn_source

from bombs import BOMBS
from drawleaf.book.output import booklet
from drawleaf.book.output.booklet import make_html
from drawleaf.book.words.own_templates import TemplateFaultError


@pytest.fixture(scope="module")
def tray(tmp_path_factory: pytest.TempPathFactory):
    """A small plan, drawn."""
    folder = tmp_path_factory.mktemp("bombs") / "tray"
    folder.mkdir()
    (folder / "plan.yaml").write_text(TINY, encoding="utf-8")
    return folder, *drawn_source(folder)


def cover(folder: Path, text: str) -> Path:
    file = folder / "templates" / "chapters" / "cover.html.j2"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return file


@pytest.mark.parametrize("name", BOMBS)
def test_a_bomb_ends_in_a_message_soon_and_small(tray, name: str) -> None:
    """Under 10 s of processor time and 1 GB, with the file's name, in which it stands wherever Python still had a say."""
    folder, derived, drawings = tray
    file = cover(folder, f"<p>{BOMBS[name]}</p>")
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    with pytest.raises(TemplateFaultError) as raised:
        make_html(derived, drawings, for_print=False, plan_folder=folder)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime < 10
    if sys.platform == "linux":
        assert after.ru_maxrss < 1e6  # KB, of the largest process so far
    told = raised.value.fault.diagnostic()
    assert told.position is not None
    assert (told.position.file, told.position.line) == (file.as_posix(), 1)
    assert "of your own" in told.message


def test_what_is_rendered_apart_is_what_would_be_rendered_here(tray) -> None:
    folder, derived, drawings = tray
    cover(folder, "<p>{{ about.title }}: {{ 6 * 7 }}</p>")
    for for_print in (True, False):
        apart = make_html(derived, drawings, for_print=for_print, plan_folder=folder)
        assert "<p>Seed tray: 42</p>" in apart
        here = booklet.rendered(derived, drawings, for_print=for_print, plan_folder=folder)
        body = here.split("</style>")[-1]
        assert for_print is False or body in apart


def test_our_own_templates_take_no_process(tray, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, derived, drawings = tray
    monkeypatch.setattr(booklet, "render_apart", lambda *_, **__: pytest.fail("a process for our own templates"))
    assert make_html(derived, drawings, for_print=True)
    bare = folder.parent / "bare"
    bare.mkdir(exist_ok=True)
    assert make_html(derived, drawings, for_print=True, plan_folder=bare)


def test_nothing_beside_the_plan_is_run(tray, monkeypatch: pytest.MonkeyPatch) -> None:
    """A module that bears the name of one of ours, in the folder in which the command is given."""
    folder, derived, drawings = tray
    cover(folder, "<p>Good</p>")
    (folder / "json.py").write_text("open('was-run', 'w')")
    (folder / "drawleaf").mkdir()
    (folder / "drawleaf" / "__init__.py").write_text("open('was-run', 'w')")
    monkeypatch.chdir(folder)
    assert "<p>Good</p>" in make_html(derived, drawings, for_print=True, plan_folder=folder)
    assert not (folder / "was-run").exists()
