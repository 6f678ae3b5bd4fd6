"""Housings: channels at an angle across loose parts, for the ends of what leans."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, distinct, key_of, title_names
from drawleaf.joinery.housing.bench import SetOut, housing_of
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import Part
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Scene

TITLES = {
    (True, False): "Cut the angled dado in the {into}",
    (True, True): "Cut the angled dadoes in the {into}",
    (False, False): "Cut the angled dado for the {purpose} in the {into}",
    (False, True): "Cut the angled dadoes for the {purpose} in the {into}",
}
"""A title by whether the part has no others, and whether there are several."""


def cut_housings(shop: Workshop) -> None:
    """One operation to each width, depth and angle in a kind of part."""
    found = [
        housing_of(part, cut)
        for part in shop.parts
        for cut in part.features
        if isinstance(cut, OutlineCut) and cut.kind == CutKind.HOUSING
    ]
    groups = by_setting(found, lambda one: one.settings, apart=lambda one: one.part.kind)
    for setting, group in groups:
        parts = distinct(one.part for one in group)
        name = f"housing-{key_of(shop.plan, parts[0])}"
        operation = shop.operation(
            name,
            CutKind.HOUSING,
            [part.id for part in parts],
            way=CutKind.DADO,
            pieces=len(group),
            settings=setting,
            features=[(one.part.id, one.cut) for one in group],
        )
        scene = Scene((), tuple(part.id for part in parts), (), (), ())
        alone = sum(other[0].part.kind == parts[0].kind for _, other in groups) == 1
        title = shop.words.tell(
            TITLES[alone, len(group) > 1], into=title_names(parts), purpose=title_names(_inserts(shop, group))
        )
        shop.add(name, Stage.MACHINE, title, (operation,), scene)


def _inserts(shop: Workshop, group: Sequence[SetOut]) -> list[Part]:
    """The parts whose ends go into these housings."""
    joints = {one.cut.joint for one in group}
    ids = dict.fromkeys(joint.insert for joint in shop.plan.joints if joint.id in joints)
    return [shop.plan.part(part) for part in ids]


HOUSINGS = Work(cut_housings, (CutKind.DADO,))
