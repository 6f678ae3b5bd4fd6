"""How large a plan may be. Beyond this a count is wrong, and the search for layouts and an order would keep the author waiting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from drawleaf.model.plan import Bore, Joint, Part
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import KindDraft
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.placing import Placer

MOST_PARTS = 400
MOST_HOLES = 4000


def few_enough_parts(kinds: Iterable[KindDraft], placer: Placer, sources: Sources, findings: Findings) -> bool:
    """Whether the plan has no more parts than a booklet can show; told at the part with most copies where not."""
    counts = {kind: len(placer.copies(kind)) for kind in kinds}
    if sum(counts.values()) <= MOST_PARTS:
        return True
    most = max(counts, key=lambda kind: counts[kind])
    findings.error(
        "too-many-parts",
        f"The plan has {sum(counts.values())} parts; up to {MOST_PARTS} make a booklet",
        sources.at(most.entry, "repeat" if most.entry.repeat is not None else "stock"),
        f"“{most.id}” alone has {counts[most]}.",
        "Check the counts and repeats, or write a plan for each piece of the furniture.",
    )
    return False


def few_enough_holes(parts: Sequence[Part], joints: Sequence[Joint], findings: Findings) -> bool:
    """Whether anyone could bore and drive them all; told at the part or joint with most of them where not."""
    counts: Counter[Position] = Counter()
    for part in parts:
        counts[part.position] += sum(isinstance(one, Bore) for one in part.features)
    for joint in joints:
        counts[joint.position] += len(joint.fasteners)
    if counts.total() <= MOST_HOLES:
        return True
    findings.error(
        "too-many-holes",
        f"The plan has {counts.total():,} holes and fasteners; up to {MOST_HOLES:,} make sense",
        max(counts, key=lambda position: counts[position]),
        mend="Check the counts and pitches of the rows.",
    )
    return False
