"""Clamps fit the kit: they reach over what they press, there are enough of them, or the work goes in stages; else the author is told."""

from __future__ import annotations

from dataclasses import replace

from tests.small_plans import derived_from
from tests.trade.rule import HEAD

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.shop.clamps import clamp_goes, clamp_problems, clamps_of, lacking
from drawleaf.derive.shop.methods import kit_of
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Plan
from drawleaf.model.steps import ClampUse, Operation
from drawleaf.model.tool_sets import KitClamps
from drawleaf.units import Length

FRAME = """
stock:
  oak: {{material: red oak board, size: 1x3}}
assemblies:
  frame:
    parts:
      stile: {{stock: oak, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 400, mirror: {{x: {long} / 2}}}}
      rail: {{stock: oak, thickness: y, full_width: z, grain: x, left: stile.right, right: stile.mirrored.left, front: 0, top: 400}}
    joints:
      - {{butt: rail, to: stile, with: [glue, {{dowels: {{count: 2}}}}]}}
"""
SHELVES = """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
  strip: {material: red oak board, size: 1x2}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 250, bottom: 0, top: 800, mirror: {x: 300}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 250, bottom: 0, mirror: {z: 400}}
    joints:
      - {butt: deck, to: side, with: [glue, {screws: {heads: filled}}]}
  boards:
    loose: yes
    parts:
      board: {stock: ply, thickness: z, grain: x, left: case.side.right + 1, right: case.side.mirrored.left - 1, front: 0, back: 200, bottom: 200, repeat: {along: z, at: [0, 200]}}
      lip: {stock: strip, thickness: y, full_width: z, grain: x, left: board.left, right: board.right, back: board.front, top: board.top, repeat: {along: z, at: [0, 200]}}
    joints:
      - {butt: lip, to: board, with: [glue]}
"""


def owning(plan: Plan, **clamps: int) -> Plan:
    """The plan with a kit that owns so many clamps: ``_50=2`` are two that open 50 in."""
    kit = kit_of(plan)
    owned = tuple(KitClamps(count, Length.of_inches(int(size[1:]))) for size, count in clamps.items())
    kits = {**plan.catalogue.kits, plan.making.kit: replace(kit, clamps=owned)}
    return replace(plan, catalogue=replace(plan.catalogue, kits=kits))


def operations(derived: Derived) -> list[Operation]:
    return [one for step in derived.steps for one in step.operations if one.kind == "join"]


def test_a_clamp_reaches_over_the_frame_not_over_one_joint() -> None:
    """Stile, rail and stile: 890 mm over all, though rail and one stile are 826 mm; 900 mm are sold. At 920 mm it takes the next."""
    for long, opening in ((890, 900), (920, 1250)):
        derived = derived_from(HEAD + FRAME.format(long=long))
        (step,) = (step for step in derived.steps if any(one.kind == "join" for one in step.operations))
        assert clamps_of(derived.plan, step.operations) == (ClampUse(1, Length.of_mm(opening)),)


def test_a_clamp_that_is_too_short_is_told_with_what_would_do() -> None:
    derived = derived_from(HEAD + FRAME.format(long=920))
    (told,) = clamp_problems(owning(derived.plan, _36=9), derived.steps)
    assert told.code == "clamps-lacking"
    assert "the longest" in told.message
    assert "head to head" in told.mend
    assert "{count: 1, opening: 1250 mm}" in told.mend
    assert clamp_problems(owning(derived.plan, _50=2), derived.steps) == ()


def test_the_step_says_how_short_clamps_reach() -> None:
    derived = derived_from(HEAD + FRAME.format(long=920))
    (step,) = (step for step in derived.steps if any(one.kind == "join" for one in step.operations))
    for clamps, told in (({"_36": 9}, True), ({"_50": 2}, False)):
        plan = owning(derived.plan, **clamps)
        words = " ".join(map(str, step_text(step, replace(derived, plan=plan), Formatter.of(plan)).actions))
        assert ("Hook two shorter ones together" in words) == told
        assert "from outside to outside" in words


def test_a_longer_clamp_stands_in_for_a_shorter_one_but_once() -> None:
    derived = derived_from(HEAD + FRAME.format(long=890))
    kit = kit_of(owning(derived.plan, _12=1, _50=2))
    short, long = ClampUse(2, Length.of_inches(12)), ClampUse(2, Length.of_inches(36))
    assert lacking(kit, [short]) == ()
    assert lacking(kit, [long]) == ()
    assert lacking(kit, [short, long]) == (ClampUse(1, Length.of_inches(12)),)


def test_lips_are_glued_on_one_after_the_other_where_the_clamps_are_few() -> None:
    derived = derived_from(HEAD + SHELVES)
    lips = next(one for one in operations(derived) if any("lip" in part for part in one.parts) and len(one.parts) == 2)
    both = sum(use.count for use in clamps_of(owning(derived.plan, _50=40), [lips]))
    few = owning(derived.plan, _50=both // 2)
    assert clamp_goes(owning(derived.plan, _50=both), lips) == (lips.parts,)
    assert clamp_goes(few, lips) == ((lips.parts[0],), (lips.parts[1],))
    assert sum(use.count for use in clamps_of(few, [lips])) == both // 2
