"""How large a plan may be. Beyond this a count is wrong, and the search for layouts and an order would keep the author waiting."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from drawleaf.joinery.planned import Planned
from drawleaf.model.plan import Bore, Feature, Joint, Part
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import KindDraft
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.placing import Placer

MOST_PARTS = 1000
MOST_HOLES = 15_000
TOLD = 3
Weight = tuple[str, int, Position]
"""What is many, how many of it, and where it is asked for."""


class Limits:
    """``own`` is where the plan's own file lists its assemblies: a component's file is never reported, since other plans take it too."""

    def __init__(self, own: Position, findings: Findings) -> None:
        self._own = own
        self._findings = findings

    def few_enough_parts(self, kinds: Iterable[KindDraft], placer: Placer, sources: Sources) -> bool:
        """Whether the plan has no more parts than a booklet can show; reported at the part with most copies where not."""
        counts = {kind: len(placer.copies(kind)) for kind in kinds}
        weights = [
            (
                f"“{_name(kind)}”",
                count,
                sources.at(kind.entry, "repeat" if kind.entry.repeat is not None else "stock"),
            )
            for kind, count in counts.items()
        ]
        if not (total := _total(weights)):
            cause = "Assemblies without parts make no booklet."
            mend = "Write the parts of an assembly under “parts”."
            self._findings.error("nothing-to-build", "The plan has no part to build", self._own, cause, mend)
            return False
        if total <= MOST_PARTS:
            return True
        self._findings.error(
            "too-many-parts",
            f"The plan has {total:,} parts; up to {MOST_PARTS:,} make a booklet",
            *self._heaviest(weights),
            "Check the counts and repeats, or write a plan for each piece of the furniture.",
        )
        return False

    def few_enough_drafted(
        self,
        parts: Mapping[str, Part],
        planned: Sequence[tuple[Planned, Position]],
        *cuts: Mapping[str, Sequence[Feature]],
    ) -> bool:
        """Whether anyone could bore and drive them all, before the search that keeps fasteners apart begins."""
        weights = [
            _bored(parts[part], one)
            for made in cuts
            for part, features in made.items()
            for one in features
            if isinstance(one, Bore)
        ]
        for one, position in planned:
            fastener = one.fastener
            weights.append((f"{fastener.item.kind}s in {_called(parts[fastener.through])}", 1, position))
            weights += [
                _bored(parts[part], feature)
                for part, feature in (*((one.pocket,) if one.pocket is not None else ()), *one.made)
                if isinstance(feature, Bore)
            ]
        return self._few_holes(weights)

    def few_enough_holes(self, parts: Sequence[Part], joints: Sequence[Joint]) -> bool:
        """The same of the finished parts, with the holes of their fittings."""
        by_id = {part.id: part for part in parts}
        weights = [_bored(part, one) for part in parts for one in part.features if isinstance(one, Bore)]
        weights += [
            (f"{one.item.kind}s in {_called(by_id[one.through])}", 1, joint.position)
            for joint in joints
            for one in joint.fasteners
        ]
        return self._few_holes(weights)

    def _few_holes(self, weights: Sequence[Weight]) -> bool:
        if (total := _total(weights)) <= MOST_HOLES:
            return True
        self._findings.error(
            "too-many-holes",
            f"The plan has {total:,} holes and fasteners; up to {MOST_HOLES:,} make sense",
            *self._heaviest(weights),
            "Check the counts and pitches of the rows.",
        )
        return False

    def _heaviest(self, weights: Sequence[Weight]) -> tuple[Position, str]:
        """Where to look in the plan's own file, and the words that name the three that count most."""
        sums: Counter[str] = Counter()
        for what, count, _ in weights:
            sums[what] += count
        heaviest = sums.most_common(TOLD)
        own: Counter[Position] = Counter()
        for _, count, position in self._of(heaviest[0][0], weights):
            own[position] += count
        place = max(own, key=lambda position: own[position], default=self._own)
        return place, f"Most are {', '.join(f'{what}: {count:,}' for what, count in heaviest)}."

    def _of(self, what: str, weights: Sequence[Weight]) -> Iterator[Weight]:
        return (one for one in weights if one[0] == what and one[2].file == self._own.file)


def _total(weights: Iterable[Weight]) -> int:
    return sum(count for _, count, _ in weights)


def _bored(part: Part, bore: Bore) -> Weight:
    return f"{bore.kind}{'' if bore.kind.endswith('hole') else ' hole'}s in {_called(part)}", 1, bore.position


def _called(part: Part) -> str:
    return f"the {part.name.lower()}"


def _name(kind: KindDraft) -> str:
    """As parts alike are called in every assembly that has them."""
    return kind.entry.name or kind.key
