"""What a picture costs: a draft by the clock, a final one in CPU seconds, and the most memory that the final one takes.

Skipped, with a word, where the extra ``drawleaf[pictures]`` is not installed.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

from drawleaf.looks.mitsuba import installed

ROOT = Path(__file__).resolve().parent.parent
PLAN = ROOT / "plans" / "boot-bench"


def _made(quality: str, folder: str) -> tuple[float, float, float]:
    """Seconds by the clock, CPU seconds, and megabytes at most, of one picture."""
    command = [sys.executable, "-m", "drawleaf.cli", "picture", str(PLAN), "--quality", quality]
    command += ["--out", f"{folder}/{quality}.png"]
    quiet = [(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_WRONLY, 0) for stream in (1, 2)]
    start = time.perf_counter()
    pid = os.posix_spawn(command[0], command, os.environ, file_actions=quiet)
    _, status, usage = os.wait4(pid, 0)
    assert os.waitstatus_to_exitcode(status) == 0, command
    scale = 1 if sys.platform == "darwin" else 1024
    return time.perf_counter() - start, usage.ru_utime + usage.ru_stime, usage.ru_maxrss * scale / 1e6


def measure() -> dict[str, float]:
    """``picture_draft_seconds``, ``picture_final_cpu_seconds`` and ``picture_peak_mb``; nothing without the renderer."""
    if not installed():
        print("pictures: not measured, as drawleaf[pictures] is not installed", file=sys.stderr)  # noqa: T201
        return {}
    with tempfile.TemporaryDirectory() as folder:
        draft, _, _ = _made("draft", folder)
        _, cpu, most = _made("final", folder)
    return {"picture_draft_seconds": draft, "picture_final_cpu_seconds": cpu, "picture_peak_mb": most}


if __name__ == "__main__":
    print(measure())  # noqa: T201
