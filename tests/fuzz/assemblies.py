"""Sources that come apart: joints dropped, assemblies made loose or split, hardware left out. None of it may show a fault of the compiler's own.

A share of it: ``PYTHONPATH=tests python -m fuzz.assemblies --seconds 120 --seed 3``.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

from fuzz.edits import Tree, read, write
from fuzz.trying import Trials

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted(
    [
        *(ROOT / "plans").glob("*/plan.yaml"),
        *(ROOT / "tests" / "plans").glob("*/plan.yaml"),
        *(ROOT / "tests" / "fuzz" / "corpus").glob("*.yaml"),
    ]
)
LISTS = ("joints", "hardware", "machining")


def assemblies_in(tree: Tree) -> Iterator[dict[str, Tree]]:
    """Every assembly of a source, those within others too."""
    for assembly in (tree.get("assemblies") or {}).values():
        if isinstance(assembly, dict):
            yield assembly
            yield from assemblies_in(assembly)


def _lines(tree: Tree) -> list[tuple[list[Tree], int]]:
    return [
        (assembly[key], at)
        for assembly in assemblies_in(tree)
        for key in LISTS
        if isinstance(assembly.get(key), list)
        for at in range(len(assembly[key]))
    ]


def _drop_a_line(tree: Tree, random: Random) -> None:
    lines = _lines(tree)
    if lines:
        entries, at = random.choice(lines)
        del entries[at]


def _drop_a_partner(tree: Tree, random: Random) -> None:
    """One of several parts that a line names."""
    named = [
        names
        for entries, at in _lines(tree)
        if isinstance(entries[at], dict)
        for names in entries[at].values()
        if isinstance(names, list) and len(names) > 1 and all(isinstance(name, str) for name in names)
    ]
    if named:
        names = random.choice(named)
        del names[random.randrange(len(names))]


def _drop_all_joints(tree: Tree, random: Random) -> None:
    random.choice(list(assemblies_in(tree))).pop("joints", None)


def _loosen(tree: Tree, random: Random) -> None:
    assembly = random.choice(list(assemblies_in(tree)))
    if assembly.pop("loose", None) is None:
        assembly["loose"] = "yes"


def _unglue(tree: Tree, random: Random) -> None:
    held = [entries[at] for entries, at in _lines(tree) if isinstance(entries[at], dict) and "with" in entries[at]]
    if held:
        line = random.choice(held)
        kept = [one for one in line["with"] if random.random() < 0.4] if isinstance(line["with"], list) else []
        line["with"] = kept
        if not kept:
            del line["with"]


def _recopy(tree: Tree, random: Random) -> None:
    """A mirror or a row of copies taken away from a part."""
    parts = [
        part
        for assembly in assemblies_in(tree)
        for part in (assembly.get("parts") or {}).values()
        if isinstance(part, dict) and {"mirror", "repeat"} & set(part)
    ]
    if parts:
        part = random.choice(parts)
        part.pop("mirror" if "mirror" in part else "repeat")


def _set_apart(tree: Tree, random: Random) -> None:
    """A part in an assembly of its own within its assembly, loose or not."""
    assembly = random.choice(list(assemblies_in(tree)))
    parts = assembly.get("parts")
    if isinstance(parts, dict) and len(parts) > 1:
        name = random.choice(sorted(parts))
        inside: dict[str, Tree] = {"parts": {name: parts.pop(name)}}
        if random.random() < 0.5:
            inside["loose"] = "yes"
        assembly.setdefault("assemblies", {})["apart"] = inside


EDITS: tuple[Callable[[Tree, Random], None], ...] = (
    _drop_a_line, _drop_a_line, _drop_a_partner, _drop_all_joints, _loosen, _loosen, _unglue, _recopy, _set_apart,
)  # fmt: skip


def loosened(text: str, random: Random) -> str | None:
    """A source with one to three such edits; None where it is none that can be edited."""
    tree = read(text)
    if tree is None or not any(True for _ in assemblies_in(tree)):
        return None
    for _ in range(random.randint(1, 3)):
        random.choice(EDITS)(tree, random)
    return write(tree)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=120)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--keep", type=Path, help="A folder for the sources that are in trouble.")
    options = parser.parse_args()
    random = Random(options.seed)
    texts = [source.read_text(encoding="utf-8") for source in SOURCES]
    ends, tried, good, found = time.monotonic() + options.seconds, 0, 0, 0
    with tempfile.TemporaryDirectory() as place:
        trials = Trials(Path(place) / "plan")
        while time.monotonic() < ends:
            text = loosened(random.choice(texts), random)
            if text is None:
                continue
            tried += 1
            trouble = trials.trouble_with(text, random.randrange(6))
            good += trials.passed
            if trouble is not None:
                found += 1
                sys.stdout.write(f"--- {tried}\n{trouble}\n")
                sys.stdout.flush()
                if options.keep is not None:
                    options.keep.mkdir(parents=True, exist_ok=True)
                    (options.keep / f"{options.seed}-{tried}.yaml").write_text(text, encoding="utf-8")
    sys.stdout.write(f"{tried} sources tried, {good} good, {found} in trouble\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
