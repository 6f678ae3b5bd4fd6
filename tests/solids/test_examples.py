"""The example plans: they are sound, and a fault put into them is found."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from drawleaf.model.place import Axis, Span
from drawleaf.model.plan import BoxCut, Plan
from drawleaf.solids.build import build_solids
from drawleaf.solids.cutters import box_of
from drawleaf.solids.proofs import prove
from drawleaf.solids.travel import WAYS, free_directions
from solids_scene import PLANS, example, mm

EDITIONS = [(name, None) for name in PLANS] + [
    ("boot-bench", "metric_stock"),
    ("boot-bench", "open"),
    ("boot-bench", "wide"),
    ("key-ledge", "long"),
]


@pytest.mark.parametrize(("name", "edition"), EDITIONS)
def test_sound(name, edition):
    plan = example(name, edition)
    assert prove(plan, build_solids(plan)) == ()


def with_part(plan: Plan, part_id: str, **changes) -> Plan:
    return replace(plan, parts=tuple(replace(part, **changes) if part.id == part_id else part for part in plan.parts))


def codes(plan: Plan) -> set[str]:
    return {found.code for found in prove(plan, build_solids(plan))}


def test_every_channel_of_the_bench_is_needed():
    """Leave out the cuts of any part that has some for a joint: its neighbour is then in the same place."""
    plan = example("boot-bench")
    tried = 0
    for part in plan.parts:
        if any(isinstance(feature, BoxCut) and feature.joint for feature in part.features):
            uncut = tuple(feature for feature in part.features if not isinstance(feature, BoxCut))
            assert "shared-wood" in codes(with_part(plan, part.id, features=uncut)), part.id
            tried += 1
    assert tried >= 6


@pytest.mark.parametrize("part_id", ["case.bottom", "case.front_rail", "frame.rail_top", "drawer.face", "seat.top"])
def test_a_part_that_stands_off_opens_its_joints(part_id):
    """Half a millimetre off along some axis, every one of these parts either leaves a neighbour or runs into one."""
    plan = example("boot-bench")
    part = plan.part(part_id)
    away = {"seat.top": Axis.Z, "drawer.face": Axis.Y, "frame.rail_top": Axis.X, "case.front_rail": Axis.X, "case.bottom": Axis.X}[part_id]  # fmt: skip
    span = part.body.span(away)
    outwards = mm(-0.5) if part_id == "drawer.face" else mm(0.5)
    moved = part.body.with_span(away, Span(span.low + outwards, span.high + outwards))
    assert codes(with_part(plan, part_id, body=moved)) & {"open-joint", "shared-wood"}


def test_longer_screws_come_out():
    plan = example("boot-bench")
    joints = []
    for joint in plan.joints:
        long = tuple(replace(one, item=replace(one.item, length=mm(150))) for one in joint.fasteners if one.item.length)
        joints.append(replace(joint, fasteners=long))
    assert {"fastener-comes-out"} <= codes(replace(plan, joints=tuple(joints)))


@pytest.mark.parametrize("name", PLANS)
def test_fittings_stay_in_their_room(name):
    plan = example(name)
    solids = build_solids(plan)
    drawn = [fitting for fitting in plan.fittings if fitting.body is not None]
    assert drawn
    for fitting in drawn:
        solid = solids.fitting(fitting.id)
        assert solid is not None
        low, high = box_of(fitting.body)
        assert (solid.bounds[0] >= low - 0.5).all(), fitting.id
        assert (solid.bounds[1] <= high + 0.5).all(), fitting.id
        assert solid.pieces == 1, fitting.id
        assert solid.volume > 0


def test_fasteners_can_be_drawn():
    plan = example("boot-bench")
    solids = build_solids(plan)
    for joint in plan.joints:
        for fastener in joint.fasteners:
            bar = solids.fastener(fastener)
            assert bar is solids.fastener(fastener)
            reach = np.array(fastener.at.mm) + np.array(fastener.direction) * fastener.item.length.mm
            assert np.abs(bar.mesh.vertices - reach).sum(axis=1).min() < 10


@pytest.mark.parametrize("name", PLANS)
def test_every_plan_comes_apart_one_part_or_group_at_a_time(name):
    """Taking off whatever can move, part by part or assembly by assembly, leaves nothing behind."""
    plan = example(name)
    solids = build_solids(plan)
    groups = [[part.id] for part in plan.parts]
    groups += [[part.id for part in plan.parts_in(assembly.id)] for assembly in plan.assemblies]
    standing = [part.id for part in plan.parts]
    while standing:
        before = len(standing)
        for group in groups:
            moving = [one for one in group if one in standing]
            rest = [one for one in standing if one not in moving]
            if moving and free_directions(solids, moving, rest):
                standing = rest
        assert len(standing) < before, standing
    assert len(WAYS) == 6
