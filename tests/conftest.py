"""Shared by all tests: the example plans, resolved once a worker; golden files; plans edited in place."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PLANS = ("key-ledge", "boot-bench")
KITS = ("full shop", "common power tools", "hand-held only")
MORE_KITS = (*KITS, "hand tools")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--long", action="store_true", help="The long runs of the fuzz and of the kills: `make fuzz`.")
    parser.addoption("--golden", action="store_true", help="Write golden files anew instead of comparing with them.")


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compare a text with the golden file of that name beside the test, or write it with ``--golden``."""
    folder = Path(request.path).parent / "golden"

    def compare(name: str, text: str) -> None:
        file = folder / name
        if request.config.getoption("--golden"):
            file.parent.mkdir(exist_ok=True)
            file.write_text(text, encoding="utf-8")
        assert file.is_file(), f"no golden file {file}; make it with `make golden`"
        assert text == file.read_text(encoding="utf-8")

    return compare


@cache
def outcome_of(name: str, edition: str | None = None):
    """The outcome of checking an example plan, made once a worker."""
    from drawleaf.compiler import Choice, check_plan

    return check_plan(ROOT / "plans" / name, Choice(edition))


@cache
def compiled(name: str, edition: str | None = None):
    """The outcome of compiling an example plan, made once a worker."""
    from drawleaf.compiler import Choice, compile_plan

    return compile_plan(ROOT / "plans" / name, Choice(edition))


@cache
def drawn(name: str):
    """An example plan derived and drawn, without its pages, made once a worker: (derived, drawings)."""
    from drawleaf.compiler import Choice, read_and_resolve, work_out
    from drawleaf.draw.drawings import draw_all

    outcome, plan = read_and_resolve(ROOT / "plans" / name, Choice())
    assert plan is not None
    outcome, solids = work_out(outcome, plan)
    assert outcome.derived is not None
    assert solids is not None
    return outcome.derived, draw_all(outcome.derived, solids)


@pytest.fixture
def edited_plan(tmp_path: Path) -> Callable[..., Path]:
    """A copy of an example plan with some of its text replaced; every replacement must be found."""

    def edit(name: str, *changes: tuple[str, str]) -> Path:
        folder = tmp_path / name
        shutil.copytree(ROOT / "plans" / name, folder, dirs_exist_ok=True)
        source = folder / "plan.yaml"
        text = source.read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text, f"{old!r} does not stand in {name}"
            text = text.replace(old, new)
        source.write_text(text, encoding="utf-8")
        return folder

    return edit
