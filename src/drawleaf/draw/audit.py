"""The drawings' share of the audit: every row of the cut list, every step and every layout is drawn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.drawings import Drawings
from drawleaf.model.lists import Audit, AuditLine
from drawleaf.model.steps import Step


def audit_drawings(derived: Derived, drawings: Drawings) -> tuple[Derived, tuple[Diagnostic, ...]]:
    """The derived plan with the drawings' lines added to its audit, and an error for each line that does not agree."""
    layouts = derived.layouts
    lines = (
        _line("Parts drawn", "parts on the cut list", _numbers(derived.cut_list.items), drawings.parts),
        _line("Steps drawn", "steps that need a drawing", _steps_with_scene(derived), drawings.steps),
        _line("Sheets drawn", "sheets to cut", _numbers(layouts.sheets), drawings.sheets),
        _line("Boards drawn", "boards to cut", _numbers(layouts.boards), drawings.boards),
        *(
            _line(
                f"Steps drawn of the other way “{way.id}”",
                "steps that need a drawing",
                _scenes(way.steps),
                {one.number: one for one in drawings.ways.get(way.id, ())},
            )
            for way in derived.ways
        ),
    )
    audit = Audit((*derived.audit.lines, *lines))
    errors = tuple(
        Diagnostic(
            "audit-drawings",
            f"{line.name}: {line.left}, but {line.right}",
            None,
            cause=line.detail,
            mend="This is a fault of the compiler, not of your plan. Please report it.",
        )
        for line in lines
        if not line.agrees
    )
    return replace(derived, audit=audit), errors


def _numbers(rows: Iterable) -> set[int]:
    return {row.number for row in rows}


def _steps_with_scene(derived: Derived) -> set[int]:
    return _scenes(derived.steps)


def _scenes(steps: Iterable[Step]) -> set[int]:
    return {step.number for step in steps if step.scene is not None and step.scene.layout is None}


def _line(name: str, what: str, wanted: set[int], drawn: dict) -> AuditLine:
    missing = sorted(wanted - set(drawn))
    detail = f"Without a drawing: {', '.join(map(str, missing))}." if missing else ""
    have = len(wanted) - len(missing)
    return AuditLine(name, f"{len(wanted)} {what}", f"{have} drawn", not missing, detail)
