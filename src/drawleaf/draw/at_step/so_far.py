"""Parts as they are at a step: with what has been cut into them so far, and nothing that is still to come."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import replace

from drawleaf.draw.at_step.bored import bored_for
from drawleaf.model.catalogue import SCREWS
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Fastener, Part
from drawleaf.model.settings import ScrewHoleSettings
from drawleaf.model.steps import Step
from drawleaf.solids.build import Solids


def part_so_far(derived: Derived, step: Step, part: Part, *, holes: bool = False) -> Part:
    """The part after this step; with the clearance holes bored so far where ``holes`` are wanted."""
    cuts = derived.cuts_in(part.id)
    later = {feature for number, feature in cuts if number > step.number}
    done = {feature for number, feature in cuts if number <= step.number}
    features = tuple(feature for feature in part.features if feature not in later or feature in done)
    part = part if features == part.features else replace(part, features=features)
    if not holes:
        return part
    bored = (one for other in derived.steps if other.number <= step.number for one in screws_bored(other, part.id))
    screws = tuple(dict.fromkeys(bored))
    return bored_for(derived.plan, part, screws) if screws else part


class States:
    """Parts with their holes as they are at each step, every state made once."""

    def __init__(self, derived: Derived) -> None:
        self._derived = derived
        self._made: dict[tuple[str, int], Part] = {}
        self._changes: dict[str, list[int]] = {}
        for step in derived.steps:
            for operation in step.operations:
                bored = operation.parts if operation.kind == "screw-holes" else ()
                for part in {*bored, *(one for one, _ in operation.features)}:
                    self._changes.setdefault(part, []).append(step.number)

    def at(self, step: Step, part: Part) -> Part:
        """``part_so_far`` with its holes."""
        state = part.id, bisect_right(sorted(self._changes.get(part.id, ())), step.number)
        if state not in self._made:
            self._made[state] = part_so_far(self._derived, step, part, holes=True)
        return self._made[state]


def solids_so_far(derived: Derived, solids: Solids, step: Step, shown: Iterable[str], *, holes: bool = False) -> Solids:
    """The solids of what a step shows, as they are after it. The very same solids where nothing is still to come."""
    wanted = set(shown)
    parts = tuple(
        part_so_far(derived, step, part, holes=holes) if part.id in wanted else part for part in solids.plan.parts
    )
    changed = {now.id: now for now, then in zip(parts, solids.plan.parts, strict=True) if now is not then}
    return solids.with_states(changed) if changed else solids


def screws_bored(step: Step, part: str) -> tuple[Fastener, ...]:
    """The screws whose clearance holes are bored in this part in this step: of the size, and slotted or not, as its operations say."""
    found: list[Fastener] = []
    for operation in step.operations:
        settings = operation.settings
        if not isinstance(settings, ScrewHoleSettings) or part not in operation.parts:
            continue
        for joint in operation.joints:
            for screw in joint.fasteners:
                like = (screw.slotted, screw.item.gauge, screw.sunk) == (settings.slots, settings.gauge, settings.sunk)
                if screw.through == part and screw.item.kind in SCREWS and like and screw not in found:
                    found.append(screw)
    return tuple(found)
