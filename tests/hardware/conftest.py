"""Two small plans that use all families of hardware, whole or with a line changed."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from drawleaf.derive.derive import derive
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Plan
from drawleaf.resolve.resolver import resolve
from drawleaf.solids.build import build_solids
from drawleaf.source.library import Library, load_library
from drawleaf.source.reader import read_plan

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
Resolved = tuple[Plan | None, tuple[Diagnostic, ...]]


@cache
def library() -> Library:
    loaded, problems = load_library([ROOT / "shared"])
    assert not problems
    return loaded


@pytest.fixture
def resolved(tmp_path: Path) -> Callable[..., Resolved]:
    """A plan of this folder by name, resolved, with some pieces of its source replaced; each must be there once."""

    def work(name: str, *changes: tuple[str, str]) -> Resolved:
        text = (HERE / f"{name}.yaml").read_text(encoding="utf-8")
        for old, new in changes:
            assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the source"
            text = text.replace(old, new)
        (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
        reading = read_plan(tmp_path, library())
        assert not reading.diagnostics
        plan, diagnostics = resolve(reading)
        return plan, diagnostics

    return work


@pytest.fixture
def sound(resolved) -> Callable[..., Plan]:
    """The same, where nothing may be wrong."""

    def work(name: str, *changes: tuple[str, str]) -> Plan:
        plan, diagnostics = resolved(name, *changes)
        assert not diagnostics, [one.message for one in diagnostics]
        assert plan is not None
        return plan

    return work


@cache
def derived(name: str) -> Derived:
    """The lists and steps of a plan of this folder, worked out once by each worker."""
    text = (HERE / f"{name}.yaml").read_text(encoding="utf-8")
    with TemporaryDirectory() as made:
        folder = Path(made)
        (folder / "plan.yaml").write_text(text, encoding="utf-8")
        plan, diagnostics = resolve(read_plan(folder, library()))
    assert plan is not None, [one.message for one in diagnostics]
    made_of, problems = derive(plan, build_solids(plan), tidy=False)
    assert not [one for one in problems if one.is_error], [one.message for one in problems]
    return made_of
