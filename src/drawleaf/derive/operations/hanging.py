"""What comes to the finished piece and moves on it or lies in it: drawers, doors, lids, tops on their fasteners, shelves, panels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.assembly.groups import Body
from drawleaf.derive.operations.drafts import Stage, Workshop, local
from drawleaf.derive.operations.fitting_kinds import all_coats, uses_of
from drawleaf.derive.operations.joining import Joining, joints_between
from drawleaf.model.plan import Fitting, Plan
from drawleaf.model.settings import NO_SETTINGS, HangSettings, ShelfSettings
from drawleaf.model.steps import Move, Pose, Scene
from drawleaf.setting_out.hinging import TOPS, carriers, is_hinge, is_lid


def bring_in(
    shop: Workshop, bodies: Sequence[Body], standing: Sequence[str], pins: Sequence[Fitting], joining: Joining
) -> None:
    """The step that brings these bodies to what stands, where joints do not bring them."""
    first = bodies[0]
    if first.applied or not first.loose:
        return
    if first.carried:
        _hang(shop, first, standing, joining)
    elif any(fitting.item.kind == "inset magnet" for fitting in _holding(shop.plan, bodies)):
        _set_panel(shop, bodies, standing, joining)
    else:
        _set_shelves(shop, bodies, standing, pins, joining)


def _holding(plan: Plan, bodies: Sequence[Body]) -> list[Fitting]:
    own = {part for body in bodies for part in body.parts}
    return [fitting for fitting in plan.fittings if own & set(fitting.parts)]


def _hang(shop: Workshop, body: Body, standing: Sequence[str], joining: Joining) -> None:
    """A drawer runs in, a door or lid is hung on its hinges, a top is screwed down on its fasteners."""
    plan = shop.plan
    held = carriers(plan, body.assembly)
    kinds = {fitting.item.kind for fitting in held}
    named = plan.assembly(body.assembly).name.lower()
    template, title, settings, hardware = "hang-drawer", shop.words.tell("Hang the {}", named), NO_SETTINGS, ()
    if kinds & set(TOPS):
        template, title = "fasten-top", shop.words.tell("Fasten the {}", named)
    elif "undermount slides" in kinds:
        template = "hang-drawer-under"
    elif any(is_hinge(fitting) for fitting in held):
        lid = is_lid(plan, held)
        template = "hang-cup-door" if "concealed hinge" in kinds else "hang-lid" if lid else "hang-door"
        settings = HangSettings(lid)
    if template not in ("hang-drawer", "hang-drawer-under"):
        hardware = uses_of(held, plan.catalogue.hardware)
    name = f"{'fasten' if template == 'fasten-top' else 'hang'}-{local(body.assembly)}"
    operation = shop.operation(
        name,
        template,
        body.parts,
        way={"hang-drawer-under": "hang-drawer", "hang-cup-door": "hang-door", "hang-lid": "hang-door"}.get(
            template, template
        )
        if "piano hinge" not in kinds
        else "hang-piano",
        pieces=1 if template.startswith("hang-drawer") else len(held),
        fittings=held,
        settings=settings,
        standing=standing,
        after=all_coats(shop),
    )
    scene = Scene(tuple(standing), body.parts, _moves(joining, [body]), (), tuple(fitting.id for fitting in held))
    if template == "fasten-top":
        scene = replace(scene, pose=Pose.OVER)
    known = plan.catalogue.cautions
    cautions = [known["finger trap"]] if template == "hang-lid" and "finger trap" in known else []
    shop.add(name, Stage.FIT, title, (operation,), scene, assembly=body.assembly, hardware=hardware, cautions=cautions)


def _set_panel(shop: Workshop, bodies: Sequence[Body], standing: Sequence[str], joining: Joining) -> None:
    """A panel that magnets hold is set in its place, and comes off again."""
    plan = shop.plan
    name = f"set-{local(bodies[0].assembly)}"
    parts = tuple(part for body in bodies for part in body.parts)
    operation = shop.operation(
        name,
        "set-panel",
        parts,
        way="set-shelves",
        pieces=len(bodies),
        joints=joints_between(plan, parts, standing),
        standing=standing,
        after=all_coats(shop),
    )
    scene = Scene(tuple(standing), parts, _moves(joining, bodies), (), ())
    title = shop.words.tell("Set the {} in place", plan.assembly(bodies[0].assembly).name.lower())
    shop.add(name, Stage.FIT, title, (operation,), scene, assembly=bodies[0].assembly)


def _set_shelves(
    shop: Workshop, bodies: Sequence[Body], standing: Sequence[str], pins: Sequence[Fitting], joining: Joining
) -> None:
    plan = shop.plan
    name = f"set-{local(bodies[0].assembly)}"
    parts = tuple(part for body in bodies for part in body.parts)
    tilted = any(arrival.tilted for arrival in joining.arrivals if arrival.unit.id in {body.id for body in bodies})
    operation = shop.operation(
        name,
        "set-shelves",
        parts,
        pieces=len(bodies),
        fittings=pins,
        settings=ShelfSettings(tilted, len(bodies)),
        standing=standing,
        after=all_coats(shop),
    )
    scene = Scene(tuple(standing), parts, _moves(joining, bodies), (), tuple(fitting.id for fitting in pins))
    title = shop.words.tell("Set the {} in place", plan.assembly(bodies[0].assembly).name.lower())
    hardware = uses_of(pins, plan.catalogue.hardware)
    shop.add(name, Stage.FIT, title, (operation,), scene, assembly=bodies[0].assembly, hardware=hardware)


def _moves(joining: Joining, bodies: Sequence[Body]) -> tuple[Move, ...]:
    ids = {body.id for body in bodies}
    return tuple(
        Move(part, arrival.direction)
        for arrival in joining.arrivals
        if arrival.unit.id in ids and arrival.direction
        for part in arrival.unit.parts
    )
