"""How many clamps a step asks for: fewer where brads hold and the clamps move on, none for a diagonal that a rope can pull, none on mitres."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.derive.shop.clamps import NAILED_MOST, clamps_of, move_on
from drawleaf.model.tool_sets import KitClamps
from drawleaf.units import Length
from shape_trials import FRAME, derived_of, words_of

LONG = """\
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 12, bottom: 0, top: 40, mirror: {x: 20}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 12, top: 40}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 12, bottom: 0}
      back: {stock: ply, thickness: y, grain: x, left: 0, right: 40, front: 12, bottom: 0, top: 40}
    joints:
      - {butt: [deck, floor], to: side, with: [glue, {screws: {count: 2}}]}
      - {butt: back, to: [side, deck, floor], with: [glue, {brads: {spacing: 6}}]}
  trim:
    parts:
      stile: {stock: strip, thickness: y, full_width: x, grain: z, left: 0, back: 0, bottom: 0, top: 40, mirror: {x: 20}}
      rail: {stock: strip, thickness: y, full_width: z, grain: x, left: stile.right, right: stile.mirrored.left, back: 0, top: 40, mirror: {z: 20}}
    joints:
      - {butt: rail, to: stile, with: [glue, {pocket_screws: {count: 2, on: back}}]}
      - {butt: trim, to: [case.side, case.deck], with: [glue, {brads: {spacing: 8}}]}
"""


def operation(text: str, kind: str) -> tuple:
    derived = derived_of(text)
    return derived.plan, next(one for step in derived.steps for one in step.operations if one.kind == kind)


def owning(plan, **clamps: int):
    """The plan with a kit that owns so many clamps: ``_50=2`` are two that open 50 in."""
    name = plan.making.kit
    owned = tuple(KitClamps(count, Length.of_inches(int(size[1:]))) for size, count in clamps.items())
    kits = {**plan.catalogue.kits, name: replace(plan.catalogue.kits[name], clamps=owned)}
    return replace(plan, catalogue=replace(plan.catalogue, kits=kits))


def test_where_brads_hold_a_few_clamps_move_on() -> None:
    """Two stiles of 40 in and the rail between them would take a clamp a foot; six do, or the two that the kit has."""
    plan, trim = operation(LONG, "join-body")
    assert [use.count for use in clamps_of(owning(plan, _96=20), [trim])] == [NAILED_MOST]
    assert [use.count for use in clamps_of(owning(plan, _96=2), [trim])] == [2]
    assert [use.count for use in clamps_of(owning(plan, _96=1), [trim])] == [
        NAILED_MOST
    ]  # one alone cannot hold it: borrow
    assert move_on(plan, trim)
    assert "Move the clamps on as you nail" in " ".join(words_of(LONG, "join-trim"))


def test_glue_alone_wants_its_clamps_all_at_once() -> None:
    text = LONG.replace(
        "to: [case.side, case.deck], with: [glue, {brads: {spacing: 8}}]", "to: [case.side, case.deck], with: [glue]"
    )
    plan, trim = operation(text, "join-body")
    assert next(use.count for use in clamps_of(owning(plan, _96=2), [trim])) > NAILED_MOST
    assert not move_on(plan, trim)


def test_a_diagonal_beyond_every_clamp_is_pulled_with_a_rope() -> None:
    plan, square = operation(LONG, "square")
    assert clamps_of(owning(plan, _24=4), [square]) == ()
    assert [use.count for use in clamps_of(owning(plan, _24=4, _96=1), [square])] == [1]
    step = next(step.id for step in derived_of(LONG).steps if square in step.operations)
    assert "rope" in " ".join(words_of(LONG, step))


def test_mitres_are_drawn_shut_with_tape() -> None:
    derived = derived_of(FRAME)
    step = next(step for step in derived.steps if any(one.kind == "join" for one in step.operations))
    assert clamps_of(derived.plan, [one for one in step.operations if one.kind == "join"]) == ()
    assert "masking tape" in [supply.id for supply in step.supplies]
    said = " ".join(words_of(FRAME, step.id))
    assert "masking tape tight over the outside" in said
    assert "clamps" not in said
