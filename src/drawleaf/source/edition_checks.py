"""Names in editions, checked against the plan when it is read: a misspelt name in an edition must not wait until someone compiles it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.source.expected import expressions_in
from drawleaf.source.expressions import parse_expression
from drawleaf.source.line_names import Line, all_lines, lines_of_edition, names_of, ways_of
from drawleaf.source.models import AssemblyEntry, EditionEntry, PlanSource
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Path, Positions

_EDITION_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")


def check_editions(plan: PlanSource, positions: Positions) -> tuple[Diagnostic, ...]:
    """What the editions change that the plan does not have, and what they leave half changed."""
    found: list[Diagnostic] = [*_line_names(all_lines(plan), positions)]
    for edition in plan.editions.values():
        checker = _Checker(plan, edition, positions)
        found += [
            *checker.own_name(),
            *_line_names(lines_of_edition(edition), positions),
            *checker.names(),
            *checker.assemblies(),
            *checker.changed_assemblies(),
            *checker.ways(),
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


def _line_names(lines: Iterable[Line], positions: Positions) -> Iterator[Diagnostic]:
    """Lines, and other ways of them, that share a name, and ways without one: an edition could not say which it means."""
    first: dict[str, Line] = {}
    for line in lines:
        for one in (line, *ways_of(line)):
            if one.name is None:
                continue
            other = first.setdefault(one.name, one)
            there = positions.of(other.source_file, (*other.path, "name"))
            here = positions.of(one.source_file, (*one.path, "name"))
            # A line that an assembly takes from the one it is like is written once, and changes with it.
            if here != there:
                yield Diagnostic(
                    "name-taken",
                    f"two lines are named “{one.name}”",
                    here,
                    "An edition calls a line by its name.",
                    "Give one of them another name.",
                    related=((there, "the other is this"),),
                )
        for way in ways_of(line):
            if way.name is None:
                yield Diagnostic(
                    "way-without-name",
                    "another way has no name",
                    positions.of(way.source_file, way.path),
                    "It is printed under its name, and an edition chooses it by that.",
                    "Add “name: pocket_screwed”, or what it is, in lower-case letters and underscores.",
                )


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
        used = self._words_used() if key in ("dimensions", "counts") else frozenset[str]()
        for name in changed:
            if name in known or name in used:
                continue
            mend = did_you_mean(name, known, otherwise=self._nothing_near(key))
            for section, others in elsewhere.items():
                if name in others:
                    mend = f"It stands under “{section}” of the plan: move it to “{section}” here as well."
            path = (*self.edition.path, key, name)
            yield self._error("unknown-name", f"the plan has no {word} “{name}” to change", path, mend)

    @staticmethod
    def _nothing_near(key: str) -> str:
        if key == "stock":
            return "Define it under “stock” of the plan first."
        return f"Define it under “{key}” of the plan first, or use it in a line of the edition."

    def _words_used(self) -> frozenset[str]:
        """Names in the expressions of what the edition writes itself: a dimension that one of them uses is new, no slip."""
        found: set[str] = set()
        for node in (*self.edition.assemblies.values(), *self.edition.finish, self.edition):
            for _, text in expressions_in(type(node), node.model_dump(by_alias=True, exclude_defaults=True)):
                parsed = parse_expression(text, self.positions.of(self.file, self.edition.path))
                if not isinstance(parsed, Diagnostic):
                    found.update(name.partition(".")[0] for name in parsed.ordered_names)
        return frozenset(found)

    def _error(self, code: str, message: str, path: Path, mend: str) -> Diagnostic:
        return Diagnostic(code, message, self.positions.of_key(self.file, path), "", mend)

    def assemblies(self) -> Iterator[Diagnostic]:
        """Assemblies to leave out that the plan does not have."""
        lines = names_of(all_lines(self.plan))
        for index, name in enumerate(self.edition.without):
            if name not in lines:
                otherwise = "Check the name; a line is left out by its “name”."
                yield from self._no_assembly(name, ("without", index), ", and no line of that name", lines, otherwise)

    def changed_assemblies(self) -> Iterator[Diagnostic]:
        """Assemblies to add lines to that the plan does not have."""
        for name in self.edition.assemblies:
            otherwise = "Write the assembly under “assemblies:” of the plan first."
            yield from self._no_assembly(name, ("assemblies", name), "", (), otherwise)

    def _no_assembly(
        self, name: str, place: Path, more: str, lines: Sequence[str], otherwise: str
    ) -> Iterator[Diagnostic]:
        """What is wrong with a name that means no assembly of the plan, or one of several."""
        ids = assembly_ids(self.plan.assemblies)
        if assembly_meant(name, ids) is not None:
            return
        same = [one for one in ids if one.rsplit(".", 1)[-1] == name]
        message = f"more than one assembly is named “{name}”" if same else f"the plan has no assembly “{name}”{more}"
        mend = f"Write {' or '.join(same)}." if same else did_you_mean(name, [*ids, *lines], otherwise=otherwise)
        yield self._error("unknown-assembly", message, (*self.edition.path, *place), mend)

    def ways(self) -> Iterator[Diagnostic]:
        """Other ways to take that no line offers."""
        offered = [name for line in all_lines(self.plan) for name in names_of(ways_of(line))]
        for index, name in enumerate(self.edition.another_way):
            if name not in offered:
                none = "No line has “another_way”: write one first."
                mend = did_you_mean(name, offered, otherwise=f"There are {', '.join(offered)}." if offered else none)
                path = (*self.edition.path, "another_way", index)
                yield self._error("unknown-way", f"no line offers another way named “{name}”", path, mend)

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
