"""How many sources the last long run of the fuzz tried, as ``tests/fuzz/last_run.json`` has it with date and version.

A run takes hours, so it is not repeated here: ``make fuzz`` writes the file.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

LAST_RUN = Path(__file__).resolve().parent.parent / "tests" / "fuzz" / "last_run.json"


def measure() -> dict[str, float]:
    """``fuzz_sources``, and ``fuzz_troubles``: kinds of trouble that the run met. Nothing where there was none."""
    if not LAST_RUN.exists():
        return {}
    run = json.loads(LAST_RUN.read_text(encoding="utf-8"))
    return {"fuzz_sources": run["sources"], "fuzz_troubles": run["troubles"]}


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
