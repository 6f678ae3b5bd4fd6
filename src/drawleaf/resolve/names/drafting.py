"""The source tree as scopes, drafts and graph nodes: everything by name, nothing worked out yet."""

from __future__ import annotations

from typing import Literal

from drawleaf.model.place import Axis
from drawleaf.model.position import Position
from drawleaf.resolve.names.axes import EXTENT_KEYS, FaceNodes, Given, given_too_little, given_twice
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.graph import Graph, Node
from drawleaf.resolve.names.openings import add_openings, name_openings
from drawleaf.resolve.names.scopes import AssemblyDraft, KindDraft, Scope
from drawleaf.resolve.names.sources import Sources
from drawleaf.resolve.names.stocks import StockDraft, thickness_key, width_key
from drawleaf.source.models import AssemblyEntry, At, ComponentSource, PartEntry, PlanSource
from drawleaf.source.names import did_you_mean
from drawleaf.source.old_names import new_parameter, told_new
from drawleaf.source.trade_words import item_mend
from drawleaf.units import ZERO

Unit = Literal["in", "mm"]


class Drafter:
    """Builds the tree of scopes and assemblies of a plan. ``top`` is the outermost scope, ``assemblies`` in source order."""

    def __init__(
        self,
        plan: PlanSource,
        components: dict[str, ComponentSource],
        stocks: dict[str, StockDraft],
        sources: Sources,
        findings: Findings,
    ) -> None:
        self._components = components
        self._stocks = stocks
        self._sources = sources
        self._findings = findings
        self.assemblies: list[AssemblyDraft] = []
        self.top = Scope("the plan", plan.plan.lengths, None, None, stocks={name: name for name in plan.stock})
        for name in plan.dimensions:
            self.top.values[name] = f"dim:{name}"
        for name in plan.counts:
            self.top.values[name] = f"count:{name}"
        for key, entry in plan.assemblies.items():
            self._assembly(key, entry, None, self.top)
        name_openings(self.assemblies)

    @property
    def kinds(self) -> list[KindDraft]:
        return [kind for assembly in self.assemblies for kind in assembly.kinds]

    def _assembly(self, key: str, entry: AssemblyEntry, parent: AssemblyDraft | None, outer: Scope) -> None:
        assembly_id = f"{parent.id}.{key}" if parent else key
        scope = Scope(assembly_id, outer.unit, None, outer)
        component = self._component(entry)
        position = self._sources.at(entry)
        assembly = AssemblyDraft(assembly_id, key, entry, parent, component, scope, None, position)
        scope.frame = assembly
        outer.children[key] = assembly
        if parent:
            parent.children.append(assembly)
        self.assemblies.append(assembly)
        for name in entry.dimensions:
            scope.values[name] = f"dim:{assembly_id}.{name}"
        for name in entry.counts:
            scope.values[name] = f"count:{assembly_id}.{name}"
        if component is not None:
            self._inside_component(assembly, component)
        for part_key, part in entry.parts.items():
            if part_key in scope.kinds:
                self._findings.error(
                    "name-taken",
                    f"The component already has a part “{part_key}”",
                    self._sources.at(part),
                    mend="Give the part that you add another name.",
                )
                continue
            kind = self._kind(part_key, part, scope, assembly)
            scope.kinds[part_key] = kind
        for child_key, child in entry.assemblies.items():
            self._assembly(child_key, child, assembly, scope)

    def _component(self, entry: AssemblyEntry) -> ComponentSource | None:
        if entry.component is None:
            return None
        component = self._components.get(entry.component)
        if component is None:
            self._findings.error(
                "unknown-component",
                f"There is no component “{entry.component}” in shared/components",
                self._sources.at(entry, "component"),
                mend=item_mend("components", entry.component, self._components),
            )
        return component

    def _inside_component(self, assembly: AssemblyDraft, component: ComponentSource) -> None:
        inner = Scope(f"component {component.component}", component.lengths, assembly, None)
        assembly.component_scope = inner
        for name in component.parameters:
            inner.values[name] = f"param:{assembly.id}.{name}"
        for name in component.dimensions:
            inner.values[name] = f"dim:{assembly.id}#{name}"
        for name in component.stock:
            given = assembly.entry.with_.get(name)
            if given is not None:
                inner.stocks[name] = given.strip()
        for part_key, part in component.parts.items():
            kind = self._kind(part_key, part, inner, assembly)
            inner.kinds[part_key] = kind
            assembly.scope.kinds[part_key] = kind

    def _kind(self, key: str, entry: PartEntry, scope: Scope, assembly: AssemblyDraft) -> KindDraft:
        position = self._sources.at(entry)
        stock = self._stock_of(entry, scope)
        kind = KindDraft(f"{assembly.id}.{key}", key, entry, scope, assembly, stock, position)
        assembly.kinds.append(kind)
        return kind

    def _stock_of(self, entry: PartEntry, scope: Scope) -> str | None:
        known = next((level.stocks for level in scope.outward() if level.stocks), {})
        plan_name = known.get(entry.stock)
        component = scope.frame.component if scope.frame is not None and scope.outer is None else None
        if plan_name is None and component is not None and entry.stock in component.stock:
            return None  # a stock parameter that was not given: that is reported once, where it should stand
        if plan_name is None:
            self._findings.error(
                "unknown-stock",
                f"There is no stock “{entry.stock}”",
                self._sources.at(entry, "stock"),
                mend=did_you_mean(entry.stock, known),
            )
        return plan_name if plan_name in self._stocks else None


