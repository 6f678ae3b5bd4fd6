"""Curves and openings: parts sawn to an outline, openings and pockets cut in loose parts, openings cut in the standing piece."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, distinct, key_of, title_names
from drawleaf.english import listed
from drawleaf.model.plan import Part, Plan
from drawleaf.model.position import Position
from drawleaf.model.settings import NO_SETTINGS, CutoutSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Scene
from drawleaf.setting_out.outlines import rectangle_of, through_edge
from drawleaf.units import Length

Cut = tuple[Part, OutlineCut]
WORK = {"shape": "saw-curve", "cutout": "saw-opening", "pocket": "rout-pocket"}
SMALL_BIT, LARGEST_BIT = Length.of_inches(1) / 2, Length.of_inches(13) / 8
"""Corners are bored to their radius with a twist bit up to the one, with a Forstner or auger bit up to the other; larger ones are sawn."""
KINDS = ("cut-standing",)
"""Kinds of work of ``shared/methods`` that are done in the standing piece."""
TITLES = {
    "shape": ("Saw the {} to shape", "Saw the {} to shape"),
    "cutout": ("Cut the opening in the {}", "Cut the openings in the {}"),
    "pocket": ("Cut the pocket in the {}", "Cut the pockets in the {}"),
}
"""The step's title for one to a part, and for several."""


def shape_parts(shop: Workshop) -> None:
    """Outlines, openings and pockets of loose parts, one step to a kind of part and of work."""
    found = [(part, cut) for part, cut in outline_cuts(shop.plan) if not cut.after_assembly and shop.works_on(part.id)]
    # Pockets and openings first: they are set out from edges that the outline then takes away.
    for kind in ("pocket", "cutout", "shape"):
        groups: dict[object, list[Cut]] = {}
        for part, cut in found:
            if work_of(part, cut) == kind:
                groups.setdefault((part.kind, _settings(part, cut)), []).append((part, cut))
        for group in groups.values():
            _loose(shop, kind, group)


def _settings(part: Part, cut: OutlineCut) -> CutoutSettings:
    """What cuts of one step share."""
    bit, edge = corner_bit(cut), through_edge(part, cut)
    narrow, wide = sorted(span.extent for span in cut.outline.bounds)
    return CutoutSettings(bit, edge, round_ends=not edge and bit is not None and narrow == bit < wide)


def corner_bit(cut: OutlineCut) -> Length | None:
    """The bit that bores the corners of an opening to their radius; None where they are square, or rounder than a bit is wide."""
    rectangle = rectangle_of(cut.outline)
    if rectangle is None or not rectangle.radius or rectangle.radius * 2 > LARGEST_BIT:
        return None
    return rectangle.radius * 2


def cut_standing(shop: Workshop, only: Collection[Position] | None = None) -> None:
    """Openings that wait until the piece stands: what one line of the source says, through however many parts, is one cut. All that are
    left, or those of some lines ``only``."""
    lines: dict[object, list[Cut]] = {}
    for part, cut in outline_cuts(shop.plan):
        wanted = cut.position not in shop.stood if only is None else cut.position in only
        if cut.after_assembly and wanted:
            lines.setdefault((cut.position, cut.outline), []).append((part, cut))
    for cuts in lines.values():
        parts = [part for part, _ in cuts]
        standing = tuple(part.id for part in shop.plan.parts if _stands_with(shop.plan, part, parts))
        operation = shop.operation(
            f"cut-opening-{key_of(shop.plan, parts[0])}",
            "cut-standing",
            [part.id for part in parts],
            pieces=1,
            features=[(part.id, cut) for part, cut in cuts],
            standing=standing,
        )
        title = shop.words.tell(
            "Cut the opening in the {}", listed(list(dict.fromkeys(part.name.lower() for part in parts)))
        )
        others = tuple(part for part in standing if part not in operation.parts)
        scene = Scene(others, operation.parts, (), (), ())
        shop.add(operation.id, Stage.ASSEMBLE, title, (operation,), scene, assembly=parts[0].assembly)


def outline_cuts(plan: Plan) -> list[Cut]:
    """All outlines that the author drew. Those that joints cut are made with their joints."""
    return [
        (part, cut)
        for part in plan.parts
        for cut in part.features
        if isinstance(cut, OutlineCut) and cut.kind in ("shape", "cutout")
    ]


def work_of(part: Part, cut: OutlineCut) -> str:
    """``shape``, ``cutout`` or ``pocket``: what kind of work a cut along an outline is."""
    if cut.keep:
        return "shape"
    axis = cut.outline.axis
    return "cutout" if {axis.low, axis.high} <= set(cut.open) else "pocket"


def _stands_with(plan: Plan, part: Part, cut: Sequence[Part]) -> bool:
    """Whether a part is in one of the assemblies that the opening is cut in, or in one inside it that does not come out."""
    homes = {one.assembly for one in cut}
    here = part.assembly
    while here is not None:
        if here in homes:
            return True
        assembly = plan.assembly(here)
        if assembly.loose:
            return False
        here = assembly.parent
    return False


def _loose(shop: Workshop, kind: str, group: Sequence[Cut]) -> None:
    parts = distinct(part for part, _ in group)
    name = f"{kind}-{key_of(shop.plan, parts[0])}"
    settings = _settings(*group[0])
    bit = settings.bit if kind == "cutout" else None
    operation = shop.operation(
        name,
        kind,
        [part.id for part in parts],
        way="saw-opening-round" if bit is not None and bit > SMALL_BIT else WORK[kind],
        pieces=len(group),
        settings=settings if kind == "cutout" else NO_SETTINGS,
        features=[(part.id, cut) for part, cut in group],
    )
    title = shop.words.tell(TITLES[kind][len(group) > len(parts)], title_names(parts))
    scene = Scene((), operation.parts, (), (), ())
    shop.add(name, Stage.SHAPE, title, (operation,), scene)


SHAPING = Work(shape_parts, ("saw-curve", "saw-opening", "saw-opening-round", "rout-pocket"))
