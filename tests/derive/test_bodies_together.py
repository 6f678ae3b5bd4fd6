"""Assemblies that can only go to the rest as one are joined to each other first, then go on together."""

from __future__ import annotations

from functools import cache

from tests.small_plans import plan_from

from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.derive.operations.assembly import build_bodies
from drawleaf.derive.operations.drafts import Workshop
from drawleaf.derive.operations.joining import join_bodies
from drawleaf.derive.operations.paths import Paths
from drawleaf.model.plan import Plan

ROW = """plan: {title: Row, number: T-2, date: 2026-11-20, author: A. Maker, lengths: in}
stock: {ply: {material: birch plywood, nominal: 3/4, actual: 3/4}}
assemblies:
  ash: {name: Ash block, parts: {a: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 5, bottom: 0, high: 8}}}
  box: {name: Box block, parts: {b: {stock: ply, thickness: x, grain: z, left: ash.a.right, front: 0, deep: 5, bottom: 0, high: 8}}, joints: [{butt: b, to: ash.a, with: [glue]}]}
  cap: {name: Cap block, parts: {c: {stock: ply, thickness: x, grain: z, left: box.b.right, front: 0, deep: 5, bottom: 0, high: 8}}, joints: [{butt: c, to: box.b, with: [glue]}]}
  day: {name: Day block, parts: {d: {stock: ply, thickness: x, grain: z, left: cap.c.right, front: 0, deep: 5, bottom: 0, high: 8}}, joints: [{butt: d, to: cap.c, with: [glue]}]}
"""
RIGHT, LEFT, UP = (1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)
HELD = {RIGHT: ("ab", "ba", "ac", "ad", "bc", "bd", "cd", "dc"), UP: ("ab", "bc", "ca", "cd", "da")}
"""Who is held back by whom on the way to the right and on the way up: ``ab``, a by b. All other ways are closed."""


@cache
def row() -> Plan:
    return plan_from(ROW)


def free(moving: tuple[str, ...], standing: tuple[str, ...]) -> tuple:
    pairs = [one[-1] + other[-1] for one in moving for other in standing]
    return tuple(way for way, held in HELD.items() if not set(pairs) & set(held))


def shop_of(plan: Plan) -> Workshop:
    cut_list = make_cut_list(plan)
    return Workshop(plan, cut_list, make_layouts(plan, cut_list)[0])


def test_two_pairs_are_joined_and_then_put_together() -> None:
    """Box to ash, day to cap, then cap and day as one to what stands."""
    plan = row()
    shop = shop_of(plan)
    paths = Paths(free=free, reach=lambda *_: True, tilt=lambda *_: None)
    joining = build_bodies(shop, paths)
    assert not joining.diagnostics
    assert list(joining.inside) == ["cap+day"]
    join_bodies(shop, joining, before_finish=True, each=lambda _bodies: None)
    steps = {draft.id: draft for draft in shop.drafts}
    assert list(steps) == ["join-box", "join-day", "join-cap-and-day"]
    whole = steps["join-cap-and-day"]
    assert whole.title == "Glue the cap block and day block to the box block"
    assert set(whole.operations[0].parts) == {"cap.c", "day.d"}
    assert whole.scene is not None
    assert {(move.part, move.direction) for move in whole.scene.moves} == {("cap.c", LEFT), ("day.d", LEFT)}
