"""Plans for the tests of resolve: the example plans with some lines changed, or a small plan of the test's own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from drawleaf.resolve.resolver import resolve
from drawleaf.source.library import load_library
from drawleaf.source.reader import Reading, read_plan

ROOT = Path(__file__).parents[2]
HEAD = """\
plan: {title: Box, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
"""


@pytest.fixture(scope="session")
def library():
    loaded, problems = load_library([ROOT / "shared"])
    assert not problems
    return loaded


@pytest.fixture
def read_text(tmp_path, library) -> Callable[[str], Reading]:
    """A reading of a whole plan source."""

    def read(text: str) -> Reading:
        folder = tmp_path / "plan"
        folder.mkdir(exist_ok=True)
        (folder / "plan.yaml").write_text(text, encoding="utf-8")
        return read_plan(folder, library)

    return read


@pytest.fixture
def changed(read_text):
    """An example plan, resolved, with some pieces of its source replaced; each must be there once."""

    def make(name: str, *changes: tuple[str, str], **options):
        text = (ROOT / "plans" / name / "plan.yaml").read_text(encoding="utf-8")
        for old, new in changes:
            assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the source"
            text = text.replace(old, new)
        reading = read_text(text)
        assert not reading.diagnostics
        plan, diagnostics = resolve(reading, **options)
        assert plan is not None, [diagnostic.message for diagnostic in diagnostics]
        return plan

    return make


@pytest.fixture
def small(read_text):
    """A small plan of the test's own, resolved: what stands after the head."""

    def make(body: str, **options):
        reading = read_text(HEAD + body)
        assert not reading.diagnostics, [diagnostic.message for diagnostic in reading.diagnostics]
        return resolve(reading, **options)

    return make
