"""What each step uses up: glue, rags, paper, filler, tape and finish, so that it lies ready."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from drawleaf.derive.operations.tape import is_tape
from drawleaf.derive.shop.bits import screws_in_hardwood
from drawleaf.model.catalogue import GLUE, Consumable, FinishProduct
from drawleaf.model.plan import FinishCoat, Plan
from drawleaf.model.settings import CoatSettings, FillSettings
from drawleaf.model.steps import JOINING, Operation
from drawleaf.model.tools import PutOn
from drawleaf.setting_out.feet import stands_bare, trodden
from drawleaf.setting_out.wood_joints import takes_glue

FILLER, RAGS, CLOTHS, TAPE, BRUSH = "wood filler", "clean rags", "lint-free rags", "masking tape", "foam brush"
GLUED = ("join", "join-body", "glue-up", "set-splines")
TAPED = ("fit-pull", "join-front", "cut-standing")
"""Kinds of work with tape on the wood, or round the bit so that it does not go through."""
FLAGGED = ("recess-round",)
"""Kinds that bore to a flag of tape, where no drill press has a stop for it."""
STICKY, EPOXY, WAX = "double-sided tape", "two-part epoxy", "candle wax"
GRIP, SHIMS = "anti-slip tape", "cedar shims"
ON_FLOOR = ("anchor-to-wall",)
"""Kinds of work after which a piece stands where it stays."""
WAXED = ("set-drawer",)
"""Kinds of work in which wood is made to slide on wood."""
SCREWED = (*JOINING, "fasten")
"""Kinds of work in which a joint's own screws are driven."""
FIRST_GRIT = 120


def supplies_of(plan: Plan, operations: Iterable[Operation]) -> tuple[Consumable | FinishProduct, ...]:
    """What these operations use up, each once, in the order used. What ``shared/`` lacks is left out."""
    found: dict[str, Consumable | FinishProduct] = {}
    for operation in operations:
        if operation.coat is not None and operation.coat.product is not None:
            found[operation.coat.product.id] = operation.coat.product
        for name in _names(plan, operation):
            item = plan.catalogue.consumables.get(name)
            if item is not None:
                found[name] = item
    return tuple(found.values())


def paper(grit: int, by_hand: bool, plan: Plan) -> str:
    """The consumable for a grit: discs for a sander, sheets for a block."""
    discs = f"sanding discs {grit}"
    return f"sandpaper {grit}" if by_hand or discs not in plan.catalogue.consumables else discs


def grit_between(coat: FinishCoat) -> int | None:
    """The grit that the product asks for between coats, None where it asks for none."""
    if coat.product is None or coat.coats < 2:
        return None
    digits = "".join(letter for letter in coat.product.sand_between.partition(" grit")[0] if letter.isdigit())
    return int(digits) if digits else None


def first_grit(plan: Plan) -> int:
    """The grit that the piece is first sanded with."""
    return next((coat.grits[0] for coat in plan.finish if coat.grits), FIRST_GRIT)


def _names(plan: Plan, operation: Operation) -> Iterable[str]:
    tools = {tool.id for tool in operation.method.tools}
    glued = operation.kind == "glue-up" or any(
        takes_glue(joint) and not is_tape(plan.part(joint.insert)) for joint in operation.joints
    )
    yield from _gluing(operation, glued)
    yield from _smoothing(plan, operation, tools)
    yield from _taping(operation, tools, glued)
    if operation.kind in WAXED or (operation.kind in SCREWED and screws_in_hardwood(plan, operation)):
        yield WAX
    if operation.kind in ON_FLOOR and stands_bare(plan):
        yield SHIMS


def _gluing(operation: Operation, glued: bool) -> Iterable[str]:
    plugs = operation.kind == "plug-heads"
    if any(fitting.held_by.glued or fitting.other_held_by.glued for fitting in operation.fittings):
        yield EPOXY
    if (operation.kind in GLUED and glued) or plugs:
        yield GLUE
    if (operation.kind in ("join", "join-body", "set-splines") and glued) or plugs:
        yield RAGS


def _smoothing(plan: Plan, operation: Operation, tools: Collection[str]) -> Iterable[str]:
    """For filling, sanding and coating."""
    by_hand = "random-orbit sander" not in tools
    settings = operation.settings
    if operation.kind == "sand-parts" and operation.coat is not None:
        yield from (paper(grit, by_hand, plan) for grit in operation.coat.grits)
        yield RAGS
    elif isinstance(settings, FillSettings):
        if settings.fill:
            yield FILLER
        yield paper(settings.grit, by_hand, plan)
        yield f"sandpaper {settings.grit}"
        yield RAGS
    elif isinstance(settings, CoatSettings) and operation.coat is not None:
        yield from _coating(operation.coat, settings)
        if trodden(plan, operation.coat):
            yield GRIP
    elif "sanding block" in tools and operation.kind != "trim-plugs":
        yield f"sandpaper {first_grit(plan)}"


def _taping(operation: Operation, tools: Collection[str], glued: bool) -> Iterable[str]:
    instead_of_clamps = (
        operation.kind == "join"
        and glued
        and not operation.fasteners
        and not any(tool.clamp is not None for tool in operation.method.tools)
    )
    flagged = operation.kind in FLAGGED and "drill press" not in tools
    if instead_of_clamps or flagged or operation.kind in TAPED or "masking tape flag" in tools:
        yield TAPE
        if operation.kind == "join-front":
            yield STICKY
    if operation.kind == "run-moulding" and "support board" in tools:
        yield STICKY


def _coating(coat: FinishCoat, settings: CoatSettings) -> Iterable[str]:
    if settings.method is PutOn.WIPE:
        yield CLOTHS
    between = grit_between(coat)
    if between is not None:
        yield f"sandpaper {between}"
        yield RAGS
    if settings.masked:
        yield TAPE
