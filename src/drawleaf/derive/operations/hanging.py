"""What comes to the finished piece and moves on it or lies in it: drawers, doors, lids, tops on their fasteners, shelves, panels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.assembly.groups import Body
from drawleaf.derive.operations.drafts import Stage, Workshop, local
from drawleaf.derive.operations.fitting_kinds import all_coats, uses_of
from drawleaf.derive.operations.joining import Joining, joints_between
from drawleaf.derive.operations.recesses import marked_recesses
from drawleaf.model.boxes import is_box
from drawleaf.model.hardware_family import Carries, family_of, leading
from drawleaf.model.plan import Fitting, Joint, Plan
from drawleaf.model.settings import NO_SETTINGS, HangSettings, Settings, ShelfSettings
from drawleaf.model.steps import Move, Scene
from drawleaf.setting_out.hinging import carriers, is_lid


def bring_in(
    shop: Workshop, bodies: Sequence[Body], standing: Sequence[str], pins: Sequence[Fitting], joining: Joining
) -> None:
    """The step that brings these bodies to what stands, where joints do not bring them."""
    first = bodies[0]
    if first.applied or not first.loose:
        return
    if first.carried:
        _hang(shop, bodies, standing, joining)
    elif any(fitting.item.family.holds_panel for fitting in _holding(shop.plan, bodies)):
        # Magnets hold it, and it comes off again.
        joints = joints_between(shop.plan, _parts(bodies), standing)
        _set(shop, bodies, standing, joining, "set-panel", way="set-shelves", joints=joints)
    elif not pins and is_box([shop.plan.part(part) for part in first.parts]):
        # It runs on wood, and is waxed, tried and eased.
        _set(shop, bodies, standing, joining, "set-drawer", "Wax the {}, and fit it")
    else:
        ids = {body.id for body in bodies}
        tilted = any(arrival.tilted for arrival in joining.arrivals if arrival.unit.id in ids)
        settings = ShelfSettings(tilted, len(bodies))
        _set(shop, bodies, standing, joining, "set-shelves", settings=settings, pins=pins)


def _parts(bodies: Sequence[Body]) -> tuple[str, ...]:
    return tuple(part for body in bodies for part in body.parts)


def _holding(plan: Plan, bodies: Sequence[Body]) -> list[Fitting]:
    own = {part for body in bodies for part in body.parts}
    return [fitting for fitting in plan.fittings if own & set(fitting.parts)]


def _hang(shop: Workshop, bodies: Sequence[Body], standing: Sequence[str], joining: Joining) -> None:
    """A drawer runs in, a door or lid is hung on its hinges, a top is screwed down on its fasteners, rails are bolted on."""
    plan, body = shop.plan, bodies[0]
    held = carriers(plan, body.assembly)
    family = leading(fitting.item.family for fitting in held) or family_of("")
    if not family.bolts_on:
        bodies = bodies[:1]
    parts = _parts(bodies)
    if family.bolts_on:  # each rail of an assembly that is not joined comes by itself
        held = tuple(fitting for fitting in held if set(parts) & set(fitting.parts))
    lid = family.carries is Carries.LEAF and is_lid(plan, held)
    template = family.brings.for_lid if lid and family.brings.for_lid else family.brings.template
    named = plan.assembly(body.assembly).name.lower()
    name = f"{family.brings.word}-{local(body.assembly)}"
    marked = marked_recesses(shop, held)
    operation = shop.operation(
        name,
        template,
        parts,
        way=family.brings.way,
        pieces=len(held) if family.held_back else 1,
        fittings=held,
        settings=HangSettings(lid) if family.carries is Carries.LEAF else NO_SETTINGS,
        standing=standing,
        after=all_coats(shop),
    )
    scene = Scene(tuple(standing), parts, _moves(joining, bodies), (), tuple(fitting.id for fitting in held))
    scene = replace(scene, pose=family.brings.pose)
    known = plan.catalogue.cautions
    cautions = [known[one] for one in family.brings.lid_cautions if lid and one in known]
    hardware = uses_of(held, plan.catalogue.hardware) if family.held_back else ()
    title = shop.words.tell(family.brings.title, named)
    shop.add(
        name,
        Stage.FIT,
        title,
        (*marked, operation),
        scene,
        assembly=body.assembly,
        hardware=hardware,
        cautions=cautions,
        also=[one.id for one in marked],
    )


def _set(
    shop: Workshop,
    bodies: Sequence[Body],
    standing: Sequence[str],
    joining: Joining,
    kind: str,
    title: str = "Set the {} in place",
    *,
    way: str | None = None,
    joints: Sequence[Joint] = (),
    settings: Settings = NO_SETTINGS,
    pins: Sequence[Fitting] = (),
) -> None:
    """Loose bodies go to their place when all coats are dry."""
    plan, home = shop.plan, bodies[0].assembly
    name, parts = f"set-{local(home)}", _parts(bodies)
    operation = shop.operation(
        name,
        kind,
        parts,
        way=way,
        pieces=len(bodies),
        settings=settings,
        joints=joints,
        fittings=pins,
        standing=standing,
        after=all_coats(shop),
    )
    scene = Scene(tuple(standing), parts, _moves(joining, bodies), (), tuple(fitting.id for fitting in pins))
    told = shop.words.tell(title, plan.assembly(home).name.lower())
    hardware = uses_of(pins, plan.catalogue.hardware)
    shop.add(name, Stage.FIT, told, (operation,), scene, assembly=home, hardware=hardware)


def _moves(joining: Joining, bodies: Sequence[Body]) -> tuple[Move, ...]:
    ids = {body.id for body in bodies}
    return tuple(
        Move(part, arrival.direction)
        for arrival in joining.arrivals
        if arrival.unit.id in ids and arrival.direction
        for part in arrival.unit.parts
    )
