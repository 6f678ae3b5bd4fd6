"""Cuts at an angle on loose parts: ends of splayed legs and the rails between them, bevelled edges, tapers. One setting, all its cuts."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.drafts import Stage, Work, Workshop, key_of, title_names
from drawleaf.derive.slants import Slant, slants
from drawleaf.model.plan import Part
from drawleaf.model.steps import Scene

MOST_SETTINGS = {"edge": 3, "taper": 2, "end": 2}
"""So many settings to a step: an end takes marking, a trial and two cuts."""
WORK = {"edge": "bevel-edge", "taper": "taper", "end": "angle-ends"}
VERB = {"edge": "Bevel the edges of", "taper": "Taper", "end": "Cut the angled ends of"}


def cut_angles(shop: Workshop) -> None:
    """Edges first, while the part is long and square at its ends; then tapers; ends last."""
    found = [one for part in shop.plan.parts for one in slants(part)]
    for sort in WORK:
        groups: dict[tuple[object, ...], list[Slant]] = {}
        for one in found:
            if one.sort == sort:
                groups.setdefault((one.part.assembly, one.part.stock.id, one.mitre, one.tilt), []).append(one)
        settings = list(groups.values())
        most = MOST_SETTINGS[sort]
        for start in range(0, len(settings), most):
            _step(shop, sort, settings[start : start + most])


def _step(shop: Workshop, sort: str, settings: Sequence[Sequence[Slant]]) -> None:
    operations = []
    names = []
    for setting in settings:
        parts = _distinct(setting)
        names.append(f"{WORK[sort]}-{key_of(shop.plan, parts[0])}")
        operations.append(
            shop.operation(
                names[-1],
                WORK[sort],
                [part.id for part in parts],
                pieces=len(setting),
                settings=[("mitre", setting[0].mitre), ("tilt", setting[0].tilt)],
                features=[(one.part.id, one.cut) for one in setting],
            )
        )
    parts = _distinct([one for setting in settings for one in setting])
    scene = Scene((), tuple(part.id for part in parts), (), (), ())
    title = f"{VERB[sort]} the {title_names(parts)}"
    shop.add(operations[0].id, Stage.CUT, title, operations, scene, also=names)


def _distinct(found: Sequence[Slant]) -> list[Part]:
    return list({one.part.id: one.part for one in found}.values())


ANGLES = Work(cut_angles, tuple(WORK.values()))
