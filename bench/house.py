"""Figures of the code itself: how large it is, in how many files one idea lives, and how much the tests notice."""

from __future__ import annotations

import ast
import json
import statistics
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "drawleaf"


def files_saying(words: set[str]) -> dict[str, int]:
    """For each word, how many source files hold it as a whole string."""
    counts = dict.fromkeys(words, 0)
    for file in SOURCE.rglob("*.py"):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        said = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
        for word in words & said:
            counts[word] += 1
    return counts


def measure() -> dict[str, float]:
    """Lines of source; files that name a joint family (median of the families); of the last `make mutate`, the share caught."""
    from drawleaf.joinery import FAMILIES

    figures: dict[str, float] = {
        "source_lines": sum(len(file.read_text(encoding="utf-8").splitlines()) for file in SOURCE.rglob("*.py")),
        "files_for_a_joint": statistics.median(files_saying({family.facts.key for family in FAMILIES}).values()),
    }
    last = ROOT / "build" / "mutants.json"
    if last.exists():
        report = json.loads(last.read_text(encoding="utf-8"))
        figures["mutants_caught_share"] = report["caught"] / max(1, report["tried"])
    return figures
