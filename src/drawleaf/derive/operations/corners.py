"""Laps, bridles, box joints and dovetails on loose parts."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, key_of, plural, title_names
from drawleaf.derive.operations.machining import grouped
from drawleaf.model.plan import BoxCut, Feature, Part
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Scene

WORK = {"lap": "lap", "fork": "fork", "finger": "fingers", "tail": "tails", "socket": "sockets"}
"""Kinds of cuts, in the order in which they are made, with the work that makes them. Tails before the sockets that are marked from them."""
TITLE = {
    "lap": "Cut the laps in",
    "fork": "Cut the forks in",
    "finger": "Cut the fingers on",
    "tail": "Cut the tails on",
    "socket": "Cut the sockets in",
}
HALF_BLIND = "sockets-half-blind"


def cut_corners(shop: Workshop) -> None:
    """One step to a kind of cut and a set of parts of one assembly."""
    for kind in WORK:
        found = [
            (part, one)
            for part in shop.plan.parts
            for one in part.features
            if isinstance(one, BoxCut | OutlineCut) and one.kind == kind
        ]
        for group in grouped(found, lambda pair: (pair[0].assembly, *_setup(*pair))):
            _step(shop, kind, group)


def _setup(part: Part, cut: Feature) -> tuple[object, ...]:
    """What one setting has in common: depth of a lap, width of a finger or fork; dovetails are all set out by hand or jig."""
    if isinstance(cut, BoxCut) and cut.kind == "lap":
        return (cut.box.extent(cut.into.axis),)
    if isinstance(cut, BoxCut) and cut.kind == "fork":
        return (cut.box.extent(part.thickness),)
    if isinstance(cut, OutlineCut) and cut.kind == "socket":
        return (_half_blind(part, cut),)
    return ()


def _half_blind(part: Part, cut: OutlineCut) -> bool:
    """Whether a socket stops before the far face of its part."""
    axes = cut.outline.axis.others()
    across = part.thickness
    if across not in axes:
        return False
    span, body = cut.outline.bounds[axes.index(across)], part.body.span(across)
    return span.low > body.low or span.high < body.high


def _step(shop: Workshop, kind: str, group: Sequence[tuple[Part, BoxCut | OutlineCut]]) -> None:
    plan = shop.plan
    parts = list({part.id: part for part, _ in group}.values())
    blind = any(isinstance(cut, OutlineCut) and kind == "socket" and _half_blind(part, cut) for part, cut in group)
    joints = {cut.joint for _, cut in group}
    part, cut = group[0]
    settings: list[tuple[str, object]] = [("kind", kind), ("blind", "yes" if blind else "no")]
    if isinstance(cut, BoxCut):
        settings.append(("depth", cut.box.extent(cut.into.axis)))
        settings.append(("thickness", cut.box.extent(part.thickness)))
    operation = shop.operation(
        f"{WORK[kind]}-{key_of(plan, part)}",
        WORK[kind],
        tuple(one.id for one in parts),
        way=HALF_BLIND if blind else WORK[kind],
        pieces=len(group),
        settings=settings,
        joints=[joint for joint in plan.joints if joint.id in joints],
        features=[(one.id, feature) for one, feature in group],
    )
    scene = Scene((), tuple(one.id for one in parts), (), (), ())
    title = f"{TITLE[kind]} the {title_names(parts)}"
    if len(group) == 1:
        title = title.replace(f"the {plural(kind)}", f"the {kind}")
    shop.add(operation.id, Stage.MACHINE, title, (operation,), scene)


CORNERS = Work(cut_corners, (*WORK.values(), HALF_BLIND))
