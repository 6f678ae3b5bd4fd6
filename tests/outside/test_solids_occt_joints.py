"""Volumes and areas of parts with joints cut in solid wood, against OpenCASCADE, to 1e-6: the rack of the catalogue. The trestle table is
with the other plans."""

from __future__ import annotations

import pytest
from tests.small_plans import plan_from

from drawleaf.codes.samples import RACK
from drawleaf.model.plan import Part
from drawleaf.solids.build import upright_solid
from outside.occt import arc_slack, one_of_each, shape_of, volume_and_area

HALF_BLIND = ("back: 200, bottom: 0, high: 100}", "back: 206, bottom: 0, high: 100}")
LOOSE = (
    "{mortise_and_tenon: rail, in: post, with: [glue, pegs]}",
    "{mortise_and_tenon: rail, in: post, loose: yes, with: [glue]}",
)


def agrees(part: Part) -> None:
    solid = upright_solid(part)
    volume, area = volume_and_area(shape_of(part))
    slack, rough = arc_slack(part)
    assert solid.volume == pytest.approx(volume, rel=1e-6, abs=slack), part.id
    assert solid.area == pytest.approx(area, rel=1e-6, abs=rough), part.id


@pytest.mark.parametrize("change", [("", ""), HALF_BLIND, LOOSE], ids=["as drawn", "half-blind", "loose tenon"])
def test_every_part_of_the_rack_agrees(change: tuple[str, str]) -> None:
    """Of a change, the parts that it changes."""
    plan, usual = plan_from(RACK.replace(*change) if change[0] else RACK), plan_from(RACK)
    kinds = {feature.kind for part in plan.parts for feature in part.features}
    assert {"mortise", "lap", "fork", "tenon", "finger", "tail", "socket", "dowel hole"} <= kinds
    same = {(part.body, part.features) for part in usual.parts} if change[0] else set()
    changed = [part for part in one_of_each(plan.parts) if (part.body, part.features) not in same]
    assert changed
    for part in changed:
        agrees(part)
