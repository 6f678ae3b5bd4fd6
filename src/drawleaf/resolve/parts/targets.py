"""What a name stands for where work is done: a part with all its copies, one copy, or an assembly."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from drawleaf.english import listed
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.names import read_copy
from drawleaf.resolve.names.scopes import AssemblyDraft, KindDraft, Scope
from drawleaf.resolve.parts.placing import PlacedPart, copy_id
from drawleaf.source.names import did_you_mean

Sort = Literal["part", "copy", "assembly"]


@dataclass(frozen=True, slots=True)
class Target:
    """``ids`` are the parts that a name stands for, in order. ``kind`` is the part's draft, ``assembly`` the assembly's."""

    written: str
    sort: Sort
    ids: tuple[str, ...]
    kind: KindDraft | None
    assembly: AssemblyDraft | None
    position: Position
    left_out: bool = False

    def parts(self, shop: dict[str, Part]) -> list[Part]:
        """Those of its parts that are in the plan."""
        return [shop[part_id] for part_id in self.ids if part_id in shop]


class TargetFinder:
    """Finds parts and assemblies by the names that joints, machining, fittings and finish use."""

    def __init__(self, placed: Iterable[PlacedPart], findings: Findings) -> None:
        self._copies: dict[str, list[PlacedPart]] = {}
        for one in placed:
            self._copies.setdefault(one.kind.id, []).append(one)
        self._findings = findings

    def draft(self, kind_id: str) -> KindDraft | None:
        """What the author wrote of a part, by the id that its copies share; None for a piece that a joint brings along."""
        copies = self._copies.get(kind_id)
        return copies[0].kind if copies else None

    def first(self, kind: KindDraft) -> str:
        """The id of a part's first copy; empty where none could be placed."""
        copies = self._copies.get(kind.id)
        return copies[0].part.id if copies else ""

    def find(self, name: str, scope: Scope, position: Position) -> Target | None:
        """The target; None, with the mistake recorded, where nothing has that name."""
        first, *rest = name.strip().split(".")
        for level in scope.outward():
            if first in level.kinds:
                return self._part(name, level.kinds[first], rest, position)
            if first in level.children:
                return self._in_assembly(name, level.children[first], rest, position)
        known = [word for level in scope.outward() for word in (*level.kinds, *level.children)]
        elsewhere = sorted(kind for kind in self._copies if kind.rpartition(".")[2] == first)
        self._findings.error(
            "unknown-part",
            f"There is no part or assembly “{name}”",
            position,
            mend=f"From another assembly its name comes first: {listed([f'“{one}”' for one in elsewhere], 'or')}."
            if elsewhere
            else did_you_mean(first, known),
        )
        return None

    def find_all(self, names: str | list[str], scope: Scope, positions: list[Position]) -> list[Target]:
        """All that are found of one name or several; ``positions`` has one for each."""
        listed = [names] if isinstance(names, str) else names
        found = (self.find(name, scope, position) for name, position in zip(listed, positions, strict=True))
        return [target for target in found if target is not None]

    def whole_assembly(self, assembly: AssemblyDraft, written: str, position: Position) -> Target:
        kinds = [kind for inside in assembly.within() for kind in inside.kinds]
        ids = tuple(one.part.id for kind in kinds for one in self._copies.get(kind.id, []))
        return Target(written, "assembly", ids, None, assembly, position, assembly.is_out)

    def _in_assembly(self, name: str, assembly: AssemblyDraft, rest: list[str], position: Position) -> Target | None:
        if not rest:
            return self.whole_assembly(assembly, name, position)
        inside = assembly.scope
        first, *deeper = rest
        if first in inside.kinds:
            return self._part(name, inside.kinds[first], deeper, position)
        if first in inside.children:
            return self._in_assembly(name, inside.children[first], deeper, position)
        self._findings.error(
            "unknown-part",
            f"“{name}”: there is no part “{first}” in “{assembly.id}”",
            position,
            mend=did_you_mean(first, [*inside.kinds, *inside.children]),
        )
        return None

    def _part(self, name: str, kind: KindDraft, rest: list[str], position: Position) -> Target | None:
        copies = self._copies.get(kind.id, [])
        out = kind.assembly.is_out
        if not rest:
            return Target(name, "part", tuple(one.part.id for one in copies), kind, kind.assembly, position, out)
        copy, left = read_copy(kind, rest)
        if isinstance(copy, str) or left:
            trouble = copy if isinstance(copy, str) else f"“{'.'.join(left)}” is no part"
            self._findings.error("unknown-copy", f"“{name}”: {trouble}", position)
            return None
        number_given = any(word.isdigit() for word in rest)
        side_given = any(not word.isdigit() for word in rest)
        chosen = [
            one
            for one in copies
            if (not number_given or one.copy[0] == copy[0]) and (not side_given or one.copy[1] == copy[1])
        ]
        if copies and not chosen:
            self._findings.error(
                "unknown-copy", f"“{name}” does not exist: “{kind.id}” has {len(copies)} copies", position
            )
            return None
        ids = tuple(one.part.id for one in chosen) or (copy_id(kind, copy),)
        return Target(name, "copy", ids, kind, kind.assembly, position, out)
