"""What Pint costs a ``check``: a fresh process that has all other packages of a check, importing Pint and reading every quantity of ``shared/``."""

from __future__ import annotations

import statistics
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from drawleaf.units.measures import KINDS, LENGTH, NotMeasured, measured

ROOT = Path(__file__).resolve().parent.parent
TURNS = 5
OTHERS = tuple(kind for kind in KINDS if kind is not LENGTH)
ALONE = """
import sys, time
import networkx, numpy, pydantic, shapely, yaml
texts = sys.argv[1:]
assert "pint" not in sys.modules
start = time.process_time()
from drawleaf.units.measures import KINDS, measured
for text in texts:
    measured(text, *KINDS)
print(time.process_time() - start)
"""


def _scalars(tree: Any) -> Iterator[str]:
    if isinstance(tree, dict):
        for value in tree.values():
            yield from _scalars(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from _scalars(value)
    else:
        yield str(tree)


def _is_quantity(text: str) -> bool:
    try:
        measured(text, *OTHERS)
    except NotMeasured:
        return False
    return True


def quantities() -> list[str]:
    """Every text of ``shared/`` that states a quantity other than a length."""
    trees = (yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((ROOT / "shared").rglob("*.yaml")))
    return sorted({text for tree in trees for text in _scalars(tree) if _is_quantity(text)})


def measure() -> dict[str, float]:
    """``pint_check_seconds_added``: processor seconds, median of several processes."""
    texts = quantities()
    assert len(texts) > 50, texts
    command = [sys.executable, "-c", ALONE, *texts]
    turns = [float(subprocess.run(command, check=True, capture_output=True, text=True).stdout) for _ in range(TURNS)]
    return {"pint_check_seconds_added": statistics.median(turns)}


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
