"""Random boxes: whatever the sizes, a let-in part's body is what is seen of it plus the depth, and its channel takes just that."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drawleaf.model.plan import BoxCut, Part
from drawleaf.resolve.resolver import resolve

BOX = """\
plan: {title: Box, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
dimensions: {width: 20, depth: 10, up: 1, deep_cut: 1/4}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  shelf: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: depth, bottom: 0, top: 40, mirror: {x: width / 2}}
      shelf: {stock: shelf, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: depth, bottom: up, repeat: {along: z, count: 2, spacing: 5}}
    joints:
      - {dado: shelf, in: side, depth: deep_cut, with: [glue]}
"""


def sixteenths(least: int, most: int) -> st.SearchStrategy[Fraction]:
    return st.integers(least, most).map(lambda count: Fraction(count, 16))


@pytest.fixture
def reading(read_text):
    return read_text(BOX)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    width=sixteenths(64, 900),
    up=sixteenths(1, 300),
    cut=sixteenths(1, 6),
    ply=sixteenths(7, 16),
    shelf=sixteenths(4, 16),
)
def test_bodies_grow_by_the_depth(reading, width, up, cut, ply, shelf):
    source = reading.plan
    assert source is not None
    stock = {
        name: entry.model_copy(update={"actual": str(size)})
        for (name, entry), size in zip(source.stock.items(), (ply, shelf), strict=True)
    }
    dimensions = {**source.dimensions, "width": str(width), "up": str(up), "deep_cut": str(cut)}
    plan, _ = resolve(replace(reading, plan=source.model_copy(update={"dimensions": dimensions, "stock": stock})))
    assert plan is not None
    for number in (1, 2):
        part = plan.part(f"box.shelf.{number}")
        assert part.seen.x.extent.inches == width - 2 * ply
        assert part.body.x.extent.inches == width - 2 * ply + 2 * cut
        assert (part.body.y, part.body.z) == (part.seen.y, part.seen.z)
        assert part.size[2].inches == shelf
    for side in ("box.side", "box.side.mirrored"):
        receiver = plan.part(side)
        assert receiver.body == receiver.seen
        filled = [_filled(plan.part(f"box.shelf.{number}"), receiver) for number in (1, 2)]
        dadoes = [feature.box for feature in receiver.features if isinstance(feature, BoxCut)]
        assert dadoes == filled


def _filled(insert: Part, receiver: Part):
    """Where the insert's body and the receiver's body share space: the channel must be just that."""
    return insert.body.overlap(receiver.body)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(width=sixteenths(64, 900), error=sixteenths(1, 39))
def test_a_gap_is_told_to_the_last_sixteenth(reading, width, error):
    """A shelf that is too short by some sixteenths is told by exactly that."""
    source = reading.plan
    assert source is not None
    box = source.assemblies["box"]
    shelf = box.parts["shelf"].model_copy(update={"right": f"side.mirrored.left - {error}"})
    assemblies = {"box": box.model_copy(update={"parts": {**box.parts, "shelf": shelf}})}
    dimensions = {**source.dimensions, "width": str(width)}
    changed = source.model_copy(update={"assemblies": assemblies, "dimensions": dimensions})
    plan, diagnostics = resolve(replace(reading, plan=changed))
    assert plan is None
    whole, rest = divmod(error, 1)
    figure = "-".join(str(piece) for piece in (whole, rest) if piece)
    assert any(one.code == "parts-do-not-touch" and f"is {figure} in short of" in one.message for one in diagnostics)
