"""A resolved plan that can be asked: expressions in the source's own notation, worked out among the plan's own names."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.diagnostic import Diagnostic, has_errors
from drawleaf.model.plan import Plan
from drawleaf.model.position import Position
from drawleaf.resolve.names.evaluator import Evaluator
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.scopes import Scope
from drawleaf.resolve.resolver import Resolving
from drawleaf.source.editions import apply_edition
from drawleaf.source.expressions import parse_expression
from drawleaf.source.reader import Reading
from drawleaf.source.values import Value

QUESTION = "your question"
"""The file that positions within a question name."""


@dataclass(frozen=True, slots=True, eq=False)
class Answering:
    """A plan with its names at hand."""

    plan: Plan
    _evaluator: Evaluator
    _top: Scope

    def value(self, text: str) -> Value | Diagnostic:
        """What an expression comes to, seen from the top of the plan; or what is wrong with it."""
        expression = parse_expression(text, Position(QUESTION, 1, 1, len(text)), self._top.unit)
        if isinstance(expression, Diagnostic):
            return expression
        return self._evaluator.ask(expression, self._top)

    def names(self) -> list[str]:
        """Every first word of a name that can be asked for."""
        return self._top.visible()


def resolve_to_ask(reading: Reading, edition: str | None) -> tuple[Answering | None, tuple[Diagnostic, ...]]:
    """As ``resolver.resolve``, with the names kept. None where the plan has errors."""
    findings = Findings()
    if edition is not None:
        before = len(reading.diagnostics)
        reading = apply_edition(reading, edition)
        findings.extend(reading.diagnostics[before:])
    if reading.plan is None:
        return None, findings.diagnostics
    work = Resolving(reading, reading.plan, findings)
    plan = work.plan(None)
    if plan is None or has_errors(findings.diagnostics):
        return None, findings.diagnostics
    return Answering(plan, work.evaluator, work.drafter.top), findings.diagnostics
