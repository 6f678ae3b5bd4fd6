"""Scopes: which names an expression sees, and in whose frame it is written.

Every assembly has a scope of its own inside the scope it is nested in. A component is written without knowing the plan,
so its scope sees its own parameters and parts only; what the plan adds to it lives in a second scope around it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from drawleaf.model.place import Axis, Face
from drawleaf.model.position import Position
from drawleaf.source.models import (
    AssemblyEntry,
    ComponentSource,
    CutoutEntry,
    FittingEntry,
    JointEntry,
    MachiningEntry,
    PartEntry,
)

Unit = Literal["in", "mm"]


@dataclass(slots=True, eq=False)
class Scope:
    """Names in view. ``values`` maps dimensions and counts to graph keys; ``stocks`` maps stock names to the plan's."""

    label: str
    unit: Unit
    frame: AssemblyDraft | None
    outer: Scope | None
    values: dict[str, str] = field(default_factory=dict)
    kinds: dict[str, KindDraft] = field(default_factory=dict)
    children: dict[str, AssemblyDraft] = field(default_factory=dict)
    stocks: dict[str, str] = field(default_factory=dict)

    def outward(self) -> Iterator[Scope]:
        """This scope, the one around it, and so on to the top level."""
        scope: Scope | None = self
        while scope is not None:
            yield scope
            scope = scope.outer

    def visible(self) -> list[str]:
        """Every first word of a name that would be found from here."""
        names = ["stock"]
        for scope in self.outward():
            names += [*scope.values, *scope.kinds, *scope.children]
        return names


@dataclass(frozen=True, slots=True)
class NamedOpening:
    """A rectangular cutout that other parts refer to: the scope it was written in, and the graph key of each of its faces."""

    scope: Scope
    entry: CutoutEntry
    faces: Mapping[Face, str]


@dataclass(slots=True, eq=False)
class KindDraft:
    """A part as written, before copies: its entry, the scope it was written in and the assembly it belongs to."""

    id: str
    key: str
    entry: PartEntry
    scope: Scope
    assembly: AssemblyDraft
    stock: str | None
    position: Position
    openings: dict[str, NamedOpening] = field(default_factory=dict)

    @property
    def mirror(self) -> Axis | None:
        if self.entry.mirror is None:
            return None
        given = [axis for axis in Axis if getattr(self.entry.mirror, axis.value) is not None]
        return given[0] if len(given) == 1 else None

    @property
    def repeats(self) -> bool:
        return self.entry.repeat is not None or self.entry.around is not None


@dataclass(slots=True, eq=False)
class AssemblyDraft:
    """An assembly as written. ``origin`` holds the graph keys of its place in its parent's frame, per axis."""

    id: str
    key: str
    entry: AssemblyEntry
    parent: AssemblyDraft | None
    component: ComponentSource | None
    scope: Scope
    component_scope: Scope | None
    position: Position
    origin: dict[Axis, str] = field(default_factory=dict)
    kinds: list[KindDraft] = field(default_factory=list)
    children: list[AssemblyDraft] = field(default_factory=list)
    left_out: bool = False

    def lineage(self) -> tuple[AssemblyDraft, ...]:
        """This assembly and those around it, innermost first."""
        line: list[AssemblyDraft] = [self]
        while line[-1].parent is not None:
            line.append(line[-1].parent)
        return tuple(line)

    @property
    def is_out(self) -> bool:
        """Whether an edition leaves it out, or one around it."""
        return any(around.left_out for around in self.lineage())

    def within(self) -> Iterator[AssemblyDraft]:
        """This assembly and all inside it."""
        yield self
        for child in self.children:
            yield from child.within()

    def joints(self) -> Iterator[tuple[Scope, JointEntry]]:
        """Its joints, each with the scope it was written in; the component's first."""
        if self.component and self.component_scope:
            yield from ((self.component_scope, joint) for joint in self.component.joints)
        yield from ((self.scope, joint) for joint in self.entry.joints)

    def machining(self) -> Iterator[tuple[Scope, MachiningEntry]]:
        """Its machining, each with the scope it was written in; the component's first."""
        if self.component and self.component_scope:
            yield from ((self.component_scope, work) for work in self.component.machining)
        yield from ((self.scope, work) for work in self.entry.machining)

    def fittings(self) -> Iterator[tuple[Scope, FittingEntry]]:
        """Its fittings, each with the scope it was written in; the component's first."""
        if self.component and self.component_scope:
            yield from ((self.component_scope, fitting) for fitting in self.component.hardware)
        yield from ((self.scope, fitting) for fitting in self.entry.hardware)
