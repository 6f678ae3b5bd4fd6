"""Screws and brads that alone carry a load across their length: a ledger, a batten or a rail that no glue, no dowel and no ledge holds up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drawleaf.checks.context import WEIGHT_OF_KG, Bench, called, figures, judged, result, sentence
from drawleaf.checks.load_path import level
from drawleaf.checks.shear import SOURCE, held_across
from drawleaf.checks.shelf_sag import force_on
from drawleaf.checks.supports import beneath
from drawleaf.english import plural
from drawleaf.model.checks import CheckResult, Load, Quantity
from drawleaf.model.plan import Joint, Part
from drawleaf.model.steps import JOINING
from drawleaf.units import ZERO

MOST = 2.0
"""Beyond so many times the design value it stops: design values are under half of what breaks."""


def unglued_results(
    bench: Bench, load: Load, parts: Sequence[Part], carrying: Sequence[Joint], name: str, title: str, *, person: bool
) -> Iterator[CheckResult]:
    """The weakest of the ends that screws and brads alone hold up: a person on that very end, half of any other load."""
    near = {part.id for part in parts} | {other.id for part in parts for other in beneath(bench, part)}
    found: list[tuple[float, float, float, Joint, list[Joint]]] = []
    for joint in carrying:
        insert = bench.parts[joint.insert]
        if not alone(joint) or any(beneath(bench, insert)) or not (person or insert.id in near):
            continue
        pool = _at_that_end(carrying, joint, insert)
        held = sum(
            held_across(pin, bench.parts[pin.through], bench.parts[pin.into]) for one in pool for pin in one.fasteners
        )
        if all(alone(one) for one in pool) and held > 0:
            force = load.value if person else _of_one_end(load, parts)
            found.append((force / held, force, held, joint, pool))
    if not found:
        return
    share, force, held, joint, pool = max(found, key=lambda one: one[0])
    insert, receiver = bench.parts[joint.insert], bench.parts[joint.receiver]
    pins = [pin for one in pool for pin in one.fasteners]
    words = plural(str(pins[0].item.kind)) if len(pins) > 1 else str(pins[0].item.kind)
    yield result(
        name,
        title,
        judged(share, 1.0, MOST),
        [insert, receiver],
        sentence(
            "No glue holds the {insert} to the {receiver}: with {force} on that end its {count} {pins} alone carry, and are good for {held}.",
            insert=called(insert),
            receiver=called(receiver),
            count=len(pins),
            pins=words,
            force=_told(load, force, person),
            held=Quantity(held, "force"),
        ),
        figures=figures(load=Quantity(force, "force"), held=Quantity(held, "force")),
        limit=sentence("no more than {held}", held=Quantity(held, "force")),
        source=SOURCE,
        remedy=sentence("Add “glue”, more or thicker screws, or let it in with “dado” or “mortise_and_tenon”."),
        position=joint.position,
        steps=bench.steps_with((insert.id,), JOINING),
    )


def alone(joint: Joint) -> bool:
    """Whether two faces side by side are held by screws or brads and by nothing else."""
    if not joint.family.set_on or joint.glued or joint.depth > ZERO or not level(joint):
        return False
    return bool(joint.fasteners) and not any(one.item.pin for one in joint.fasteners)


def _at_that_end(carrying: Sequence[Joint], joint: Joint, insert: Part) -> list[Joint]:
    """The joints on the way that hold the same half of a part as this one."""
    axis = insert.length_axis
    span, middle = insert.seen.span(axis), insert.seen.span(axis).middle

    def half(one: Joint) -> bool | None:
        there = one.contact.span(axis)
        if there.extent > span.extent / 2:
            return None
        return there.middle > middle

    mine = half(joint)
    return [one for one in carrying if one.insert == insert.id and level(one) and half(one) is mine]


def _of_one_end(load: Load, parts: Sequence[Part]) -> float:
    """Newtons at one end of the heaviest loaded of some parts."""
    return max(force_on(load, part, part.size[1].mm) * part.size[0].mm for part in parts) / 2


def _told(load: Load, force: float, person: bool) -> Quantity:
    return Quantity(load.value / WEIGHT_OF_KG, "mass") if person else Quantity(force, "force")
