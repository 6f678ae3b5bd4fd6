"""Parts that nothing holds: no joint leads from them to the rest of the piece."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import pairwise

from drawleaf.graphs import connected
from drawleaf.model.plan import Assembly, Fitting, Joint, Part
from drawleaf.resolve.joints.meeting import touching
from drawleaf.resolve.names.findings import Findings


def tell_loose_ends(
    parts: Sequence[Part],
    joints: Iterable[Joint],
    fittings: Iterable[Fitting],
    assemblies: Iterable[Assembly],
    findings: Findings,
) -> None:
    """Advice for each group of parts, but the largest, that no joint or fitting ties to the others.

    Loose assemblies (a drawer, shelves on pins) are not meant to be held by the rest; but what touches another part of its own loose
    assembly and is not tied to it would fall off when that is lifted.
    """
    assemblies, joints = tuple(assemblies), tuple(joints)
    loose = _loose(assemblies)
    ties = [(joint.insert, joint.receiver) for joint in joints]
    ties += [pair for fitting in fittings for pair in pairwise(fitting.parts)]
    fixed = [part for part in parts if part.assembly not in loose]
    place = {part.id: at for at, part in enumerate(fixed)}
    groups = [[part for part in group if part in place] for group in connected((part.id for part in parts), ties)]
    groups = sorted((group for group in groups if group), key=lambda group: (-len(group), place[group[0]]))
    _tell_tied_loose(parts, joints, loose, findings)
    _tell_within_loose(parts, ties, loose, findings)
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


def _tell_tied_loose(
    parts: Sequence[Part], joints: Iterable[Joint], loose: Mapping[str, str], findings: Findings
) -> None:
    """An error for each loose assembly that glue or fasteners hold to something outside it: it could never be taken out."""
    home = {part.id: loose.get(part.assembly) for part in parts}
    told: set[str] = set()
    for joint in joints:
        first, second = home.get(joint.insert), home.get(joint.receiver)
        own = first or second
        if first == second or own is None or own in told or not (joint.glued or joint.fasteners):
            continue
        told.add(own)
        findings.error(
            "loose-tied",
            f"“{own}” is loose, and a joint holds “{joint.insert}” to “{joint.receiver}”",
            joint.position,
            "What is loose is lifted out when the piece is done.",
            f"Leave “loose: yes” out of “{own}”, or take what holds the joint away.",
        )


def _tell_within_loose(
    parts: Sequence[Part], ties: Sequence[tuple[str, str]], loose: Collection[str], findings: Findings
) -> None:
    """Copies of one part lie on one another as they please: a stack of trays is no mistake."""
    for assembly in sorted(loose):
        own = {part.id: part for part in parts if part.assembly == assembly and not part.brought}
        groups = connected(own, [tie for tie in ties if own.keys() >= set(tie)])
        largest = max(groups, key=len, default=())
        held = {part.id for part in parts if part.assembly != assembly}
        for group in groups:
            others = [own[one] for one in own if one not in group]
            rests = ((own[one], _rests_on(own[one], others)) for one in group)
            lone, other = next(((one, under) for one, under in rests if under is not None), (None, None))
            tied_elsewhere = any(set(tie) & set(group) and set(tie) & held for tie in ties)
            if group is largest or lone is None or other is None or tied_elsewhere:
                continue
            findings.advise(
                "not-joined",
                f"“{lone.id}” touches “{other.id}”, and no joint ties it to the rest of “{assembly}”",
                lone.position,
                "When the loose assembly is lifted, it stays behind.",
                f"Add a joint: “- {{butt: {_own_name(lone)}, to: {_own_name(other)}, with: [glue]}}”; "
                "or give it a loose assembly of its own.",
            )


def _rests_on(part: Part, others: Iterable[Part]) -> Part | None:
    """Another part, of another kind, that its face lies against."""
    return next((other for other in others if other.kind != part.kind and touching(part, other) is not None), None)


def _own_name(part: Part) -> str:
    return part.kind.rsplit(".", 1)[-1]


def _loose(assemblies: Iterable[Assembly]) -> dict[str, str]:
    """Assemblies that are loose, or lie in one that is, each with the outermost that is."""
    loose: dict[str, str] = {}
    for assembly in assemblies:
        if assembly.parent in loose:
            loose[assembly.id] = loose[assembly.parent]
        elif assembly.loose:
            loose[assembly.id] = assembly.id
    return loose
