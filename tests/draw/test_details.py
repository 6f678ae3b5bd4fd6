"""Details stand in the order of the steps, those that a row of a table tells last; a drawbored one says how far its holes are off."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of, solids_of
from tests.small_plans import derived_from

from drawleaf.draw.joint.details import detail_settings, draw_detail
from drawleaf.draw.joint.kinds import through
from drawleaf.draw.joint.words import detail_lines, plain
from drawleaf.solids.build import build_solids


@pytest.mark.parametrize("name", ["trestle-table", "step-stool", "boot-bench", "key-ledge"])
def test_details_stand_in_the_order_of_the_steps(name: str) -> None:
    derived = outcome_of(name).derived
    assert derived is not None
    first: dict[str, int] = {}
    for step in derived.steps:
        for operation in step.operations:
            for joint in operation.joints:
                first.setdefault(joint.id, step.number)
            for _, feature in operation.features:
                first.setdefault(getattr(feature, "joint", None) or "", step.number)
    settings = detail_settings(derived, solids_of(name))
    turns = [(plain(derived, one.kind), min(first[joint.id] for joint in one.kind.joints)) for one in settings]
    assert turns == sorted(turns)
    assert [one.number for one in settings] == list(range(1, len(settings) + 1))


def test_a_drawbored_tenon_says_how_far_its_holes_are_off() -> None:
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    said = {
        one.kind.joint.family.title: "".join(str(piece) for line in detail_lines(derived, one.kind) for piece in line)
        for one in detail_settings(derived, solids_of("trestle-table"))
        if one.kind.joint.fasteners
    }
    assert "Holes in the tenon" in said["mortise and tenon"]
    assert "nearer to the shoulder" not in said["breadboard"]


KEYED = """
plan: {title: T, number: T-1, date: 2026-12-01, author: A. Maker, lengths: mm}
stock:
  frame: {material: beech board, size: 45x70}
  wedge: {material: beech board, size: 20x40}
assemblies:
  stand:
    parts:
      post: {stock: frame, thickness: x, full_width: y, grain: z, left: 100, front: 0, bottom: 0, top: 400}
      bar: {stock: frame, thickness: y, full_width: z, grain: x, left: 145, right: 600, front: 12.5, bottom: 200}
    joints:
      - {mortise_and_tenon: bar, in: post, through: yes, thickness: 15, depth: 110, shoulder: 8}
    machining:
      - in: bar
        cutout: {face: front, at: {x: 85, z: 235}, wide: 36, high: 20}
  keys:
    parts:
      key: {stock: wedge, thickness: z, grain: y, wide: 33, right: 100, front: -30, deep: 130, bottom: 225}
    joints:
      - {butt: key, to: stand.post}
checks: {waive: [{check: tip-over, reason: It is part of a loom.}]}
"""


def test_the_wedge_of_a_through_tenon_is_in_its_detail() -> None:
    """The detail showed the rail and the tenon, and of the wedge two boxes in another one."""
    table, small = outcome_of("trestle-table").derived, derived_from(KEYED)
    assert table is not None
    for derived, solids, wedge in (
        (table, solids_of("trestle-table"), "wedges.wedge"),
        (small, build_solids(small.plan), "keys.key"),
    ):
        wedged = [one for one in detail_settings(derived, solids) if through(derived.plan, one.kind.joint) is not None]
        (setting,) = wedged
        assert {other.id for other in [through(derived.plan, setting.kind.joint)] if other} <= {
            wedge,
            f"{wedge}.mirrored",
        }
        drawing = draw_detail(derived, solids, setting)
        number = derived.cut_list.item_of(wedge).number
        assert f">{number}<" in drawing.svg
        assert "goes through the opening" in drawing.alt
