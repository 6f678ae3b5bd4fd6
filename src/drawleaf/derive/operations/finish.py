"""Sanding, filling and coating: what is done to loose parts, and what to the piece when it stands."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, slug
from drawleaf.derive.operations.plugs import filled, trim_plugs
from drawleaf.derive.operations.standing import standing_so_far
from drawleaf.english import capitalized, listed, lower_first
from drawleaf.language import Words
from drawleaf.model.catalogue import FastenerKind, FinishProduct
from drawleaf.model.plan import FinishCoat, Plan
from drawleaf.model.settings import CoatSettings, FillSettings, SandSettings
from drawleaf.model.steps import Scene
from drawleaf.model.tools import PutOn

LAST_GRIT = 180
"""What one sands with in the end where the plan names no grit."""


def sand_parts(shop: Workshop) -> None:
    """Every part through the author's grits while it lies flat: inside faces are out of reach later."""
    for coat in shop.plan.finish:
        parts = tuple(part for part in coat.parts if shop.works_on(part))
        if coat.product is None and parts:
            operation = shop.operation(
                "sand-parts",
                "sand-parts",
                parts,
                way="sand",
                settings=SandSettings(_grits(coat), coat.scope),
                coat=coat,
            )
            shop.add(
                operation.id,
                Stage.SAND,
                shop.words.put("Sand the parts"),
                (operation,),
                Scene((), parts, (), (), ()),
            )


def coat_parts(shop: Workshop) -> None:
    """What the author wants coated before assembly."""
    for coat in shop.plan.finish:
        parts = tuple(part for part in coat.parts if shop.works_on(part))
        if coat.product is not None and coat.before_assembly and parts:
            _apply(shop, replace(coat, parts=parts), Stage.COAT_PARTS)


def _smoothing_title(words: Words, trimmed: bool, brads: bool, heads: bool, gaps: bool) -> str:
    """``Fill the brad holes, cover the screw heads and sand``: whether plugs are trimmed, holes, heads and gaps filled."""
    filling = "fill the brad holes" if brads and not gaps else "fill the gaps" if gaps and not brads else ""
    filling = "fill brad holes and gaps" if brads and gaps else filling
    work = [
        *(["trim the plugs"] if trimmed else []),
        *([filling] if filling else []),
        *(["cover the screw heads"] if heads else []),
    ]
    if not work:
        return words.put("Sand once more")
    together = f"{', '.join(work)}, and sand" if brads and gaps else listed([*work, "sand"])
    return words.put(capitalized(together))


def fill_and_sand(shop: Workshop) -> None:
    """Once the glue is dry: holes filled, glue and pencil marks off, edges eased, last grit once more."""
    grits = [coat for coat in shop.plan.finish if coat.product is None]
    parts = tuple(part.id for part in shop.plan.parts)
    last = grits[-1].grits[-1] if grits and grits[-1].grits else LAST_GRIT
    brads = any(fastener.item.kind == FastenerKind.BRAD for joint in shop.plan.joints for fastener in joint.fasteners)
    heads, gaps = bool(filled(shop.plan)), bool(shop.plan.filling)
    trimming = trim_plugs(shop)
    operation = shop.operation(
        "fill-and-sand",
        "fill-and-sand",
        parts,
        way="fill" if brads or heads or gaps else "sand-again",
        settings=FillSettings(
            last,
            fill=brads or heads or gaps,
            holes="both" if brads and heads else "heads" if heads else "none" if gaps and not brads else "brads",
            gaps=gaps,
        ),
    )
    title = _smoothing_title(shop.words, bool(trimming), brads, heads, gaps)
    also = [one.id for one in (*trimming, operation)]
    shop.add(
        "fill-and-sand",
        Stage.SMOOTH,
        title,
        (*trimming, operation),
        Scene(standing_so_far(shop), (), (), (), ()),
        also=also,
    )


def coat_piece(shop: Workshop) -> None:
    """The rest of the finish schedule."""
    for coat in shop.plan.finish:
        if coat.product is not None and not coat.before_assembly:
            _apply(shop, coat, Stage.FINISH)


def _apply(shop: Workshop, coat: FinishCoat, stage: Stage) -> None:
    product = coat.product
    assert product is not None
    way = "coat-wipe" if product.method is PutOn.WIPE else "coat-brush"
    waits = product.recoat_hours * coat.coats
    name = f"apply-{slug(product.id)}"
    operation = shop.operation(
        name,
        "coat",
        coat.parts,
        way=way,
        pieces=len(coat.parts) * coat.coats,
        settings=CoatSettings(
            coat.coats,
            _hours(product.recoat_hours, shop.words),
            _hours(product.cure_hours, shop.words),
            coat.scope,
            coat.by or _put_on(shop, product, way),
            masked=bool(masked_parts(shop.plan, coat)),
        ),
        coat=coat,
        wait_hours=waits,
        by=coat.by,
    )
    cautions = [shop.plan.catalogue.cautions[one] for one in product.cautions if one in shop.plan.catalogue.cautions]
    assert isinstance(operation.settings, CoatSettings)
    title = shop.words.tell(_TITLES[operation.settings.method], lower_first(product.name))
    shop.add(operation.id, stage, title, (operation,), Scene((), coat.parts, (), (), ()), cautions=cautions)


def _put_on(shop: Workshop, product: FinishProduct, way: str) -> PutOn:
    """As its maker says where it is wiped, else as the kit's best tool puts it on."""
    if product.method is PutOn.WIPE:
        return PutOn.WIPE
    tool = shop.plan.catalogue.tools.get(shop.first_tool(way))
    return tool.puts_on if tool is not None and tool.puts_on is not None else PutOn.BRUSH


_TITLES = {
    PutOn.WIPE: "Wipe on the {}",
    PutOn.BRUSH: "Brush on the {}",
    PutOn.PAD: "Rub on the {}",
    PutOn.SPRAY: "Spray on the {}",
}


def masked_parts(plan: Plan, coat: FinishCoat) -> tuple[str, ...]:
    """Bare parts that are glued to coated ones by now, in the author's order; none where loose parts are coated."""
    if coat.before_assembly:
        return ()
    coated = set(coat.parts)
    bare = {
        end
        for joint in plan.joints
        if joint.glued and (joint.insert in coated) != (joint.receiver in coated)
        for end in (joint.insert, joint.receiver)
        if end not in coated
    }
    return tuple(part.id for part in plan.parts if part.id in bare)


def _hours(hours: float, words: Words) -> str:
    """A wait as one says it: ``6 hours``, ``2 days``, ``a week``."""
    if hours == 168:
        return words.put("a week")
    if hours >= 48:
        return words.tell("{:g} days", hours / 24)
    if hours == 1:
        return words.put("an hour")
    return words.tell("{:g} hours", hours) if hours > 1 else words.tell("{:g} minutes", hours * 60)


def _grits(coat: FinishCoat) -> str:
    """``120, 150 and 180``."""
    return listed(str(grit) for grit in coat.grits)


SANDING = Work(sand_parts, ("sand",))
COATING = Work(coat_parts, ("coat-wipe", "coat-brush"))
