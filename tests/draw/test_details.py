"""Details stand in the order of the steps, those that a row of a table tells last; a drawbored one says how far its holes are off."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of, solids_of

from drawleaf.draw.joint.details import detail_settings
from drawleaf.draw.joint.words import detail_lines, plain


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
