"""Parts that nothing holds: no joint leads from them to the rest of the piece."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from drawleaf.model.plan import Assembly, Fitting, Joint, Part
from drawleaf.resolve.names.findings import Findings


def tell_loose_ends(
    parts: Sequence[Part],
    joints: Iterable[Joint],
    fittings: Iterable[Fitting],
    assemblies: Iterable[Assembly],
    findings: Findings,
) -> None:
    """Advice for each group of parts, but the largest, that no joint or fitting ties to the others.

    Loose assemblies (a drawer, shelves on pins) are passed over: they are not meant to be held.
    """
    loose = _loose(assemblies)
    together = _Groups(part.id for part in parts)
    for joint in joints:
        together.tie(joint.insert, joint.receiver)
    for fitting in fittings:
        for one, other in pairwise(fitting.parts):
            together.tie(one, other)
    fixed = [part for part in parts if part.assembly not in loose]
    place = {part.id: at for at, part in enumerate(fixed)}
    groups = [sorted((part for part in group if part in place), key=place.__getitem__) for group in together.groups()]
    groups = sorted((group for group in groups if group), key=lambda group: (-len(group), place[group[0]]))
    for group in groups[1:]:
        first = fixed[place[group[0]]]
        more = f" and {len(group) - 1} more" if len(group) > 1 else ""
        findings.advise(
            "not-joined",
            f"“{first.id}”{more}: no joint ties it to the rest of the piece",
            first.position,
            "It would have to stand by itself.",
            "Add a joint, or write “loose: yes” at its assembly if it is meant to lie loose.",
        )


class _Groups:
    """What is tied to what. (networkx does the same, but takes a tenth of a second to load.)"""

    def __init__(self, ids: Iterable[str]) -> None:
        self._tied: dict[str, list[str]] = {an_id: [] for an_id in ids}

    def tie(self, one: str, other: str) -> None:
        self._tied.setdefault(one, []).append(other)
        self._tied.setdefault(other, []).append(one)

    def groups(self) -> Iterator[list[str]]:
        """Every id once, with all that it is tied to."""
        left = dict.fromkeys(self._tied)
        while left:
            group = [next(iter(left))]
            del left[group[0]]
            for an_id in group:  # grows while it is walked
                for other in self._tied[an_id]:
                    if other in left:
                        del left[other]
                        group.append(other)
            yield group


def _loose(assemblies: Iterable[Assembly]) -> set[str]:
    """Assemblies that are loose, or lie in one that is."""
    loose: set[str] = set()
    for assembly in assemblies:
        if assembly.loose or assembly.parent in loose:
            loose.add(assembly.id)
    return loose
