"""What the element tree costs: the share of all drawings' time that svgwrite takes, in one process."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from drawleaf.compiler import Choice, check_plan
from drawleaf.draw.drawings import draw_all
from drawleaf.draw.paper import svg
from drawleaf.solids.build import build_solids

ROOT = Path(__file__).resolve().parent.parent
PLAN = ROOT / "plans" / "boot-bench"


class Watch:
    """A function, and the CPU seconds spent in it."""

    def __init__(self, function: Callable[..., Any]) -> None:
        self.function, self.seconds = function, 0.0

    def __call__(self, *given: Any, **named: Any) -> Any:
        start = time.process_time()
        try:
            return self.function(*given, **named)
        finally:
            self.seconds += time.process_time() - start


@contextmanager
def watched(name: str) -> Iterator[Watch]:
    """A function of ``svg`` under watch wherever a module of ours has imported it."""
    function = getattr(svg, name)
    watch = Watch(function)
    modules = [one for one in sys.modules.values() if getattr(one, "__name__", "").startswith("drawleaf.")]
    users = [module for module in modules if getattr(module, name, None) is function]
    for module in users:
        setattr(module, name, watch)
    yield watch
    for module in users:
        setattr(module, name, function)


def measure() -> dict[str, float]:
    """``drawings_svgwrite_seconds_share``: writing SVG, without the path data that is our own, as a share of drawing a plan."""
    derived = check_plan(PLAN, Choice()).derived
    assert derived is not None
    solids = build_solids(derived.plan)
    with watched("write") as writing, watched("path_data") as paths:
        start = time.process_time()
        draw_all(derived, solids)
        whole = time.process_time() - start
    return {"drawings_svgwrite_seconds_share": (writing.seconds - paths.seconds) / whole}


if __name__ == "__main__":
    sys.stdout.write(f"{measure()}\n")
