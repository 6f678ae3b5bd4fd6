"""Volumes and areas of every part of the example plans, against OpenCASCADE, to 1e-6.

Every part is compared with the same facets for round things; parts whose only round features are square-on bores
also with true cylinders, whose volume (not area) the facets keep.
"""

from __future__ import annotations

import pytest
from tests.conftest import examples

from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Part
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.solids.build import part_solid, upright_solid
from outside.occt import arc_slack, one_of_each, shape_of, volume_and_area
from solids_scene import ROOT, example

PLANS = sorted(folder.name for folder in (ROOT / "plans").iterdir() if (folder / "plan.yaml").is_file())


def parts_of(name: str):
    return example(name).parts


@pytest.mark.parametrize("name", PLANS)
def test_every_part_agrees(name):
    """Straight parts agree to a millionth; curved outlines and sections to the stated tolerance of their facets. Of the parts of a plan that
    have the same kinds of features, one for each number of features; all of them with ``--long``."""
    kinds = {of_kinds(part): part for part in reversed(one_of_each(parts_of(name)))}
    for part in one_of_each(parts_of(name)) if examples(0, 1) else kinds.values():
        solid = upright_solid(part)
        volume, area = volume_and_area(shape_of(part))
        more_volume, more_area = arc_slack(part)
        assert solid.volume == pytest.approx(volume, rel=1e-6, abs=more_volume), part.id
        assert solid.area == pytest.approx(area, rel=1e-6, abs=more_area), part.id


def of_kinds(part: Part) -> tuple[object, ...]:
    """What kinds of features a part has, how many, and how it stands."""
    kinds = {(type(feature).__name__, getattr(feature, "kind", "")) for feature in part.features}
    return len(part.features), part.thickness, part.section is None, *sorted(kinds)


def test_bored_parts_agree_with_true_cylinders():
    compared = 0
    for part in parts_of("boot-bench"):
        bores = [feature for feature in part.features if isinstance(feature, Bore)]
        square_on = all(sorted(map(abs, bore.direction)) == [0.0, 0.0, 1.0] for bore in bores)
        if bores and square_on and not any(isinstance(feature, EdgeProfile) for feature in part.features):
            compared += 1
            volume, area = volume_and_area(shape_of(part, faceted=False))
            assert part_solid(part).volume == pytest.approx(volume, rel=1e-6), part.id
            assert part_solid(part).area == pytest.approx(area, rel=2e-3), part.id
    assert compared >= 3


def test_the_plans_put_every_kind_of_feature_to_the_test():
    kinds = {type(feature) for name in PLANS for part in parts_of(name) for feature in part.features}
    assert kinds >= {BoxCut, Bore, EdgeProfile, OutlineCut, PlaneCut}
