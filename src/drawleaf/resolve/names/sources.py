"""Reading expressions out of source nodes, with the position of each."""

from __future__ import annotations

from typing import Literal

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.resolve.names.findings import Findings
from drawleaf.source.expressions import Expression, parse_expression
from drawleaf.source.models import SourceNode
from drawleaf.source.reader import Reading

Key = str | int


class Sources:
    """Where things are in the files, and their expressions parsed; parse errors go to ``findings``."""

    def __init__(self, reading: Reading, findings: Findings) -> None:
        self._positions = reading.positions
        self._findings = findings

    def at(self, node: SourceNode, *keys: Key) -> Position:
        """The position of ``keys`` under a node; of the nearest thing above where that has none of its own."""
        return self._positions.of(node.source_file, (*node.path, *keys))

    def expression(
        self, text: str | None, unit: Literal["in", "mm"], node: SourceNode, *keys: Key
    ) -> Expression | None:
        """The parsed expression, None where there is none or it does not parse (then the mistake is recorded)."""
        if text is None:
            return None
        parsed = parse_expression(text, self.at(node, *keys), unit)
        if isinstance(parsed, Diagnostic):
            self._findings.add(parsed)
            return None
        return parsed
