"""Cuts at an angle on loose parts: ends of splayed legs and the rails between them, bevelled edges, tapers. One setting, all its cuts."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, distinct, key_of, short_names
from drawleaf.model.settings import SlantSettings
from drawleaf.model.steps import Scene
from drawleaf.setting_out.slants import Slant, slants

MOST_KINDS = {"edge": 4, "taper": 3, "end": 4}
"""So many kinds of part to a step: each takes a line to mark, and its ends one more."""
WORK = {"edge": "bevel-edge", "taper": "taper", "end": "angle-ends"}
TITLE = {"edge": "Bevel the edges of the {}", "taper": "Taper the {}", "end": "Cut the angled ends of the {}"}


def cut_angles(shop: Workshop) -> None:
    """Edges first, while the part is long and square at its ends; then tapers; ends last."""
    found = [one for part in shop.parts for one in slants(part)]
    for sort in WORK:
        groups = by_setting(
            [one for one in found if one.sort == sort],
            lambda one: SlantSettings(one.mitre, one.tilt),
            apart=lambda one: (shop.set_up(one.part)[0], one.part.stock.id),
        )
        step: list[tuple[SlantSettings, list[Slant]]] = []
        for group in groups:
            if step and _kinds([*step, group]) > MOST_KINDS[sort]:
                _step(shop, sort, step)
                step = []
            step.append(group)
        if step:
            _step(shop, sort, step)


def _kinds(groups: Sequence[tuple[SlantSettings, list[Slant]]]) -> int:
    return len({one.part.kind for _, group in groups for one in group})


def _step(shop: Workshop, sort: str, groups: Sequence[tuple[SlantSettings, list[Slant]]]) -> None:
    operations = []
    names = []
    for setting, group in groups:
        parts = distinct(one.part for one in group)
        names.append(f"{WORK[sort]}-{key_of(shop.plan, parts[0])}")
        operations.append(
            shop.operation(
                names[-1],
                WORK[sort],
                [part.id for part in parts],
                pieces=len(group),
                settings=setting,
                features=[(one.part.id, one.cut) for one in group],
            )
        )
    parts = distinct(one.part for _, group in groups for one in group)
    scene = Scene((), tuple(part.id for part in parts), (), (), ())
    title = shop.words.tell(TITLE[sort], short_names(shop.plan, parts))
    shop.add(operations[0].id, Stage.CUT, title, operations, scene, also=names)


ANGLES = Work(cut_angles, tuple(WORK.values()))
