"""Volumes and areas of parts with joints cut in solid wood, against OpenCASCADE, to 1e-6: the rack of the catalogue. The trestle table is
with the other plans."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.codes.samples import RACK
from drawleaf.compiler import Choice, check_plan
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
def test_every_part_of_the_rack_agrees(change: tuple[str, str], tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").write_text(RACK.replace(*change) if change[0] else RACK, encoding="utf-8")
    outcome = check_plan(tmp_path, Choice())
    assert outcome.derived is not None
    kinds = {feature.kind for part in outcome.derived.plan.parts for feature in part.features}
    assert {"mortise", "lap", "fork", "tenon", "finger", "tail", "socket", "dowel hole"} <= kinds
    for part in one_of_each(outcome.derived.plan.parts):
        agrees(part)
