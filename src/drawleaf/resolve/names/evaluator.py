"""Expressions in their scope: as graph nodes while the graph is built, and at once when it stands."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis
from drawleaf.resolve.names.axes import FaceNodes, length_of
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.graph import Graph, Node, Value, Values
from drawleaf.resolve.names.names import NameFinder, Reference, frame_change
from drawleaf.resolve.names.scopes import KindDraft, Scope
from drawleaf.resolve.names.sources import Key, Sources
from drawleaf.source.expressions import Expression
from drawleaf.source.models import SourceNode
from drawleaf.source.values import Angle
from drawleaf.units import ZERO, Length

Want = Literal["length", "count", "value", "number", "angle"]


class Evaluator:
    """Works out what an author wrote, reporting mistakes to ``findings`` and answering None."""

    def __init__(self, graph: Graph, names: NameFinder, sources: Sources, findings: Findings) -> None:
        self._graph = graph
        self._names = names
        self._sources = sources
        self._findings = findings

    def add_node(
        self, key: str, label: str, scope: Scope, text: str | None, node: SourceNode, *keys: Key, want: Want = "length"
    ) -> bool:
        """Add the expression as a graph node. False where it cannot be one (the mistake is then recorded)."""
        found = self._read(scope, text, node, *keys)
        if found is None:
            return False
        expression, references = found
        needs = tuple(need for reference in references.values() for need in reference.needs)

        def work(values: Values) -> Value | Diagnostic:
            return _result(expression, _environment(references, values), want)

        self._graph.add(key, Node(label, self._sources.at(node, *keys), needs, work))
        return True

    def follows(self, kind: KindDraft, other: KindDraft, axis: Axis) -> bool:
        """Whether the place of a part along an axis is worked out from a face or the extent of another."""
        faces = FaceNodes(self._graph)
        aims = {faces.low(other, axis), faces.high(other, axis), faces.extent(other, axis)}
        return bool(aims & self._graph.behind((faces.low(kind, axis), faces.high(kind, axis))))

    def length(self, text: str | None, scope: Scope, node: SourceNode, *keys: Key) -> Length | None:
        """The length that an expression has, now that the graph stands."""
        value = self._now(text, scope, node, *keys, want="length")
        return value if isinstance(value, Length) else None

    def count(self, text: str | None, scope: Scope, node: SourceNode, *keys: Key) -> int | None:
        """The whole number that an expression has, now that the graph stands."""
        value = self._now(text, scope, node, *keys, want="count")
        return int(value) if isinstance(value, Fraction) else None

    def number(self, text: str | None, scope: Scope, node: SourceNode, *keys: Key) -> Fraction | None:
        """The bare number (a slope, degrees) that an expression has, now that the graph stands."""
        value = self._now(text, scope, node, *keys, want="number")
        return value if isinstance(value, Fraction) else None

    def degrees(self, text: str | None, scope: Scope, node: SourceNode, *keys: Key) -> Fraction | None:
        """The angle that an expression has, in degrees; a bare number counts as degrees."""
        value = self._now(text, scope, node, *keys, want="angle")
        if isinstance(value, Angle):
            return value.degrees
        return value if isinstance(value, Fraction) else None

    def coordinate(self, text: str | None, axis: Axis, scope: Scope, node: SourceNode, *keys: Key) -> Length | None:
        """A coordinate written in the scope's frame, expressed in the plan's."""
        local = self.length(text, scope, node, *keys)
        return None if local is None else local + self.origin(scope, axis)

    def ask(self, expression: Expression, scope: Scope) -> Value | Diagnostic:
        """What a question comes to, now that the graph stands. Nothing goes to ``findings``: the asker is answered."""
        references: dict[str, Reference] = {}
        for name in expression.ordered_names:
            reference = self._names.find(name, scope, expression.position_of(name))
            if isinstance(reference, Diagnostic):
                return reference
            references[name] = reference
        needs = {need: name for name, reference in references.items() for need in reference.needs}
        if any(need not in self._graph.values for need in needs):
            self._graph.evaluate()
        for need, name in needs.items():
            if need not in self._graph.values:
                return Diagnostic(
                    "unknown-name", f"“{name}” has no value in this edition", expression.position_of(name)
                )
        return expression.value(_environment(references, self._graph.values))

    def origin(self, scope: Scope, axis: Axis) -> Length:
        """Where the scope's frame is in the plan's."""
        if scope.frame is None:
            return ZERO
        plus, _ = frame_change(scope.frame, None, axis)
        return sum((length_of(self._graph.values, key) for key in plus if key in self._graph.values), ZERO)

    def _now(self, text: str | None, scope: Scope, node: SourceNode, *keys: Key, want: Want) -> Value | None:
        found = self._read(scope, text, node, *keys)
        if found is None:
            return None
        expression, references = found
        needs = [need for reference in references.values() for need in reference.needs]
        if any(need not in self._graph.values for need in needs):
            self._findings.extend(self._graph.evaluate())
        if any(need not in self._graph.values for need in needs):
            return None
        result = _result(expression, _environment(references, self._graph.values), want)
        if isinstance(result, Diagnostic):
            self._findings.add(result)
            return None
        return result

    def _read(
        self, scope: Scope, text: str | None, node: SourceNode, *keys: Key
    ) -> tuple[Expression, dict[str, Reference]] | None:
        expression = self._sources.expression(text, scope.unit, node, *keys)
        if expression is None:
            return None
        references: dict[str, Reference] = {}
        sound = True
        for name in expression.ordered_names:
            reference = self._names.find(name, scope, expression.position_of(name))
            if isinstance(reference, Diagnostic):
                self._findings.add(reference)
                sound = False
            else:
                references[name] = reference
        return (expression, references) if sound else None


def _environment(references: Mapping[str, Reference], values: Values) -> dict[str, Value]:
    environment: dict[str, Value] = {}
    for name, reference in references.items():
        value = values[reference.key]
        if isinstance(value, Length):
            for key in reference.plus:
                value = value + length_of(values, key)
            for key in reference.minus:
                value = value - length_of(values, key)
        environment[name] = value
    return environment


def _result(expression: Expression, environment: Mapping[str, Value], want: Want) -> Value | Diagnostic:
    match want:
        case "length":
            return expression.length(environment)
        case "value":
            return expression.value(environment)
        case "count":
            number = expression.count(environment)
            return number if isinstance(number, Diagnostic) else Fraction(number)
        case "number":
            return expression.number(environment)
        case "angle":
            angle = expression.angle(environment)
            bare = expression.number(environment) if isinstance(angle, Diagnostic) else angle
            return angle if isinstance(bare, Diagnostic) else bare
