"""The codes that no plan of an author's can yield: what must go wrong inside for each."""

from __future__ import annotations

import inspect
from dataclasses import replace
from pathlib import Path

import pytest
from tests.conftest import drawn

from drawleaf.derive.assembly.order import Unit
from drawleaf.derive.assembly.stuck import stuck_diagnostic
from drawleaf.derive.steps import missing_methods
from drawleaf.draw.audit import audit_drawings
from drawleaf.solids.build import build_solids
from drawleaf.solids.proofs import prove
from solids_scene import box, part, plan


def test_a_part_larger_than_its_blank() -> None:
    whole = plan(part("side", (0, 18, 0, 100, 0, 150)))
    solids = build_solids(whole)
    (side,) = whole.parts
    smaller = replace(whole, parts=(replace(side, body=box(0, 18, 0, 90, 0, 150)),))
    assert [one.code for one in prove(smaller, solids)] == ["outside-blank"]


def test_screws_that_nobody_can_reach() -> None:
    two = plan(part("side", (0, 18, 0, 100, 0, 150)), part("shelf", (18, 200, 0, 100, 0, 18)))
    units = (Unit("side", ("side",), (0,)), Unit("shelf", ("shelf",), (1,)))
    found = stuck_diagnostic(two, units, lambda moving, standing: ((1.0, 0.0, 0.0),))
    assert found.code == "cannot-drive"
    assert found.position is not None


def test_a_drawing_that_is_missing() -> None:
    derived, drawings = drawn("key-ledge")
    assert audit_drawings(derived, drawings)[1] == ()
    fewer = replace(drawings, parts={})
    assert [one.code for one in audit_drawings(derived, fewer)[1]] == ["audit-drawings"]


def test_a_kind_of_work_without_a_way() -> None:
    derived, _ = drawn("key-ledge")
    plan_, catalogue = derived.plan, derived.plan.catalogue
    assert missing_methods(plan_) == ()
    fewer = {kind: way for kind, way in catalogue.methods.items() if kind != "dry-fit"}
    bare = replace(plan_, catalogue=replace(catalogue, methods=fewer))
    assert [one.code for one in missing_methods(bare)] == ["unknown-method"]


def test_the_preview_tells_what_it_cannot_show(tmp_path: Path) -> None:
    """``unreadable`` where the folder is gone, ``internal`` where the program itself fails."""
    session = pytest.importorskip("drawleaf.preview.session", reason="the preview's own libraries are not installed")
    tellers = inspect.getsource(session)
    assert tellers.count('_tell_failure("unreadable"') == 1
    assert tellers.count('_tell_failure("internal"') == 1
