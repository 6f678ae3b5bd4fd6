"""Bought hardware, and the last moves: slides before the drawer, pulls after the finish, shelves on their pins, the piece to the wall."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.drafts import Stage, Workshop, local, slug
from drawleaf.derive.groups import Body
from drawleaf.derive.operations_joining import Joining, join_bodies
from drawleaf.derive.operations_machining import grouped
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fitting, Part, Plan
from drawleaf.model.steps import HardwareUse, Move, Scene

WALL_KINDS = ("wall screw", "hanger", "anti-tip strap")
NAMES = {
    "wall screw": "hang-on-wall",
    "hanger": "hang-on-wall",
    "anti-tip strap": "anchor-to-wall",
    "slides": "fit-slides",
    "hook": "fit-hooks",
    "pull": "fit-pull",
}


def fit_hardware(shop: Workshop, joining: Joining) -> None:
    """Everything after the finish, in an order in which each thing can still be reached."""
    plan = shop.plan
    lines = grouped(plan.fittings, lambda fitting: (fitting.line, fitting.item.id))
    done: set[str] = set()
    standing = [
        part for arrival in joining.arrivals if not joining.bodies[arrival.unit.id].loose for part in arrival.unit.parts
    ]

    def fit(wanted: Sequence[list[Fitting]]) -> None:
        for fittings in wanted:
            if fittings[0].id not in done:
                done.update(fitting.id for fitting in fittings)
                _fit(shop, fittings, standing)

    fit([line for line in lines if line[0].item.kind == "slides"])

    def arrived(bodies: list[Body]) -> None:
        own = {part for body in bodies for part in body.parts}
        pins = [line for line in lines if line[0].item.kind == "shelf pin" and own & set(line[0].parts)]
        if bodies[0].carried and not bodies[0].applied:
            _hang(shop, bodies[0], standing, joining)
        elif bodies[0].loose and not bodies[0].applied:
            _set_shelves(shop, bodies, standing, [fitting for line in pins for fitting in line], joining)
            done.update(fitting.id for line in pins for fitting in line)
        standing.extend(part for part in own if part not in standing)
        fit([line for line in lines if own & set(line[0].parts) and line[0].item.kind not in WALL_KINDS])

    join_bodies(shop, joining, before_finish=False, each=arrived)
    fit([line for line in lines if line[0].item.kind not in WALL_KINDS])
    fit(lines)


def uses_of(fittings: Sequence[Fitting], catalogue_hardware: dict[str, HardwareItem]) -> tuple[HardwareUse, ...]:
    """The items of some fittings with the screws that must be bought for them."""
    counts: dict[str, int] = {}
    for fitting in fittings:
        counts[fitting.item.id] = counts.get(fitting.item.id, 0) + fitting.count
        for screw in fitting.item.screws:
            if not screw.supplied:
                counts[screw.item] = counts.get(screw.item, 0) + screw.count * fitting.count
    items = {fitting.item.id: fitting.item for fitting in fittings}
    return tuple(HardwareUse(items.get(item) or catalogue_hardware[item], count) for item, count in counts.items())


def _fit(shop: Workshop, fittings: Sequence[Fitting], standing: Sequence[str]) -> None:
    first = fittings[0]
    kind = first.item.kind
    wall = kind in WALL_KINDS
    name = NAMES.get(kind, f"fit-{slug(kind)}")
    count = sum(fitting.count for fitting in fittings)
    parts = tuple(dict.fromkeys(part for fitting in fittings for part in fitting.parts))
    plan = shop.plan
    operation = shop.operation(
        name,
        _template(kind),
        (*parts, *_carried_sides(plan, fittings)),
        way="wall" if wall else "fit-slides" if kind == "slides" else "fit-hardware",
        pieces=len(fittings),
        fittings=fittings,
        after=_all_coats(shop),
    )
    thing = first.item.plural if count > 1 and kind != "slides" else first.item.name
    title = {
        "hang-on-wall": "Hang it on the wall",
        "anchor-to-wall": "Fasten it to the wall",
        "fit-slides": "Screw the slides to the case and the drawer",
    }.get(name, f"Fit the {thing[:1].lower()}{thing[1:]}")
    around = tuple(part for part in standing if part not in parts)
    scene = Scene((*around, *parts), (), (), (), tuple(fitting.id for fitting in fittings))
    shop.add(
        operation.id,
        Stage.PLACE if wall else Stage.FIT,
        title,
        (operation,),
        scene,
        hardware=uses_of(fittings, shop.plan.catalogue.hardware),
        cautions=_wall_cautions(shop, kind),
    )


def _carried_sides(plan: Plan, fittings: Sequence[Fitting]) -> tuple[str, ...]:
    """What the other half of a slide is screwed to: the sides of the drawer that it carries."""
    return tuple(dict.fromkeys(side.id for fitting in fittings for side in carried_sides(plan, fitting)))


def carried_sides(plan: Plan, fitting: Fitting) -> list[Part]:
    """The outermost upright parts of what a slide carries."""
    carried = [part for part in plan.parts if part.assembly == fitting.moving and part.thickness is Axis.X]
    if not carried:
        return []
    low = min(part.body.x.low for part in carried)
    high = max(part.body.x.high for part in carried)
    return [part for part in carried if part.body.x.low == low or part.body.x.high == high]


def _template(kind: str) -> str:
    return {
        "hook": "fit-hooks",
        "pull": "fit-pull",
        "slides": "fit-slides",
        "wall screw": "hang-on-wall",
        "hanger": "hang-on-wall",
        "anti-tip strap": "anchor-to-wall",
    }.get(kind, "fit-other")


def _wall_cautions(shop: Workshop, kind: str) -> list:
    wanted = {"anti-tip strap": ("tip-over", "wall fixing"), "wall screw": ("wall fixing",), "hanger": ("wall fixing",)}
    cautions = shop.plan.catalogue.cautions
    return [cautions[name] for name in wanted.get(kind, ()) if name in cautions]


def _all_coats(shop: Workshop) -> list[str]:
    """Hardware goes on after the last coat: nobody masks a hook."""
    return [operation.id for draft in shop.drafts if draft.stage <= Stage.FINISH for operation in draft.operations[-1:]]


def _hang(shop: Workshop, body: Body, standing: Sequence[str], joining: Joining) -> None:
    plan = shop.plan
    name = f"hang-{local(body.assembly)}"
    slides = [fitting for fitting in plan.fittings if fitting.moving == body.assembly]
    operation = shop.operation(
        name,
        "hang-drawer",
        body.parts,
        pieces=1,
        fittings=slides,
        standing=standing,
        after=_all_coats(shop),
    )
    moves = _moves(joining, [body])
    scene = Scene(tuple(standing), body.parts, moves, (), tuple(fitting.id for fitting in slides))
    title = f"Hang the {plan.assembly(body.assembly).name.lower()}"
    shop.add(name, Stage.FIT, title, (operation,), scene, assembly=body.assembly)


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
        settings=[("tilted", "yes" if tilted else "no"), ("copies", str(len(bodies)))],
        standing=standing,
        after=_all_coats(shop),
    )
    scene = Scene(tuple(standing), parts, _moves(joining, bodies), (), tuple(fitting.id for fitting in pins))
    title = f"Set the {plan.assembly(bodies[0].assembly).name.lower()} in place"
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
