"""Hidden lines on the made-up cabinet of ``tests/outside``, against OpenCASCADE's exact algorithm. Solids are kept in both.

``hlr_view_vs_occt``: one pictorial view, nothing of it known before, over OpenCASCADE's of the same parts as one compound.
``hlr_steps30_vs_view``: thirty views of growing sets of parts over one view of all; what hides what is worked out once.
``hlr_polylines_vs_segments``: lines drawn over the straight segments that they are joined from.
"""

from __future__ import annotations

import json
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import PICTORIAL
from drawleaf.solids.build import build_solids
from outside.line_scenes import Scene, scene
from outside.recipe_occ import compound, hidden_lines, shape_of
from solids_scene import plan

TURNS = 7
STEPS = 30


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def one_view(cabinet: Scene) -> None:
    assert project(build_solids(plan()), PICTORIAL, (), None, cabinet.bodies).visible


def step_views(cabinet: Scene) -> None:
    """The first parts, then more, until all stand."""
    store, bodies = build_solids(plan()), list(cabinet.bodies.items())
    for step in range(STEPS):
        shown = bodies[: max(1, round(len(bodies) * (step + 1) / STEPS))]
        assert project(store, PICTORIAL, (), None, dict(shown)).visible


def measure() -> dict[str, float]:
    """The figures, each the median of several turns."""
    cabinet = scene("cabinet")
    whole = compound(shape_of(recipe) for recipe in cabinet.recipes)
    one_view(cabinet)
    views, steps = [], []
    for _ in range(TURNS):
        own = seconds(lambda: one_view(cabinet))
        views.append(own / seconds(lambda: hidden_lines(whole, PICTORIAL).VCompound()))
        steps.append(seconds(lambda: step_views(cabinet)) / seconds(lambda: one_view(cabinet)))
    lines = project(build_solids(plan()), PICTORIAL, (), None, cabinet.bodies).visible
    return {
        "hlr_view_vs_occt": statistics.median(views),
        "hlr_steps30_vs_view": statistics.median(steps),
        "hlr_polylines_vs_segments": len(lines) / sum(len(line.points) - 1 for line in lines),
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measure(), indent=1) + "\n")
