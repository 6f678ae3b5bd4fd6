"""Templates of an author's own are rendered apart: what they take is bounded, whatever they do."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path

import pytest
from tests.conftest import TINY, drawn_source

from bombs import BOMBS
from drawleaf.book.output import apart, booklet
from drawleaf.book.output.apart import rendering
from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.figures_in_names import with_figures_set
from drawleaf.book.words.own_templates import TemplateFaultError

SHORT = 0.3


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
    """Within its short time of the processor and 1 GB, with the file's name, in which it stands wherever Python still had a say."""
    folder, derived, drawings = tray
    file = cover(folder, f"<p>{BOMBS[name]}</p>")
    made = rendering(derived, drawings, for_print=False, plan_folder=folder, seconds=SHORT)
    assert made.page is None
    assert made.seconds < SHORT + 3
    if sys.platform == "linux":
        assert 0 < made.megabytes < 1000
    assert made.fault is not None
    told = made.fault.diagnostic()
    assert told.position is not None
    assert (told.position.file, told.position.line) == (file.as_posix(), 1)
    assert "of your own" in told.message


def test_an_endless_template_has_ten_seconds(tray, monkeypatch: pytest.MonkeyPatch) -> None:
    """As a compile and the preview allow them, which `make bench` measures for every bomb. Here less is allowed, to see that it counts."""
    folder, derived, drawings = tray
    assert apart.SECONDS + apart.SECONDS_FOR_A_MEGABYTE < 10
    monkeypatch.setattr(apart, "SECONDS", SHORT)
    cover(folder, BOMBS["loop in a loop"])
    with pytest.raises(TemplateFaultError, match="seconds of work"):
        make_html(derived, drawings, for_print=False, plan_folder=folder)
    assert apart.rendering(derived, drawings, for_print=False, plan_folder=folder).seconds < 3


def test_a_page_finds_nothing_of_the_page_before(tray) -> None:
    """The process is kept, and each page is rendered in a copy of it: whatever befell one, the next begins afresh."""
    folder, derived, drawings = tray
    cover(
        folder,
        "{% set ns = namespace(a=[]) %}{% for i in range(9) %}{{ ns.a.append(i) or '' }}{% endfor %}<p>{{ ns.a|length }}</p>",
    )
    with pytest.raises(TemplateFaultError):
        make_html(derived, drawings, for_print=False, plan_folder=folder)
    process = apart._process()
    cover(folder, "<p>{{ plan.parts|length }} parts</p>")
    for _ in range(2):
        assert f"<p>{len(derived.plan.parts)} parts</p>" in make_html(
            derived, drawings, for_print=False, plan_folder=folder
        )
    assert apart._process() is process


@pytest.mark.skipif(not hasattr(os, "killpg"), reason="a system without groups of processes")
def test_a_renderer_that_is_killed_is_begun_anew(tray) -> None:
    folder, derived, drawings = tray
    cover(folder, "<p>Good</p>")
    assert "<p>Good</p>" in make_html(derived, drawings, for_print=False, plan_folder=folder)
    process = apart._process()
    os.killpg(process._popen.pid, signal.SIGKILL)
    process._popen.wait()
    assert "<p>Good</p>" in make_html(derived, drawings, for_print=False, plan_folder=folder)
    apart.end_renderer()


def test_what_is_rendered_apart_is_what_would_be_rendered_here(tray) -> None:
    folder, derived, drawings = tray
    cover(folder, "<p>{{ about.title }}: {{ 6 * 7 }}</p>")
    for for_print in (True, False):
        apart = make_html(derived, drawings, for_print=for_print, plan_folder=folder)
        assert "<p>Seed tray: 42</p>" in apart
        here = booklet.rendered(derived, drawings, for_print=for_print, plan_folder=folder)
        body = with_figures_set(here).split("</style>")[-1]
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
    apart.end_renderer()
    assert "<p>Good</p>" in make_html(derived, drawings, for_print=True, plan_folder=folder)
    assert not (folder / "was-run").exists()
