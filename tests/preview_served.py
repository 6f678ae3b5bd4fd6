"""What the preview's tests share: a preview that runs, and waiting."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest


@dataclass(frozen=True)
class Served:
    """A preview that runs: its address and the plan that it shows."""

    address: str
    folder: Path
    process: subprocess.Popen[str]

    @property
    def port(self) -> int:
        return int(self.address.split(":")[2].split("/")[0])

    @property
    def base(self) -> str:
        """The path under which the preview answers."""
        return "/" + self.address.split("/")[3]

    @property
    def source(self) -> Path:
        return self.folder / "plan.yaml"

    def edit(self, old: str, new: str) -> None:
        text = self.source.read_text(encoding="utf-8")
        assert old in text
        self.source.write_text(text.replace(old, new, 1), encoding="utf-8")


def until(holds: Callable[[], object], what: str, seconds: float = 300.0) -> object:
    """Wait until something holds, and give it."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = holds()
        if found:
            return found
        time.sleep(0.02)
    raise AssertionError(f"not within {seconds} s: {what}")


def middles_of_faces(folder: Path) -> dict[str, dict[str, tuple[float, float]]]:
    """For each drawing of the plan that projects the piece, by the part's own key: a place on paper well inside what is seen of the part."""
    from drawleaf.compiler import Choice
    from drawleaf.draw import drawings as _all_that_draw  # noqa: F401
    from drawleaf.draw.picture import panes
    from drawleaf.draw.picture.picture import inner_point
    from drawleaf.workshop import PlanWorkshop

    found: dict[tuple, dict[str, tuple[float, float]]] = {}
    shown = panes.show

    def watched(sketch, work, window, *others, **more) -> None:
        shown(sketch, work, window, *others, **more)
        sight = sketch.panes[-1].sight
        middles = {}
        for part in work.shown:
            place = inner_point(work.outline(part))
            if place and work.outline(part).area * window.factor**2 > 4.0:
                middles[part] = place
        found[sight.axes, sight.factor, sight.offsets, sight.nearest] = middles

    with pytest.MonkeyPatch.context() as patch:
        for name, module in list(sys.modules.items()):
            if name.startswith("drawleaf.draw.") and getattr(module, "show", None) is shown:
                patch.setattr(module, "show", watched)
        workshop = PlanWorkshop(folder, Choice())
        workshop.take_up()
        wanted = ["cover", "exploded-1", "elevation-front", "elevation-side", "elevation-top", "section-a"]
        drawings = workshop.draw([*wanted, *(f"step-{number:02d}" for number in range(1, 30))])
    placed: dict[str, dict[str, tuple[float, float]]] = {}
    for drawing in drawings.values():
        for pane in drawing.panes[:1]:
            sight = pane.sight
            if sight is None:
                continue
            (x, y), factor = sight.origin, sight.factor
            middles = found[sight.axes, factor, sight.offsets, sight.nearest]
            placed[drawing.id] = {
                part.split(".")[1]: (x + u * factor, y - v * factor)
                for part, (u, v) in middles.items()
                if "." in part  # no clamp
            }
    return placed
