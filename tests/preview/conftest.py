"""A real preview in a process of its own, and a real Chromium that looks at it."""

from __future__ import annotations

import datetime
import re
import signal
import subprocess
import sys
from collections.abc import Iterator

import pytest
from tests.chromium import running

from drawleaf.commands.start import start
from preview_served import Served


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The preview of a small new plan, one for all files here: its first booklet takes ten seconds of the processor."""
    folder = start("trough", "boards", tmp_path_factory.mktemp("preview"), datetime.date(2026, 11, 25))
    command = [sys.executable, "-m", "drawleaf.cli", "preview", str(folder), "--no-browser", "--port", "0"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    assert process.stdout is not None
    words = process.stdout.readline()
    found = re.search(r"http://127\.0\.0\.1:\d+/[\w-]{20,}/", words)
    assert found, words + process.stdout.read()
    yield Served(found[0], folder, process)
    process.send_signal(signal.SIGINT)
    try:
        assert process.wait(120) in (0, 130, -signal.SIGINT)
    finally:
        process.kill()


@pytest.fixture(scope="module")
def browser() -> Iterator:
    """Headless Chromium with the system's own driver."""
    yield from running()
