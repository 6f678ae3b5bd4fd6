"""What is used up: glue by joint area, abrasives by area and grit, rags and brushes by coats. Figures come from ``shared/consumables``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from drawleaf.derive.buying.finish_amounts import coated_area
from drawleaf.derive.operations.plugs import filled
from drawleaf.derive.operations.supplies import grit_between, paper
from drawleaf.derive.shop.areas import all_glued, area_text
from drawleaf.derive.shop.methods import kit_of, owned_by, ways_for
from drawleaf.derive.shop.store_words import UNCOUNTED
from drawleaf.english import counted, lower_first
from drawleaf.model.catalogue import GLUE, Consumable, FastenerKind
from drawleaf.model.lists import ConsumableRow, CutList
from drawleaf.model.plan import FinishCoat, Plan
from drawleaf.model.steps import Step
from drawleaf.model.tools import PutOn
from drawleaf.units import Units

FILLER, RAGS, BRUSH, GLOVES = "wood filler", "lint-free rags", "foam brush", "nitrile gloves"
FOAM = "foam pad"
# A light rub between coats wears paper about a quarter as much as sanding wood: common practice, no source.
LIGHT = 0.25
IN_STEPS = "for steps"
MOST_STEPS_NAMED = 4
SOLVENTS = {"mineral spirits": "mineral spirits", "denatured alcohol": "denatured alcohol"}


def estimate_consumables(plan: Plan, cut_list: CutList, steps: Sequence[Step] = ()) -> tuple[ConsumableRow, ...]:
    """Amounts by area where ``covers`` is known, else one; each with the calculation in words. Items that ``shared/`` lacks are left out.

    What a step uses up and no area asks for is bought once.
    """
    areas: dict[str, float] = {}
    brushes = sum(coat.coats for coat in plan.finish if coat.product is not None and coat.product.method is PutOn.BRUSH)
    whys: dict[str, list[str]] = {}
    for item, area, why in (*_needs(plan, cut_list), *_in_steps(steps)):
        if item in plan.catalogue.consumables:
            item = plan.catalogue.consumables[item].id  # the plan's glue may stand in for the usual one
            areas[item] = areas.get(item, 0.0) + area
            of_item = whys.setdefault(item, [])
            if why not in of_item and not (of_item and not area and why.startswith("for step")):
                of_item.append(why)
    return tuple(
        # A foam brush serves one coat: between coats it dries out.
        _row(plan, item, area, "; ".join(whys[item]), brushes if item == BRUSH else 1)
        for item, area in areas.items()
    )


def _in_steps(steps: Sequence[Step]) -> Iterator[tuple[str, float, str]]:
    """What steps use up, by the steps that use it."""
    used: dict[str, list[int]] = {}
    for step in steps:
        for supply in step.supplies:
            if isinstance(supply, Consumable):
                used.setdefault(supply.id, []).append(step.number)
    for name, numbers in used.items():
        first = ", ".join(str(number) for number in numbers[:MOST_STEPS_NAMED])
        more = " and others" if len(numbers) > MOST_STEPS_NAMED else ""
        yield name, 0.0, f"{IN_STEPS} {first}{more}" if len(numbers) > 1 else f"for step {first}"


def _row(plan: Plan, item_id: str, area: float, why: str, least: int) -> ConsumableRow:
    item = plan.catalogue.consumables[item_id]
    if item.covers is None or not area:
        return ConsumableRow(item, Fraction(1), 1, why)
    amount = Fraction(round(area / item.covers * 100), 100)
    unit = item.metric_unit if item.metric_unit and plan.lengths.units is Units.MM else item.unit
    one = "one" if unit in UNCOUNTED else f"one {unit}"
    spread = f"{one} does about {area_text(item.covers, plan.lengths)}"
    return ConsumableRow(
        item, amount, max(ceil(amount), least), f"{why}: {area_text(area, plan.lengths)} in all; {spread}"
    )


def _needs(plan: Plan, cut_list: CutList) -> Iterator[tuple[str, float, str]]:
    """Every need as (consumable, square metres, reason)."""
    glued = all_glued(plan)
    if glued:
        panels = any(item.part.glue_up for item in cut_list.items)
        yield GLUE, glued, "joints and the seams of glued-up panels" if panels else "joints"
    brads = any(fastener.item.kind == FastenerKind.BRAD for joint in plan.joints for fastener in joint.fasteners)
    if brads or filled(plan) or plan.filling:
        what = ["the holes of brads"] * brads + ["the heads of screws"] * bool(filled(plan))
        over = [f"over {' and '.join(what)}"] if what else []
        yield FILLER, 0.0, f"to fill {' and '.join([*over, *(['gaps at joints'] if plan.filling else [])])}"
    for coat in plan.finish:
        yield from _abrasives(plan, coat)
    sanded = [coat for coat in plan.finish if coat.grits]
    if sanded:
        last = sanded[-1].grits[-1]
        yield paper(last, _by_hand(plan), plan), coated_area(plan, sanded[-1]), "once more before the finish"
    for coat in plan.finish:
        yield from _applying(plan, coat)


def _abrasives(plan: Plan, coat: FinishCoat) -> Iterator[tuple[str, float, str]]:
    area = coated_area(plan, coat)
    for grit in coat.grits:
        yield paper(grit, _by_hand(plan), plan), area, f"sanding at {grit}"
    between = grit_between(coat)
    if between is not None:
        rubbed = area * (coat.coats - 1) * LIGHT
        yield f"sandpaper {between}", rubbed, "a light rub between coats, taken as a quarter of the area"


def _by_hand(plan: Plan) -> bool:
    """Whether the kit sands with a block, so that it takes sheets and no discs."""
    return "sand" in plan.catalogue.methods and "random-orbit sander" not in _tools_for(plan, "sand")


def _tools_for(plan: Plan, work: str) -> tuple[str, ...]:
    """The tools with which the kit does a kind of work."""
    way, _ = ways_for(work, plan.catalogue, owned_by(kit_of(plan), plan.catalogue))
    return way.tools


def _with_foam(plan: Plan) -> bool:
    """Whether the kit brushes a finish on with foam, which is bought, and not with a good brush, which is a tool."""
    return "coat-brush" in plan.catalogue.methods and FOAM in _tools_for(plan, "coat-brush")


def _applying(plan: Plan, coat: FinishCoat) -> Iterator[tuple[str, float, str]]:
    finish = coat.product
    if finish is None:
        return
    coated = coated_area(plan, coat) * coat.coats
    name = lower_first(finish.name)
    why = f"{counted(coat.coats, 'coat')} of {name}"
    if finish.method is PutOn.WIPE:
        yield RAGS, coated, why
    elif coat.by is PutOn.PAD or (coat.by is None and _with_foam(plan)):
        yield BRUSH, coated, why
    solvent = SOLVENTS.get(finish.cleanup.rstrip(".").lower())
    if solvent:
        yield solvent, coated, f"cleaning up after {name}"
    yield GLOVES, 0.0, "for your hands, while you put on the finish"
