"""Ctrl-C ends the preview quietly, whatever it is in the middle of."""

from __future__ import annotations

import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from drawleaf.preview.server import Preview

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("turn", range(3))
def test_stopped_in_the_middle_of_a_compile(turn: int) -> None:
    """The first compile of a large plan takes many seconds; the preview is stopped as soon as its address is printed."""
    plan = ROOT / "plans" / "boot-bench"
    command = [sys.executable, "-m", "drawleaf.cli", "preview", str(plan), "--no-browser", "--port", "0"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    assert "http://127.0.0.1" in process.stdout.readline()
    process.send_signal(signal.SIGINT)
    words, _ = process.communicate(timeout=120)
    assert (process.returncode in (0, 130, -signal.SIGINT), "Traceback" in words) == (True, False), words


def test_at_rest_only_when_its_threads_have_ended() -> None:
    """While one thread works on, the process may not be taken down around it."""
    from drawleaf.compiler import Choice

    preview = Preview(ROOT / "plans" / "key-ledge", Choice(), "token")
    assert preview.at_rest(0.0)
    free = threading.Event()
    thread = threading.Thread(target=free.wait)
    preview._threads = (thread,)
    thread.start()
    assert not preview.at_rest(0.0)
    free.set()
    assert preview.at_rest(60.0)
