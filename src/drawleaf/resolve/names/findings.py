"""Collecting what is wrong while the work goes on."""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.position import Position


class Findings:
    """The diagnostics of one resolve, in the order found, each said once."""

    def __init__(self) -> None:
        self._found: dict[Diagnostic, None] = {}

    def add(self, diagnostic: Diagnostic) -> None:
        self._found.setdefault(diagnostic, None)

    def extend(self, diagnostics: Iterable[Diagnostic]) -> None:
        for diagnostic in diagnostics:
            self.add(diagnostic)

    def error(self, code: str, message: str, position: Position | None, cause: str = "", mend: str = "") -> None:
        self.add(Diagnostic(code, message, position, cause, mend))

    def advise(self, code: str, message: str, position: Position | None, cause: str = "", mend: str = "") -> None:
        self.add(Diagnostic(code, message, position, cause, mend, Severity.ADVICE))

    @property
    def diagnostics(self) -> tuple[Diagnostic, ...]:
        return tuple(self._found)
