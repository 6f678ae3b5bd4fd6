"""What a revision changes against one that was sold: a bar in the margin of the booklet marks it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Revised:
    """``since`` is the mark of the older revision. ``parts`` are ids of parts, ``steps`` of steps, ``hardware`` of items; ``stocks`` ids of
    stocks whose layouts changed. ``line`` says it in a sentence for the history."""

    since: str
    parts: frozenset[str]
    steps: frozenset[str]
    stocks: frozenset[str]
    hardware: frozenset[str]
    line: str
