"""``--format json``: what a run found, as one JSON object for editors and other programs. ``docs/diagnostics.md`` lists its keys."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.report import in_order


@dataclass(frozen=True, slots=True)
class PlanReport:
    """What became of one plan, or of one of its ``edition``s. ``failure`` is why it could not be worked on at all."""

    plan: str
    folder: Path
    good: bool
    diagnostics: tuple[Diagnostic, ...] = ()
    booklet: Path | None = None
    failure: str | None = None
    edition: str | None = None


def report_json(command: str, reports: Sequence[PlanReport]) -> str:
    """The object as text, with a line break at its end."""
    told = [one for report in reports for one in in_order(report.diagnostics)]
    errors = sum(one.is_error for one in told)
    whole = {
        "format": "drawleaf-report",
        "version": 1,
        "command": command,
        "plans": [_plan(report) for report in reports],
        "errors": errors,
        "advice": len(told) - errors,
    }
    return json.dumps(whole, ensure_ascii=False, indent=2) + "\n"


def _plan(report: PlanReport) -> dict[str, Any]:
    return {
        "plan": report.plan,
        "edition": report.edition,
        "folder": report.folder.as_posix(),
        "good": report.good,
        "booklet": report.booklet.as_posix() if report.booklet else None,
        "failure": report.failure,
        "diagnostics": [_diagnostic(one) for one in in_order(report.diagnostics)],
    }


def _diagnostic(one: Diagnostic) -> dict[str, Any]:
    return {
        **_place(one.position),
        "code": one.code,
        "severity": one.severity.value,
        "message": one.message,
        "cause": one.cause,
        "mend": one.mend,
        "related": list(_related(one.related)),
    }


def _related(places: Iterable[tuple[Position, str]]) -> Iterable[dict[str, Any]]:
    for position, word in places:
        yield {**_place(position), "message": word}


def _place(position: Position | None) -> dict[str, Any]:
    if position is None:
        return dict.fromkeys(("file", "line", "column", "length"))
    return {"file": position.file, "line": position.line, "column": position.column, "length": position.length}
