"""Joint lines read: names to parts, parts that touch to meetings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from drawleaf.joinery import FAMILIES
from drawleaf.joinery.family import Family, Meeting, Terms
from drawleaf.joinery.planned import FasteningTerms
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.diagnostic import has_errors
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.resolve.joints.fastening_terms import FasteningReader
from drawleaf.resolve.joints.leaning import as_meant, cannot_lean
from drawleaf.resolve.joints.loose_pieces import PieceStocks
from drawleaf.resolve.joints.meeting import meeting_of, miss
from drawleaf.resolve.joints.misses import MissTeller
from drawleaf.resolve.joints.openings import Opening
from drawleaf.resolve.joints.terms import TermsReader
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import AssemblyDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.parts.targets import Target, TargetFinder
from drawleaf.source.models import JointEntry, LooseOptions


@dataclass(frozen=True, slots=True)
class Line:
    """One joint line of the source, read: family, terms, what is fastened how, and all pairs of parts that it joins."""

    id: str
    family: Family
    terms: Terms
    glued: bool
    fastenings: tuple[FasteningTerms, ...]
    meetings: tuple[Meeting, ...]
    position: Position


class JointReader:
    """Reads joint lines and finds the parts that meet."""

    def __init__(
        self,
        targets: TargetFinder,
        shop: Mapping[str, Part],
        evaluator: Evaluator,
        hardware: Mapping[str, HardwareItem],
        sources: Sources,
        findings: Findings,
        stocks: PieceStocks,
        openings: Mapping[str, Sequence[Opening]],
    ) -> None:
        self._openings = openings
        self._targets = targets
        self._stocks = stocks
        self._shop = dict(shop)
        self._sources = sources
        self._findings = findings
        self._evaluator = evaluator
        self._fastenings = FasteningReader(targets, evaluator, hardware, sources, findings)
        self._terms = TermsReader(evaluator, sources, findings)
        self._ids: dict[str, int] = {}
        self._misses = MissTeller(targets, shop.values(), evaluator)

    def read(self, assemblies: Iterable[AssemblyDraft]) -> list[Line]:
        lines: list[Line] = []
        for assembly in assemblies:
            if assembly.is_out:
                continue
            for scope, entry in assembly.joints():
                line = self._line(assembly, scope, entry)
                if line is not None:
                    lines.append(line)
        return lines

    def _line(self, assembly: AssemblyDraft, scope: Scope, entry: JointEntry) -> Line | None:
        family = self._family(entry)
        if family is None:
            return None
        inserts = self._names(entry, family.facts.key, scope)
        receiver_key = self._receiver_key(entry)
        receivers = self._names(entry, receiver_key, scope) if receiver_key else None
        terms = self._terms.read(scope, entry, family.facts)
        fastenings = self._fastenings.read(scope, entry)
        if inserts is None or receivers is None or terms is None or fastenings is None:
            return None
        first = next(iter(_parts_of(inserts, self._shop)), None)
        terms = self._stocks.settled(terms, entry, scope, first)
        if terms is None:
            return None
        inserts = [target for target in inserts if not target.left_out]
        receivers = [target for target in receivers if not target.left_out]
        if not inserts or not receivers:
            return None
        position = self._sources.at(entry, family.facts.key)
        meetings = self._meetings(family, terms, inserts, receivers, position, scope)
        if meetings is None:
            return None
        family = as_meant(family, meetings)
        problems = [
            problem
            for meeting in meetings
            for problem in (cannot_lean(family, meeting) or family.problems(meeting, terms))
        ]
        self._findings.extend(problems)
        if has_errors(tuple(problems)):
            return None
        names = [target.written.split(".")[-1] for target in (inserts[0], receivers[0])]
        line_id = self._unique(f"{assembly.id}.{names[0]}-{family.facts.key}-{names[1]}")
        held = fastenings.terms
        if terms.loose and family.facts.tenoned:
            item = self._fastenings.item(entry.loose) if isinstance(entry.loose, LooseOptions) else None
            held = (FasteningTerms("tenons", position, item), *held)
        return Line(line_id, family, terms, fastenings.glued, held, tuple(meetings), position)

    def _family(self, entry: JointEntry) -> Family | None:
        given = [family for family in FAMILIES if getattr(entry, family.facts.key, None) is not None]
        if len(given) == 1:
            return given[0]
        keys = ", ".join(family.facts.key for family in FAMILIES)
        message = "A joint names one kind of joint" if given else "This joint does not say what kind it is"
        self._findings.error(
            "joint-kind",
            message,
            self._sources.at(entry),
            f"The kinds are {keys}.",
            "Write “- {butt: shelf, to: back}”.",
        )
        return None

    def _receiver_key(self, entry: JointEntry) -> str | None:
        given = [key for key, names in (("to", entry.to), ("in_", entry.in_)) if names is not None]
        if len(given) == 1:
            return given[0]
        message = "A joint has either “to” or “in”, not both" if given else "This joint does not say what it joins to"
        self._findings.error(
            "joint-partner",
            message,
            self._sources.at(entry),
            mend="Write “to:” (butt) or “in:” (dado, groove, rabbet) with the part that receives it.",
        )
        return None

    def _names(self, entry: JointEntry, key: str, scope: Scope) -> list[Target] | None:
        names = getattr(entry, key)
        listed = [names] if isinstance(names, str) else names
        if isinstance(names, str):
            positions = [self._sources.at(entry, key)]
        else:
            positions = [self._sources.at(entry, key, index) for index in range(len(listed))]
        found = self._targets.find_all(listed, scope, positions)
        return found if len(found) == len(listed) and listed else None

    def _meetings(
        self,
        family: Family,
        terms: Terms,
        inserts: list[Target],
        receivers: list[Target],
        position: Position,
        scope: Scope,
    ) -> list[Meeting] | None:
        """All pairs that touch (or, for a crossing family, that are drawn through one another); None where a name has none (then reported), or where a part of it could not be placed."""
        if any(not target.parts(self._shop) for target in (*inserts, *receivers)):
            return None
        meetings: list[Meeting] = []
        met: set[str] = set()
        let_in: set[tuple[str, str]] = set()
        mirrors = self._mirrors(inserts)
        for insert in _parts_of(inserts, self._shop):
            mirror = mirrors.get(insert.id)
            own = replace(terms, on=terms.on.opposite) if terms.on and terms.on.axis is mirror else terms
            for receiver in _parts_of(receivers, self._shop):
                # Of boards in a row each is let into the next, not both into each other.
                if (receiver.id, insert.id) in let_in:
                    continue
                met_here = meeting_of(family, own, insert, receiver, position, self._openings)
                if met_here is not None:
                    meetings.append(replace(met_here, mirror=mirror))
                    met.update((insert.id, receiver.id))
                    let_in |= {(insert.id, receiver.id)} if terms.depth else set()
        told: set[frozenset[str]] = set()
        sound = self._all_met(inserts, receivers, met, scope, told)
        sound &= self._all_met(receivers, inserts, met, scope, told, turned=True)
        return meetings if sound else None

    def _mirrors(self, targets: Iterable[Target]) -> dict[str, Axis]:
        """Of copies that are the mirror image of the first that a name stands for, the axis along which they are."""
        found: dict[str, Axis] = {}
        for target in targets:
            parts = target.parts(self._shop)
            if target.kind is not None and target.kind.mirror is not None:
                found |= {one.id: target.kind.mirror for one in parts if one.mirrored != parts[0].mirrored}
        return found

    def _all_met(
        self,
        targets: list[Target],
        others: list[Target],
        met: set[str],
        scope: Scope,
        told: set[frozenset[str]],
        turned: bool = False,
    ) -> bool:
        """Every copy of a named part must touch a partner; of an assembly, those parts that do are meant, and one must.

        ``told`` are the pairs that were reported already: what is said of one is not said again of the other.
        """
        sound = True
        for target in targets:
            parts = target.parts(self._shop)
            lonely = [part for part in parts if part.id not in met]
            if not lonely or (target.sort == "assembly" and len(lonely) < len(parts)):
                continue
            partners = [part for part in _parts_of(others, self._shop) if part not in parts]
            if partners:
                nearest = min((miss(a, b) for a in lonely for b in partners), key=lambda one: one.size)
                pair = frozenset((nearest.insert.kind, nearest.receiver.kind))
                if pair not in told:
                    self._findings.add(self._misses.told(nearest, target.position, scope, turned))
                told.add(pair)
                sound = False
        return sound

    def _unique(self, line_id: str) -> str:
        self._ids[line_id] = self._ids.get(line_id, 0) + 1
        count = self._ids[line_id]
        return line_id if count == 1 else f"{line_id}-{count}"


def _parts_of(targets: Iterable[Target], shop: dict[str, Part]) -> list[Part]:
    """All parts of several targets, each once."""
    return list({part.id: part for target in targets for part in target.parts(shop)}.values())
