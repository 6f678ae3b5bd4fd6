"""A rule of the trade: in words, with its source, and two small plans, one that keeps it and one that breaks it."""

from __future__ import annotations

from dataclasses import dataclass

CUSTOM = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Rule:
    """``words`` is the rule as a maker would say it. ``plan`` is a source with places left open, filled by ``keeps`` and ``breaks``; ``told`` the
    check or code by which drawleaf tells that it is broken."""

    name: str
    words: str
    told: str
    plan: str
    keeps: dict[str, object]
    breaks: dict[str, object]
    source: str = CUSTOM

    def kept(self) -> str:
        return HEAD + self.plan.format(**self.keeps)

    def broken(self) -> str:
        return HEAD + self.plan.format(**self.breaks)


HEAD = """\
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
"""
