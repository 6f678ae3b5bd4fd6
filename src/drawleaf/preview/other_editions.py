"""Every other edition of a plan, tried while the author reads: in a process of its own, which a save ends."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

_POLL_SECONDS = 0.2


def tried(folder: Path, stop: Callable[[float], bool]) -> tuple[dict[str, Any], ...] | None:
    """What ``check`` finds wrong with the editions of a plan, as remarks for the page; None where it was stopped.

    ``stop`` waits so many seconds and says whether the work is no longer wanted. Nothing is found where the check itself fails: the page
    has been told of that already.
    """
    command = [sys.executable, "-m", "drawleaf.cli", "check", "--format", "json", str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as process:
        while True:
            try:
                out, _ = process.communicate(timeout=_POLL_SECONDS)
                break
            except subprocess.TimeoutExpired:
                if stop(0.0):
                    process.kill()
                    return None
    try:
        plans = json.loads(out)["plans"]
    except (ValueError, KeyError):
        return ()
    return tuple(
        _remark(plan["edition"], one) for plan in plans if plan["edition"] is not None for one in plan["diagnostics"]
    )


def _remark(edition: str, one: dict[str, Any]) -> dict[str, Any]:
    """A diagnostic of the report, as the page shows its own."""
    return {
        "severity": one["severity"],
        "code": one["code"],
        "message": f"In the edition “{edition}”: {one['message']}",
        "cause": one["cause"],
        "mend": one["mend"],
        "file": one["file"] or "",
        "line": one["line"] or 0,
        "column": one["column"] or 0,
        "length": one["length"] or 0,
        "text": "",
    }
