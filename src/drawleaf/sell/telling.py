"""The comparison as text for a terminal and as JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from drawleaf.language import Words
from drawleaf.sell.change import Change, Subject
from drawleaf.sell.piece import Compiled, StepFact

HEADINGS = {
    Subject.CAUTION: "Cautions",
    Subject.PART: "Parts",
    Subject.JOINT: "Joints",
    Subject.HARDWARE: "Hardware",
    Subject.STOCK: "Wood to buy",
    Subject.LAYOUT: "Layouts",
    Subject.STEP: "Steps",
}


def as_text(old: Compiled, new: Compiled, changes: Sequence[Change]) -> str:
    """A block for each subject; what is for safety stands first and says so."""
    words = Words(new.language)
    lines = [words.tell("{}: revision {} to revision {}", new.title, old.revision, new.revision)]
    if not changes:
        return "\n".join([*lines, words.put("Nothing of the piece has changed.")]) + "\n"
    shown: str | None = None
    for change in changes:
        heading = words.put("Safety") if change.safety else words.put(HEADINGS[change.subject])
        if heading != shown:
            lines += ["", heading]
            shown = heading
        many = f" ({change.count})" if change.count > 1 else ""
        lines.append(f"- {change.name}{many}, {words.put(change.kind.value)}: {change.what}")
        if where := matters_from(change, words):
            lines.append(f"    {where}")
        lines.append(f"    {change.todo}")
    return "\n".join(lines) + "\n"


def matters_from(change: Change, words: Words) -> str:
    """From which step on it matters, by both booklets; empty where no step is touched."""
    old, new = change.old_step, change.new_step
    if old is not None and new is not None and old.number != new.number:
        return words.tell("From step {} on (step {} of the new booklet).", old.number, new.number)
    if old is not None:
        return words.tell("From step {} on.", old.number)
    return words.tell("From step {} of the new booklet on.", new.number) if new is not None else ""


def as_json(old: Compiled, new: Compiled, changes: Sequence[Change]) -> str:
    """The same as data: what the text says, with the verdict on parts in figures."""
    data = {
        "schema": 1,
        "title": new.title,
        "old": {"revision": old.revision, "date": old.date},
        "new": {"revision": new.revision, "date": new.date},
        "changes": [_row(change) for change in changes],
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _row(change: Change) -> dict[str, Any]:
    found = change.verdict
    return {
        "subject": change.subject.value,
        "kind": change.kind.value,
        "name": change.name,
        "count": change.count,
        "safety": change.safety,
        "what": change.what,
        "todo": change.todo,
        "old_step": _step(change.old_step),
        "new_step": _step(change.new_step),
        "old_part": change.old.id if change.old else None,
        "new_part": change.new.id if change.new else None,
        "fate": found.fate.value if found else None,
        "trims": [{"face": trim.face, "mm": round(float(trim.off), 4)} for trim in found.trims] if found else [],
    }


def _step(step: StepFact | None) -> dict[str, Any] | None:
    return None if step is None else {"number": step.number, "id": step.id}
