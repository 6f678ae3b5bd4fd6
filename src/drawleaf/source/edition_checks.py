"""Names in editions, checked against the plan when it is read: a misspelt name in an edition must not wait until someone compiles it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.source.models import AssemblyEntry, EditionEntry, PlanSource
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Path, Positions

_EDITION_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")


def check_editions(plan: PlanSource, positions: Positions) -> tuple[Diagnostic, ...]:
    """What the editions change that the plan does not have, and what they leave half changed."""
    found: list[Diagnostic] = []
    for edition in plan.editions.values():
        checker = _Checker(plan, edition, positions)
        found += [
            *checker.own_name(),
            *checker.names(),
            *checker.assemblies(),
            *checker.all_left_out(),
            *checker.stocks(),
        ]
    return tuple(found)


def assembly_ids(assemblies: dict[str, AssemblyEntry], above: str = "") -> list[str]:
    """The ids of assemblies and of those inside them: ``cabinet``, ``cabinet.drawer``."""
    ids = []
    for name, assembly in assemblies.items():
        own = f"{above}{name}"
        ids += [own, *assembly_ids(assembly.assemblies, f"{own}.")]
    return ids


def assembly_meant(name: str, ids: Iterable[str]) -> str | None:
    """The id of the assembly that ``without`` names: by its id, or by its last name where only one has that."""
    ids = list(ids)
    if name in ids:
        return name
    same = [one for one in ids if one.rsplit(".", 1)[-1] == name]
    return same[0] if len(same) == 1 else None


def _anything_left(assemblies: dict[str, AssemblyEntry], left_out: set[str], above: str = "") -> bool:
    """Whether an assembly with parts, or one made from a component, is not left out."""
    for name, assembly in assemblies.items():
        own = f"{above}{name}"
        if own in left_out:
            continue
        if assembly.parts or assembly.component or _anything_left(assembly.assemblies, left_out, f"{own}."):
            return True
    return False


class _Checker:
    """One edition against its plan."""

    def __init__(self, plan: PlanSource, edition: EditionEntry, positions: Positions) -> None:
        self.plan, self.edition, self.positions = plan, edition, positions
        self.file = edition.source_file

    def own_name(self) -> Iterator[Diagnostic]:
        """The edition's own name: part of file names, and typed on the command line."""
        name = str(self.edition.path[-1])
        if not _EDITION_NAME.fullmatch(name):
            mend = "Use letters, digits, hyphens and underscores; the words for the cover go into “subtitle”."
            yield self._error("odd-name", f"“{name}” cannot name an edition", self.edition.path, mend)

    def names(self) -> Iterator[Diagnostic]:
        """Dimensions, counts and stocks that the plan does not name."""
        plan, edition = self.plan, self.edition
        yield from self._unknown(
            "dimensions", "dimension", edition.dimensions, plan.dimensions, {"counts": plan.counts}
        )
        yield from self._unknown("counts", "count", edition.counts, plan.counts, {"dimensions": plan.dimensions})
        yield from self._unknown("stock", "stock", edition.stock, plan.stock, {})

    def _unknown(
        self, key: str, word: str, changed: Iterable[str], known: Iterable[str], elsewhere: dict[str, Iterable[str]]
    ) -> Iterator[Diagnostic]:
        known = list(known)
        for name in changed:
            if name in known:
                continue
            mend = did_you_mean(name, known, otherwise=f"Define it under “{key}” of the plan first.")
            for section, others in elsewhere.items():
                if name in others:
                    mend = f"It stands under “{section}” of the plan: move it to “{section}” here as well."
            path = (*self.edition.path, key, name)
            yield self._error("unknown-name", f"the plan has no {word} “{name}” to change", path, mend)

    def _error(self, code: str, message: str, path: Path, mend: str) -> Diagnostic:
        return Diagnostic(code, message, self.positions.of_key(self.file, path), "", mend)

    def assemblies(self) -> Iterator[Diagnostic]:
        """Assemblies to leave out that the plan does not have."""
        ids = assembly_ids(self.plan.assemblies)
        for index, name in enumerate(self.edition.without):
            if assembly_meant(name, ids) is None:
                same = [one for one in ids if one.rsplit(".", 1)[-1] == name]
                mend = f"Write {' or '.join(same)}." if same else did_you_mean(name, ids, otherwise="Check the name.")
                message = f"more than one assembly is named “{name}”" if same else f"the plan has no assembly “{name}”"
                yield self._error("unknown-assembly", message, (*self.edition.path, "without", index), mend)

    def all_left_out(self) -> Iterator[Diagnostic]:
        """An edition that leaves nothing to build."""
        ids = assembly_ids(self.plan.assemblies)
        left_out = {meant for name in self.edition.without if (meant := assembly_meant(name, ids)) is not None}
        whole = self.plan.assemblies
        if left_out and _anything_left(whole, set()) and not _anything_left(whole, left_out):
            message = f"the edition “{self.edition.path[-1]}” leaves nothing to build"
            mend = "Leave out fewer assemblies, or delete the edition."
            yield self._error("nothing-to-build", message, (*self.edition.path, "without"), mend)

    def stocks(self) -> Iterator[Diagnostic]:
        """Stocks that get another label and keep what the caliper said of the old one."""
        for name, change in self.edition.stock.items():
            base = self.plan.stock.get(name)
            relabelled = [key for key in ("material", "nominal", "size") if getattr(change, key) is not None]
            if base is None or base.actual is None or change.actual is not None or not relabelled:
                continue
            path = (*self.edition.path, "stock", name, relabelled[0])
            related = ((self.positions.of(base.source_file, (*base.path, "actual")), "the thickness that stays"),)
            yield Diagnostic(
                "stale-thickness",
                f"“{name}” becomes another stock here and keeps its actual thickness of {base.actual}",
                self.positions.of_key(self.file, path),
                "What an edition leaves out stays as the plan has it.",
                "Give “actual” as well, as a caliper reads it on the new stock.",
                Severity.ADVICE,
                related,
            )
