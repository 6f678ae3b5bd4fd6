"""One booklet with all that a buyer gets, fonts and PDF too, as `build` makes it in a process of its own and as `compile` does."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import TINY

from drawleaf.catalogue.building import Builder, What
from drawleaf.catalogue.crew import Processes
from drawleaf.catalogue.reading import read_catalogue
from drawleaf.catalogue.store import Store
from drawleaf.compiler import Choice, compile_plan


def test_a_built_booklet_has_the_bytes_of_a_compile(tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """No file differs, and the PDF is one."""
    if not request.config.getoption("--long"):
        pytest.skip("prints two booklets, with --long; test_building compares all but the printing")
    plan = tmp_path / "plans" / "tray"
    plan.mkdir(parents=True)
    (plan / "plan.yaml").write_text(TINY, encoding="utf-8")
    (tmp_path / "catalogue.yaml").write_text("plans: [{plan: plans/tray}]\n", encoding="utf-8")
    builder = Builder(Store(tmp_path / "store"))
    known = read_catalogue(tmp_path / "catalogue.yaml", builder.libraries, tmp_path / "build")
    (done,) = builder.do(builder.tasks(known.booklets), Processes(1, builder.store))
    assert done.what is What.MAKE, done.why
    there = {
        str(one.relative_to(done.booklet.target)): one.read_bytes()
        for one in done.booklet.target.rglob("*")
        if one.is_file() and one.name != ".written.json"
    }
    assert there == compile_plan(plan, Choice()).files
    assert any(content.startswith(b"%PDF-") and len(content) > 100_000 for content in there.values())
