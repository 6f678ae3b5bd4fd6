"""What the preview's tests share: a preview that runs, and waiting."""

from __future__ import annotations

import subprocess
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Served:
    """A preview that runs: its address and the plan that it shows."""

    address: str
    folder: Path
    process: subprocess.Popen[str]

    @property
    def source(self) -> Path:
        return self.folder / "plan.yaml"

    def edit(self, old: str, new: str) -> None:
        text = self.source.read_text(encoding="utf-8")
        assert old in text
        self.source.write_text(text.replace(old, new, 1), encoding="utf-8")


def until(holds: Callable[[], object], what: str, seconds: float = 15.0) -> object:
    """Wait until something holds, and give it."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        found = holds()
        if found:
            return found
        time.sleep(0.02)
    raise AssertionError(f"not within {seconds} s: {what}")
