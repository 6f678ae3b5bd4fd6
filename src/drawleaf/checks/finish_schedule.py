"""The finish schedule against the wood: stain that soaks in blotches on some woods, unless something evens it out first."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.checks.context import Bench, called, figures, result, sentence
from drawleaf.english import listed, lower_first
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.plan import FinishCoat

NAME = "finish-schedule"
TITLE = "Stain on the wood"
SOURCE = (
    "pine, spruce, fir, cherry, maple, birch, beech and poplar take stain unevenly: USDA Wood Handbook FPL-GTR-282 ch. 16 says it of woods whose density or pores "
    "vary (from memory); which woods: common practice, no source"
)


def check(bench: Bench) -> Iterator[CheckResult]:
    """One result for each stain of the schedule, and one more where it comes too late for panels; none where nothing is stained."""
    evened: set[str] = set()
    for coat in bench.plan.finish:
        if coat.product is None:
            continue
        if coat.product.evens:
            evened.update(coat.parts)
        elif coat.product.stains:
            yield _stain(bench, coat, evened)
            yield from _late_for_panels(bench, coat)


def _late_for_panels(bench: Bench, coat: FinishCoat) -> Iterator[CheckResult]:
    """Solid panels that are free in their grooves, stained when they are in: what the grooves hide stays pale, and shows in dry weeks."""
    free = {joint.insert for joint in bench.plan.joints if joint.family.panel and not joint.glued}
    panels = [bench.parts[one] for one in coat.parts if one in free and bench.parts[one].stock.material.solid]
    if coat.product is None or coat.before_assembly or not panels:
        return
    ids = list(dict.fromkeys(part.kind for part in panels))
    others = [one for one in coat.parts if one not in {part.id for part in panels}]
    line = f"- {{apply: {coat.product.id}, to: [{', '.join(ids)}], before_assembly: yes}}"
    yield result(
        NAME,
        "Stain and panels",
        Verdict.ADVICE,
        panels,
        sentence(
            "The {product} goes on when the {panel} is in its grooves. In dry weeks it shrinks, and a pale strip shows at its edges.",
            product=lower_first(coat.product.name),
            panel=called(panels[0]),
        ),
        what=coat.product.name,
        limit=sentence("panels that move are stained before they go in"),
        remedy=sentence(
            "Write “{line}” above it, and “but: [{ids}]” in its own line."
            if others
            else "Write “{line}” in its place.",
            line=line,
            ids=", ".join(ids),
        ),
        position=coat.position,
    )


def _stain(bench: Bench, coat: FinishCoat, evened: set[str]) -> CheckResult:
    assert coat.product is not None
    parts = [bench.parts[part] for part in coat.parts]
    uneven = [part for part in parts if part.stock.material.blotches]
    bare = [part for part in uneven if part.id not in evened] if coat.product.soaks_in else []
    asked = figures(stained_parts=len(parts), of_wood_that_blotches=len(uneven), with_nothing_below=len(bare))
    if not bare:
        words = (
            "The {product} goes on {count} parts, none of a wood that blotches."
            if not uneven
            else "The {product} goes on {count} parts, {uneven} of a wood that blotches: it lies on the wood, or something evens it out first."
        )
        return result(
            NAME,
            TITLE,
            Verdict.PASS,
            parts,
            sentence(words, product=lower_first(coat.product.name), count=len(parts), uneven=len(uneven)),
            what=coat.product.name,
            figures=asked,
            source=SOURCE,
            position=coat.position,
        )
    woods = dict.fromkeys(lower_first(part.stock.material.name) for part in bare)
    return result(
        NAME,
        TITLE,
        Verdict.ADVICE,
        bare,
        sentence(
            f"The {{product}} soaks into {{woods}}, which {'take' if len(woods) > 1 else 'takes'} it in blotches: the {{first}}"
            + (" and {more} parts more." if len(bare) > 2 else " and one part more." if len(bare) == 2 else "."),
            product=lower_first(coat.product.name),
            woods=listed(woods),
            first=called(bare[0]),
            more=len(bare) - 1,
        ),
        what=coat.product.name,
        figures=asked,
        limit=sentence("a conditioner or a sealer below it, or a gel stain, on woods that blotch"),
        source=SOURCE,
        remedy=sentence(
            "Write “{entry}” above it, or take a gel stain, which lies on the wood.",
            entry=f"- {{apply: wood conditioner, to: [{', '.join(dict.fromkeys(part.kind for part in bare))}]}}",
        ),
        position=coat.position,
    )
