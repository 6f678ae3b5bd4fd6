"""Figures of the code itself: how large it is, in how many files one idea lives, and how much the tests notice."""

from __future__ import annotations

import json
import re
import statistics
from collections.abc import Iterable
from pathlib import Path

import yaml

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src" / "drawleaf"


def texts(*places: Path, kinds: tuple[str, ...] = (".py",)) -> dict[Path, str]:
    """The files of these kinds below some folders, with their text."""
    return {
        file: file.read_text(encoding="utf-8")
        for place in places
        for file in sorted(place.rglob("*"))
        if file.suffix in kinds
    }


def files_of_family(key: str, found: dict[Path, str]) -> set[Path]:
    """The files that make up a joint family or know it by name: those of its folder, those that import one of them, those that hold its key
    as a string of its own."""
    named = re.compile(rf"""["']{key}["']|drawleaf\.joinery\.{key}\b""")
    return {file for file, text in found.items() if file.parent == SOURCE / "joinery" / key or named.search(text)}


def files_of_tool(name: str, found: dict[Path, str]) -> set[Path]:
    """The files that name a tool, as a whole word or string: entries, kits and ways of the shared folder, templates, source."""
    named = re.compile(rf"""(?<![\w-]){re.escape(name)}(?![\w-])""")
    return {file for file, text in found.items() if name in text and named.search(text)}


def median_size(sets: Iterable[set[Path]]) -> float:
    return statistics.median(len(one) for one in sets)


def measure() -> dict[str, float]:
    """Lines of source; source files that a joint family lives in or is named in (median and most of the families, and of the newest one
    made as DEVELOPERS.md tells); files of any kind that name a tool (median), and source files among them; of the last `make mutate`, the
    share caught."""
    from drawleaf.joinery import FAMILIES

    source = texts(SOURCE)
    families = [files_of_family(family.facts.key, source) for family in FAMILIES]
    tools = yaml.safe_load((ROOT / "shared" / "tools.yaml").read_text(encoding="utf-8"))
    everything = texts(SOURCE, ROOT / "shared", ROOT / "templates", kinds=(".py", ".yaml", ".j2"))
    naming = [files_of_tool(name, everything) for name in tools]
    figures: dict[str, float] = {
        "source_lines": sum(len(text.splitlines()) for text in source.values()),
        "files_for_a_joint": median_size(families),
        "most_files_for_a_joint": max(len(one) for one in families),
        "files_for_a_tool": median_size(naming),
        "source_files_for_a_tool": median_size({file for file in one if file.suffix == ".py"} for one in naming),
    }
    last = ROOT / "build" / "mutants.json"
    if last.exists():
        report = json.loads(last.read_text(encoding="utf-8"))
        figures["mutants_caught_share"] = report["caught"] / max(1, report["tried"])
    return figures
