"""Parts that nothing holds: no joint leads from them to the rest of the piece."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import networkx as nx

from drawleaf.model.plan import Assembly, Fitting, Joint, Part
from drawleaf.resolve.findings import Findings


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
    together: nx.Graph = nx.Graph()
    together.add_nodes_from(part.id for part in parts)
    together.add_edges_from((joint.insert, joint.receiver) for joint in joints)
    for fitting in fittings:
        together.add_edges_from(zip(fitting.parts, fitting.parts[1:], strict=False))
    fixed = [part for part in parts if part.assembly not in loose]
    place = {part.id: at for at, part in enumerate(fixed)}
    groups = [
        sorted((part for part in group if part in place), key=place.__getitem__)
        for group in nx.connected_components(together)
    ]
    groups = sorted((group for group in groups if group), key=lambda group: (-len(group), place[group[0]]))
    for group in groups[1:]:
        first = fixed[place[group[0]]]
        more = f" and {len(group) - 1} more" if len(group) > 1 else ""
        findings.advise(
            "not-joined",
            f"“{first.id}”{more}: no joint ties it to the rest of the piece",
            first.position,
            "It would have to stand by itself.",
            "Add a joint, or write “loose: true” at its assembly if it is meant to lie loose.",
        )


def _loose(assemblies: Iterable[Assembly]) -> set[str]:
    """Assemblies that are loose, or lie in one that is."""
    loose: set[str] = set()
    for assembly in assemblies:
        if assembly.loose or assembly.parent in loose:
            loose.add(assembly.id)
    return loose
