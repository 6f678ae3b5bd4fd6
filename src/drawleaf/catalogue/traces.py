"""What is remembered of a booklet that was made: what it hung on with the states of then, and the files that came of it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from drawleaf.catalogue.notes import ALL, ANSWER, ENTRY, IDS, Note
from drawleaf.catalogue.states import FILE, OWN, PRICES, TEMPLATES, TOOL_SET

VERSION = 1
MOST_TRACES = 8
"""So many are remembered of each booklet, so that an edit that is taken back finds what was made before it."""


class States(Protocol):
    """How things stand now."""

    def of(self, note: Note) -> str: ...


@dataclass(frozen=True, slots=True)
class Trace:
    """``files`` gives the SHA-256 of each file by its name in the booklet's folder; ``seconds`` is how long making it took."""

    states: Mapping[Note, str]
    files: Mapping[str, str]
    seconds: float

    def changed(self, now: States) -> Iterator[Note]:
        """What stands otherwise than it did then."""
        for note, state in self.states.items():
            try:
                same = now.of(note) == state
            except (KeyError, OSError):
                same = False
            if not same:
                yield note


def written(traces: Sequence[Trace]) -> bytes:
    """Traces as text to keep, the newest first."""
    told = [
        {
            "states": [[list(note), state] for note, state in sorted(one.states.items())],
            "files": dict(one.files),
            "seconds": round(one.seconds, 2),
        }
        for one in traces[:MOST_TRACES]
    ]
    return json.dumps({"version": VERSION, "traces": told}, ensure_ascii=False).encode()


def read(text: bytes | None) -> tuple[Trace, ...]:
    """Traces that were kept, the newest first; none where the text makes no sense."""
    if text is None:
        return ()
    try:
        kept = json.loads(text)
        return tuple(_read_one(one) for one in kept["traces"]) if kept["version"] == VERSION else ()
    except (ValueError, KeyError, TypeError, AttributeError):
        return ()


def _read_one(one: Any) -> Trace:
    states = {tuple(str(word) for word in note): str(state) for note, state in one["states"]}
    return Trace(states, {str(name): str(digest) for name, digest in one["files"].items()}, float(one["seconds"]))


def in_words(note: Note) -> str:
    """What a note names, as an author knows it."""
    match note:
        case _ if note == OWN:
            return "drawleaf itself"
        case _ if note == TEMPLATES:
            return "the templates"
        case _ if note == TOOL_SET:
            return "the file of the tool set"
        case _ if note == PRICES:
            return "the date or note of the prices"
        case (what, name) if what == FILE:
            return name
        case (what, kind, name) if what == ENTRY:
            return f"“{name}” in {_spoken(kind)}"
        case (what, kind) if what in (IDS, ALL):
            return f"an entry in {_spoken(kind)}"
        case (what, kind, question, *given) if what == ANSWER:
            return f"{question} {', '.join(given)}".rstrip() + f" in {_spoken(kind)}"
    return " ".join(note)


def _spoken(kind: str) -> str:
    return "tool sets" if kind == "kits" else kind
