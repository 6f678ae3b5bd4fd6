"""Mouldings run from plain boards, and round parts made from square ones. What is bought with its section needs no step."""

from __future__ import annotations

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, key_of, title_names
from drawleaf.model.catalogue import Form
from drawleaf.model.plan import Part
from drawleaf.model.settings import ProfileSettings
from drawleaf.model.steps import Scene

MOST_NAMED = 3
"""A title names no more kinds of parts than these; they stand below it."""
BOUGHT = (Form.MOULDING, Form.ROD)


def run_profiles(shop: Workshop) -> None:
    """One step to a profile, and one to a thickness of round parts."""
    groups: dict[tuple[object, ...], list[Part]] = {}
    for part in shop.plan.parts:
        if made_here(part):
            assert part.section is not None
            groups.setdefault((part.section.name, part.section.round, *part.size[1:]), []).append(part)
    for parts in groups.values():
        first = parts[0]
        assert first.section is not None
        work = "make-round" if first.section.round else "run-moulding"
        name = f"{'round' if first.section.round else 'profile'}-{key_of(shop.plan, first)}"
        _, width, thickness = first.size
        operation = shop.operation(
            name,
            work,
            [part.id for part in parts],
            settings=ProfileSettings(width, thickness, first.section.name),
        )
        verb = "Make the {} round" if first.section.round else "Run the profile along the {}"
        many = not first.section.round and len({part.name for part in parts}) > MOST_NAMED
        scene = Scene((), operation.parts, (), (), ())
        title = verb.format("mouldings" if many else title_names(parts))
        shop.add(name, Stage.MACHINE, title, (operation,), scene)


def made_here(part: Part) -> bool:
    """Whether the part gets its section in the shop: it is cut from stock that is sold square."""
    return part.section is not None and part.stock.material.form not in BOUGHT


PROFILES = Work(run_profiles, ("run-moulding", "make-round"))
