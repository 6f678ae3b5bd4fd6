"""Shared by all tests: the example plans, worked out once a run; golden files; plans edited in place."""

from __future__ import annotations

import fcntl
import gc
import hashlib
import os
import pickle
import shutil
import sys
import tempfile
from collections.abc import Callable, Generator, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from drawleaf.compiler import Choice, Outcome
    from drawleaf.model.derived import Derived
    from drawleaf.model.diagnostic import Diagnostic
    from drawleaf.model.tool_sets import Kit
    from drawleaf.solids.build import Solids

ROOT = Path(__file__).resolve().parent.parent
PLANS = ("key-ledge", "boot-bench")
KITS = ("full shop", "common power tools", "hand-held only")
MORE_KITS = (*KITS, "hand tools")
TINY = (ROOT / "docs" / "tutorial" / "stage-1.yaml").read_text(encoding="utf-8")
"""The smallest plan that makes a whole booklet, for tests of what is written rather than of what stands in it."""

_SHARED = "DRAWLEAF_TESTS_SHARED"
_LONG = "DRAWLEAF_TESTS_LONG"
# Compiled modules are kept, whatever the environment says: a run has some forty processes of its own, and rewrites 300 test files.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
Made = TypeVar("Made")
# An example's first turn may read the catalogue, and the machine may be busy: no test of ours fails by the clock.
settings.register_profile("steady", deadline=None)
settings.load_profile("steady")


def examples(few: int, many: int) -> int:
    """How many examples Hypothesis tries: few in a run of all tests, many with ``--long``."""
    return many if _LONG in os.environ else few


def pytest_configure(config: pytest.Config) -> None:
    """The run makes a folder in which its workers share what takes long to make."""
    os.environ.pop(_LONG, None)
    if config.getoption("--long"):
        os.environ[_LONG] = "yes"
    if not hasattr(config, "workerinput"):
        os.environ[_SHARED] = tempfile.mkdtemp(prefix="drawleaf-tests-")


def pytest_unconfigure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ.pop(_SHARED), ignore_errors=True)


def pytest_collection_finish() -> None:
    """As ``drawleaf`` itself does, the run spends little on looking for cycles; what was collected stays to its end anyway."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 20, 100)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, object, object]:
    """With ``--cpu``: wall time says little where others work on the same machine. What a test first needs for a file or the run counts as its own."""
    began = os.times()
    result = yield
    if file := item.config.getoption("--cpu"):
        with Path(file).open("a", encoding="utf-8") as table:
            table.write(f"{sum(os.times()[:4]) - sum(began[:4]):.2f}\t{item.nodeid}\n")
    return result


def made_once(name: str, make: Callable[[], Made]) -> Made:
    """What ``make`` gives, made by the first worker of a run that asks for it; another one waits for it."""
    kept = Path(os.environ[_SHARED]) / hashlib.sha256(name.encode()).hexdigest()[:16]
    with kept.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not kept.exists():
            made = make()
            kept.write_bytes(pickle.dumps(made))
            return made
        return pickle.loads(kept.read_bytes())


@pytest.fixture(scope="session", autouse=True)
def _fonts_cut_down_once() -> Iterator[None]:
    """The fonts of the tablet edition, cut down to the characters of a booklet, take a second: made once in a run for the same characters."""
    from drawleaf.book.page import fonts

    cut = fonts._subset
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            fonts, "_subset", cache(lambda *of: made_once(f"fonts {of[0]} {sorted(of[1])}", lambda: cut(*of)))
        )
        yield


def checked_source(text: str, choice: Choice | None = None, *, name: str = "plan", tidy: bool = True) -> Outcome:
    """The outcome of checking a large source, made once in a run: two workers may be asked for the same. ``tidy`` as for ``check_plan``."""
    from drawleaf.compiler import Choice, check_plan

    def make() -> Outcome:
        with tempfile.TemporaryDirectory() as place:
            folder = Path(place) / name
            folder.mkdir()
            (folder / "plan.yaml").write_text(text, encoding="utf-8")
            return check_plan(folder, choice or Choice(), tidy=tidy)

    return made_once(f"check {name} {choice} {tidy} {text}", make)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--long",
        action="store_true",
        help="More of the same: other units, all plans, more random examples (DEVELOPERS.md, Tests): `make fuzz`.",
    )
    parser.addoption("--golden", action="store_true", help="Write golden files anew instead of comparing with them.")
    parser.addoption(
        "--cpu", metavar="FILE", help="Append what each test takes: seconds of the processor, a tab, its name."
    )


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
    """The outcome of checking an example plan."""
    from drawleaf.compiler import Choice, check_plan

    return made_once(f"check {name} {edition}", lambda: check_plan(ROOT / "plans" / name, Choice(edition)))


@cache
def solids_of(name: str) -> Solids:
    """The solids of an example plan, which are the same whatever tools it is built with."""
    from drawleaf.solids.build import build_solids

    derived = outcome_of(name).derived
    assert derived is not None
    return build_solids(derived.plan)


def with_tools(name: str, kit: Kit) -> tuple[Derived, tuple[Diagnostic, ...]]:
    """The lists and steps of an example plan for these tools, and what is said of them; its layouts are not tidy."""
    from drawleaf.derive.derive import derive

    found = outcome_of(name).derived
    assert found is not None
    catalogue = replace(found.plan.catalogue, kits={**found.plan.catalogue.kits, kit.id: kit})
    plan = replace(found.plan, catalogue=catalogue, making=replace(found.plan.making, kit=kit.id))
    return derive(plan, solids_of(name), tidy=False)


@cache
def with_kit(name: str, kit: str) -> tuple[Derived, tuple[Diagnostic, ...]]:
    """The same for one of the kits of ``shared/tool_sets``, made once in a run."""
    found = outcome_of(name).derived
    assert found is not None
    return made_once(f"{name} with {kit}", lambda: with_tools(name, found.plan.catalogue.kits[kit]))


@cache
def drawn(name: str):
    """An example plan derived, drawn and audited, without its pages: (derived, drawings).

    Drawn of ``solids_of``, so that whoever draws it again finds what was seen of them.
    """

    def make():
        from drawleaf.draw.audit import audit_drawings
        from drawleaf.draw.drawings import draw_all

        derived = outcome_of(name).derived
        assert derived is not None
        drawings = draw_all(derived, solids_of(name))
        return audit_drawings(derived, drawings)[0], drawings

    return made_once(f"draw the plan {name}", make)


def drawn_source(folder: Path):
    """The plan in ``folder`` derived, drawn and audited, without its pages: (derived, drawings)."""

    def make():
        from drawleaf.compiler import Choice, read_and_resolve, work_out
        from drawleaf.draw.audit import audit_drawings
        from drawleaf.draw.drawings import draw_all

        outcome, plan = read_and_resolve(folder, Choice())
        assert plan is not None
        outcome, solids = work_out(outcome, plan)
        assert outcome.derived is not None
        assert solids is not None
        drawings = draw_all(outcome.derived, solids)
        return audit_drawings(outcome.derived, drawings)[0], drawings

    return made_once("draw " + (folder / "plan.yaml").read_text(encoding="utf-8"), make)


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
