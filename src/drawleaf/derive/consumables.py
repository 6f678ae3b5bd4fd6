"""What is used up: glue by joint area, abrasives by area and grit, rags and brushes by coats. Figures come from ``shared/consumables``."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from drawleaf.derive.areas import all_glued, area_text
from drawleaf.derive.finish_amounts import coated_area
from drawleaf.derive.store_words import UNCOUNTED
from drawleaf.model.lists import ConsumableRow, CutList
from drawleaf.model.plan import FinishCoat, Plan

GLUE, FILLER, RAGS, BRUSH, GLOVES = "wood glue", "wood filler", "lint-free rags", "foam brush", "nitrile gloves"
# A light rub between coats wears paper about a quarter as much as sanding wood: common practice, no source.
LIGHT = 0.25
SOLVENTS = {"mineral spirits": "mineral spirits", "denatured alcohol": "denatured alcohol"}


def estimate_consumables(plan: Plan, cut_list: CutList) -> tuple[ConsumableRow, ...]:
    """Amounts by area where ``covers`` is known, else one; each with the reckoning in words. Items that ``shared/`` lacks are left out."""
    areas: dict[str, float] = {}
    whys: dict[str, list[str]] = {}
    for item, area, why in _needs(plan, cut_list):
        if item in plan.catalogue.consumables:
            areas[item] = areas.get(item, 0.0) + area
            of_item = whys.setdefault(item, [])
            if why not in of_item:
                of_item.append(why)
    return tuple(_row(plan, item, area, "; ".join(whys[item])) for item, area in areas.items())


def _row(plan: Plan, item_id: str, area: float, why: str) -> ConsumableRow:
    item = plan.catalogue.consumables[item_id]
    if item.covers is None:
        return ConsumableRow(item, Fraction(1), 1, why)
    amount = Fraction(round(area / item.covers * 100), 100)
    one = "one" if item.unit in UNCOUNTED else f"one {item.unit}"
    spread = f"{one} does about {area_text(item.covers, plan.lengths)}"
    return ConsumableRow(item, amount, max(ceil(amount), 1), f"{why}: {area_text(area, plan.lengths)} in all; {spread}")


def _needs(plan: Plan, cut_list: CutList) -> Iterator[tuple[str, float, str]]:
    """Every need as (consumable, square metres, reason)."""
    glued = all_glued(plan)
    if glued:
        panels = any(item.part.glue_up for item in cut_list.items)
        yield GLUE, glued, "joints and the seams of glued-up panels" if panels else "joints"
    if any(fastener.item.kind == "brad" for joint in plan.joints for fastener in joint.fasteners):
        yield FILLER, 0.0, "to fill the holes of brads"
    for coat in plan.finish:
        yield from _abrasives(plan, coat)
    for coat in plan.finish:
        yield from _applying(plan, coat)


def _abrasives(plan: Plan, coat: FinishCoat) -> Iterator[tuple[str, float, str]]:
    area = coated_area(plan, coat)
    for grit in coat.grits:
        discs, paper = f"sanding discs {grit}", f"sandpaper {grit}"
        by_hand = "hand tools" in plan.making.kit or discs not in plan.catalogue.consumables
        yield (paper if by_hand else discs), area, f"sanding at {grit}"
    if coat.product is not None and coat.coats > 1:
        grit = "".join(letter for letter in coat.product.sand_between.partition(" grit")[0] if letter.isdigit())
        if grit:
            yield (
                f"sandpaper {grit}",
                area * (coat.coats - 1) * LIGHT,
                "a light rub between coats, taken as a quarter of the area",
            )


def _applying(plan: Plan, coat: FinishCoat) -> Iterator[tuple[str, float, str]]:
    finish = coat.product
    if finish is None:
        return
    coated = coated_area(plan, coat) * coat.coats
    name = finish.name[:1].lower() + finish.name[1:]
    yield (
        (RAGS if finish.method == "wipe" else BRUSH),
        coated,
        f"{coat.coats} {'coats' if coat.coats > 1 else 'coat'} of {name}",
    )
    solvent = SOLVENTS.get(finish.cleanup.rstrip(".").lower())
    if solvent:
        yield solvent, coated, f"cleaning up after {name}"
    yield GLOVES, 0.0, "for your hands, while you put on the finish"
