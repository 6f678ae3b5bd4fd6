"""Panels glued up from strips, and what is sawn a little too large trimmed to size."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Workshop, key_of, title_names
from drawleaf.derive.shop.open_time import panel_goes
from drawleaf.derive.shop.times import WAIT_PANEL, clamp_hours
from drawleaf.model.fitted import FittedAs
from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.model.settings import GlueUpSettings, TrimPanelSettings, TrimPartSettings
from drawleaf.model.steps import Operation, Scene
from drawleaf.units import Length

JOINTER = "jointer"
SIZED_LATER = (FittedAs.TOP, FittedAs.OPENING)
"""What is cut from the panel as it was glued: over what it lies on, or to its opening, when that stands."""


def glue_up(shop: Workshop, part: Part) -> None:
    """Strips edge to edge into a panel a little too big; a day later the panel is trimmed."""
    assert part.glue_up is not None
    strips = part.glue_up
    key = key_of(shop.plan, part)
    parts = tuple(other.id for other in shop.plan.parts if other.kind == part.kind)
    longer, thickness = part.size[0] + strips.extra * 2, part.size[2]
    glue = shop.operation(
        f"glue-up-{key}",
        "glue-up",
        parts,
        way=_way_to_seams(shop, longer),
        pieces=strips.strips * len(parts),
        settings=GlueUpSettings(
            strips.strips,
            strips.strip_width,
            longer,
            longer,
            strips.strip_width * strips.strips,
            thickness,
            clamps=max(3, int(part.size[0].inches / 9)),
        ),
        wait_hours=WAIT_PANEL + clamp_hours(shop.plan.catalogue) * (len(panel_goes(shop.plan, part)) - 1),
    )
    shop.add(
        f"glue-up-{key}",
        Stage.PANELS,
        shop.words.tell("Glue up the {}", _named(shop, parts)),
        (glue,),
        Scene((), parts, (), (), ()),
    )
    if part.fitted_as in SIZED_LATER:
        return
    shop.add(
        f"trim-{key}",
        _trim_stage(parts, shop),
        shop.words.tell("Trim the {} to size", _named(shop, parts)),
        (trim_panel(shop, [shop.plan.part(one) for one in parts]),),
        Scene((), parts, (), (), ()),
    )


def _named(shop: Workshop, parts: Sequence[str]) -> str:
    """All the parts of a step, as its title names them."""
    return title_names([shop.plan.part(one) for one in parts])


def _way_to_seams(shop: Workshop, long: Length) -> str:
    """How the edges of strips so ``long`` are made fit to glue: at the jointer where the kit has one, and they reach from table to table."""
    least = shop.plan.catalogue.tools[JOINTER].least_piece if JOINTER in shop.plan.catalogue.tools else None
    if shop.first_tool("glue-up-machined") == JOINTER and (least is None or long >= least.long):
        return "glue-up-machined"
    return "glue-up-jointed" if shop.plan.making.jointing else "glue-up"


def trim_panel(shop: Workshop, parts: Sequence[Part], standing: Sequence[str] = ()) -> Operation:
    """Panels of one kind trimmed to size: their last one over what stands, and before that as large as they are cut at first."""
    part = parts[0]
    assert part.glue_up is not None
    length, width = part.size[:2] if standing else part.rough
    rough = part.glue_up.strip_width * part.glue_up.strips
    return shop.operation(
        f"trim-{key_of(shop.plan, part)}",
        "trim-panel",
        [one.id for one in parts],
        settings=TrimPanelSettings(length, width, part.glue_up.extra, rough),
        standing=standing,
    )


def trim(shop: Workshop, part: Part) -> None:
    """What was sawn a little too large is trimmed square and to size."""
    parts = tuple(other.id for other in shop.plan.parts if other.kind == part.kind)
    length, width, _ = part.size
    trimmed = shop.operation(
        f"trim-{key_of(shop.plan, part)}",
        "trim-part",
        parts,
        way="trim-panel",
        settings=TrimPartSettings(length, width, part.oversize),
    )
    title = shop.words.tell("Trim the {} to size", _named(shop, parts))
    shop.add(trimmed.id, Stage.PANELS, title, (trimmed,), Scene((), parts, (), (), ()))


def _trim_stage(parts: Sequence[str], shop: Workshop) -> Stage:
    """A panel that only has its edges shaped is trimmed just before that, so that other work fills the day in which its glue dries."""
    features = [feature for part in parts for feature in shop.plan.part(part).features]
    only_edges = all(isinstance(feature, EdgeProfile) for feature in features)
    bored = any(fastener.through in parts for joint in shop.plan.joints for fastener in joint.fasteners)
    return Stage.SHAPE if only_edges and not bored else Stage.PANELS
