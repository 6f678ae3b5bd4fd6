"""Which tests `make mutate` asks first: those that import the changed module, then those of its neighbours."""

from __future__ import annotations

import importlib.util
import sys
from types import ModuleType

import pytest
from tests.conftest import ROOT


@pytest.fixture(scope="module")
def mutate() -> ModuleType:
    found = importlib.util.spec_from_file_location("mutate", ROOT / "scripts" / "mutate.py")
    assert found is not None
    assert found.loader is not None
    module = importlib.util.module_from_spec(found)
    sys.modules["mutate"] = module
    found.loader.exec_module(module)
    return module


def test_the_nearest_tests_of_a_module(mutate: ModuleType) -> None:
    """Shape keys are imported by the tests of the cut list, and used by the cut list itself, which others import."""
    near = mutate.nearest("src/drawleaf/derive/cut_list/shape_key.py")
    assert near[0] == "tests/derive/test_cut_list.py"
    assert 1 < len(near) <= mutate.MOST_NEAR
    beside = "drawleaf.derive.cut_list."
    assert all(any(name.startswith(beside) for name in mutate.imports_of(ROOT / test)) for test in near)


def test_a_mutant_is_one_change_of_a_file(mutate: ModuleType) -> None:
    """Each of the changes of a small file differs from it in one line, and stays Python."""
    every = list(mutate.mutants("derive/layout/search/board_filling"))
    assert len(every) > 20
    file = ROOT / every[0].file
    before = file.read_text(encoding="utf-8")
    for one in every[::7]:
        after = mutate.mutate_code(before, mutate.get_operator(one.operator)(), one.occurrence)
        compile(after, one.file, "exec")
        changed = [new for old, new in zip(before.splitlines(), after.splitlines(), strict=True) if old != new]
        assert len(changed) == 1, one
