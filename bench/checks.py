"""What the workshop checks cost: all checks of the largest example plan against its whole compile, in one process, turn about."""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

from drawleaf.checks import run_checks
from drawleaf.compiler import Choice, check_plan, compile_plan
from drawleaf.solids.build import build_solids

ROOT = Path(__file__).resolve().parent.parent
PLAN = ROOT / "plans" / "boot-bench"
TURNS = 3


def measure() -> dict[str, float]:
    """``checks_vs_compile``: the share of a compile that the checks take. Solids are made anew each turn, as in a compile."""
    derived = check_plan(PLAN, Choice()).derived
    assert derived is not None
    shares = []
    for _ in range(TURNS):
        start = time.perf_counter()
        compile_plan(PLAN, Choice())
        whole = time.perf_counter() - start
        solids = build_solids(derived.plan)
        start = time.perf_counter()
        run_checks(derived, solids)
        shares.append((time.perf_counter() - start) / whole)
    return {"checks_vs_compile": statistics.median(shares)}


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
