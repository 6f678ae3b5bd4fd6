"""Parts that nothing holds: no joint leads from them to the rest of the piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from drawleaf.graphs import connected
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
    ties = [(joint.insert, joint.receiver) for joint in joints]
    ties += [pair for fitting in fittings for pair in pairwise(fitting.parts)]
    fixed = [part for part in parts if part.assembly not in loose]
    place = {part.id: at for at, part in enumerate(fixed)}
    groups = [[part for part in group if part in place] for group in connected((part.id for part in parts), ties)]
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


def _loose(assemblies: Iterable[Assembly]) -> set[str]:
    """Assemblies that are loose, or lie in one that is."""
    loose: set[str] = set()
    for assembly in assemblies:
        if assembly.loose or assembly.parent in loose:
            loose.add(assembly.id)
    return loose
