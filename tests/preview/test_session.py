"""The work behind the preview, without a browser."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import TINY

from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice
from drawleaf.preview import session as room
from drawleaf.preview.session import Session


@pytest.fixture
def session(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Session:
    monkeypatch.setattr(room, "spare_cores", lambda: 0)
    folder = tmp_path / "crate"
    folder.mkdir()
    (folder / "plan.yaml").write_text(CRATE, encoding="utf-8")
    return Session(folder, Choice(), lambda kind, what: None)


def save(session: Session, text: str) -> None:
    """Save the plan, and have it worked on to the end."""
    (session.folder / "plan.yaml").write_text(text, encoding="utf-8")
    session._saved.clear()
    session._round()
    if session._saved.is_set():  # the save itself was noticed while the round was on
        session._saved.clear()
        session._round()


def test_after_mistakes_and_an_undo_nothing_stays_pale(session: Session) -> None:
    """After one mistake, and after four, by when what was kept has been forgotten and is made anew: the same as what stands on the page."""
    save(session, TINY)
    assert session.now.booklet is not None
    assert not session.now.owed
    cover = session._drawn["cover"].panes[0].sight
    assert cover is not None
    assert session.shapes()["toward"] == list(cover.axes[2])  # the turning view begins as the cover shows the piece
    assert session.now.state()["named"].startswith("Seed tray (")
    shown = session.now.booklet.html
    for mistakes in (1, 4):
        for _ in range(mistakes):
            save(session, TINY + "\nnonsense: 1\n")
            assert session.now.failed
        save(session, TINY)
        assert not session.now.failed
        assert not session.now.busy
        assert session.now.owed == ()
        assert session.now.booklet is not None
        assert session.now.booklet.html == shown


def test_the_other_editions_are_tried_when_the_author_reads_on(
    session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is wrong with one of them alone stands beside the page, which stays as it is."""
    monkeypatch.setattr(room, "IDLE_SECONDS", 0.0)
    spoilt = CRATE.replace("metric: {units: mm}", "metric: {units: mm}\n  deep: {dimensions: {dado: 3}}")
    save(session, spoilt)
    session.try_other_editions()
    assert not session.now.failed
    told = [one for one in session.now.remarks if one["code"] == "too-deep"]
    assert told
    assert all(one["message"].startswith("In the edition “deep”: ") for one in told)
    assert all(one["text"] == spoilt.splitlines()[one["line"] - 1] for one in told)