class NodeMaker:
    """Adds the graph nodes for everything that a drafter found."""

    def __init__(
        self,
        drafter: Drafter,
        plan: PlanSource,
        graph: Graph,
        faces: FaceNodes,
        evaluator: Evaluator,
        sources: Sources,
        findings: Findings,
        stocks: dict[str, StockDraft],
    ) -> None:
        self._drafter = drafter
        self._plan = plan
        self._graph = graph
        self._faces = faces
        self._evaluator = evaluator
        self._sources = sources
        self._findings = findings
        self._stocks = stocks

    def add_all(self) -> None:
        top = self._drafter.top
        for name, text in self._plan.dimensions.items():
            self._evaluator.add_node(f"dim:{name}", name, top, text, self._plan, "dimensions", name, want="value")
        for name, text in self._plan.counts.items():
            self._evaluator.add_node(f"count:{name}", name, top, text, self._plan, "counts", name, want="count")
        for assembly in self._drafter.assemblies:
            self._add_assembly(assembly)
            for kind in assembly.kinds:
                self._add_kind(kind)

    def _add_assembly(self, assembly: AssemblyDraft) -> None:
        entry, scope = assembly.entry, assembly.scope
        for name, text in entry.dimensions.items():
            label = f"{assembly.id}.{name}"
            self._evaluator.add_node(scope.values[name], label, scope, text, entry, "dimensions", name, want="value")
        for name, text in entry.counts.items():
            label = f"{assembly.id}.{name}"
            self._evaluator.add_node(scope.values[name], label, scope, text, entry, "counts", name, want="count")
        outer = scope.outer or self._drafter.top
        if entry.at is not None:
            for axis in Axis:
                text = getattr(entry.at, axis.value)
                key = f"{assembly.id}#origin.{axis.value}"
                label = f"{assembly.id} at {axis.value}"
                assembly.origin[axis] = key
                if text is None:
                    self._graph.add(key, Node(label, assembly.position, (), lambda _values: ZERO))
                else:
                    self._evaluator.add_node(key, label, outer, text, entry.at, axis.value)
        if assembly.component is not None:
            self._add_parameters(assembly, assembly.component, outer)

    def _add_parameters(self, assembly: AssemblyDraft, component: ComponentSource, outer: Scope) -> None:
        inner, given = assembly.component_scope, assembly.entry.with_
        if inner is None:
            return
        for name in given:
            if name not in component.parameters and name not in component.stock:
                self._findings.error(
                    "unknown-parameter",
                    f"The component “{component.component}” has no parameter “{name}”",
                    self._sources.at(assembly.entry, "with", name),
                    mend=_parameter_mend(component, name),
                )
        for name in component.stock:
            self._check_stock_parameter(assembly, component, name)
        for name, default in component.parameters.items():
            key, label = inner.values[name], f"{assembly.id} with {name}"
            if (text := given.get(name)) is not None:
                self._evaluator.add_node(key, label, outer, text, assembly.entry, "with", name)
            elif default is not None:
                self._evaluator.add_node(key, label, inner, default, component, "parameters", name)
            else:
                self._missing(assembly, component, name, "a length")
        for name, text in component.dimensions.items():
            self._evaluator.add_node(
                inner.values[name], f"{assembly.id}.{name}", inner, text, component, "dimensions", name, want="value"
            )

    def _check_stock_parameter(self, assembly: AssemblyDraft, component: ComponentSource, name: str) -> None:
        given = assembly.entry.with_.get(name)
        known = self._drafter.top.stocks
        if given is None:
            self._missing(assembly, component, name, "the name of a stock")
        elif given.strip() not in known:
            self._findings.error(
                "unknown-stock",
                f"There is no stock “{given.strip()}”",
                self._sources.at(assembly.entry, "with", name),
                f"“{name}” takes the name of one of the plan's stocks: {component.stock[name]}",
                did_you_mean(given.strip(), known),
            )

    def _missing(self, assembly: AssemblyDraft, component: ComponentSource, name: str, what: str) -> None:
        self._findings.error(
            "missing-parameter",
            f"The component “{component.component}” needs “{name}”",
            self._sources.at(assembly.entry, "component"),
            "It has no value of its own for it.",
            f"Add “{name}:” with {what} under “with:”.",
        )

    def _add_kind(self, kind: KindDraft) -> None:
        add_openings(kind, self._graph, self._evaluator)
        self._add_copies(kind)
        for axis in Axis:
            given = self._given(kind, axis)
            if given is None:
                continue
            if len(given) <= 2 and len({one.role for one in given}) < 2:
                self._findings.add(given_too_little(kind, axis, given, kind.position))
            elif len(given) > 2:
                self._findings.add(given_twice(kind, axis, given))
            else:
                self._faces.add_axis(kind, axis, (given[0], given[1]))

    def _given(self, kind: KindDraft, axis: Axis) -> list[Given] | None:
        """What is given for an axis; None where something of it has a mistake of its own."""
        given: list[Given] = []
        sound = True
        choices = ((axis.low.value, "low"), (axis.high.value, "high"), (EXTENT_KEYS[axis], "extent"))
        for word, role in choices:
            text = getattr(kind.entry, word)
            if text is None:
                continue
            key = f"{kind.id}#{word}"
            position = self._sources.at(kind.entry, word)
            sound &= self._evaluator.add_node(key, f"{kind.id}.{word}", kind.scope, text, kind.entry, word)
            given.append(Given(role, key, word, position))
        from_stock = self._from_stock(kind, axis)
        if from_stock is None:
            return None
        given += from_stock
        return given if sound else None

    def _from_stock(self, kind: KindDraft, axis: Axis) -> list[Given] | None:
        """The extent that the stock gives along this axis, in a list that may be empty; None if the stock is not known."""
        entry = kind.entry
        if entry.thickness == axis.value:
            if kind.stock is None:
                return None
            at = self._sources.at(entry, "thickness")
            return [Given("extent", thickness_key(kind.stock), "stock thickness", at)]
        if entry.full_width == axis.value:
            if kind.stock is None:
                return None
            at: Position = self._sources.at(entry, "full_width")
            if not self._stocks[kind.stock].has_width:
                self._findings.error(
                    "stock-without-width",
                    f"“{kind.id}” takes the full width of its stock, but “{entry.stock}” has no width",
                    at,
                    "Sheets, and boards of random width, are cut to width.",
                    f"Leave out “full_width” and give the part a size along {axis.value}.",
                )
                return None
            return [Given("extent", width_key(kind.stock), "stock width", at)]
        return []

    def _add_copies(self, kind: KindDraft) -> None:
        entry = kind.entry
        if entry.mirror is not None:
            axis = kind.mirror
            if axis is None:
                self._findings.error(
                    "mirror-axis",
                    "A mirror has exactly one axis",
                    self._sources.at(entry, "mirror"),
                    mend="Write “mirror: {x: width / 2}”.",
                )
            else:
                text = getattr(entry.mirror, axis.value)
                key, label = self._faces.mirror_plane(kind), f"{kind.id} mirror"
                self._evaluator.add_node(key, label, kind.scope, text, entry.mirror, axis.value)
        if entry.repeat is not None:
            self._add_repeat(kind)
        self._add_around(kind)

    def _add_around(self, kind: KindDraft) -> None:
        around, entry = kind.entry.around, kind.entry
        if around is None:
            return
        other = "repeat" if entry.repeat is not None else "mirror" if entry.mirror is not None else ""
        if other or isinstance(entry.pivot, At):
            self._findings.error(
                "around-with",
                f"“{kind.id}” stands around an upright, and has a “{other}” as well"
                if other
                else f"“{kind.id}” stands around an upright, and its pivot is a point",
                self._sources.at(entry, "around"),
                "Its copies are turned about the upright with all that they are.",
                f"Leave “{other}” out." if other else "Name a face as its pivot: “pivot: top”.",
            )
        for axis in (Axis.X, Axis.Y):
            label = f"{kind.id} around {axis.value}"
            text = getattr(around, axis.value)
            self._evaluator.add_node(self._faces.centre(kind, axis), label, kind.scope, text, around, axis.value)
        label = f"{kind.id} around"
        self._evaluator.add_node(
            self._faces.count(kind), label, kind.scope, around.count, around, "count", want="count"
        )

    def _add_repeat(self, kind: KindDraft) -> None:
        repeat = kind.entry.repeat
        if repeat is None:
            return
        key, label = self._faces.count(kind), f"{kind.id} repeat"
        if repeat.at is not None:
            if repeat.count is not None or repeat.spacing is not None:
                self._findings.error(
                    "repeat-two-ways",
                    "A repeat has either “at” or “count” and “spacing”",
                    self._sources.at(kind.entry, "repeat"),
                    mend="Leave out one of the two ways.",
                )
            self._evaluator.add_node(key, label, kind.scope, str(len(repeat.at)), repeat, "at", want="count")
            for index, text in enumerate(repeat.at):
                offset = self._faces.offset(kind, index + 1)
                self._evaluator.add_node(offset, f"{label} {index + 1}", kind.scope, text, repeat, "at", index)
            return
        if repeat.count is None or repeat.spacing is None:
            self._findings.error(
                "repeat-incomplete",
                "A repeat needs to know how many copies and how far apart",
                self._sources.at(kind.entry, "repeat"),
                mend="Write “repeat: {along: z, count: 3, spacing: 5}”, or “at: [0, 5, 10]”.",
            )
            return
        self._evaluator.add_node(key, label, kind.scope, repeat.count, repeat, "count", want="count")
        self._evaluator.add_node(self._faces.pitch(kind), label, kind.scope, repeat.spacing, repeat, "spacing")


def _parameter_mend(component: ComponentSource, name: str) -> str:
    """What to write for a parameter that a component does not have: its new name, or the nearest."""
    known = [*component.parameters, *component.stock]
    new = new_parameter(component.component, name)
    return told_new(new) if new in known else did_you_mean(name, known, otherwise=f"It has {', '.join(known)}.")
