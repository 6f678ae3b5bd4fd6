"""``drawleaf preview``: the booklet in a browser, new after each save."""

from __future__ import annotations

import sys
from pathlib import Path

from drawleaf.compiler import Choice


def preview(folder: Path, choice: Choice, port: int, browser: bool) -> int:
    """Serve the plan until stopped; gives the exit status."""
    from drawleaf.preview.server import bind, serve

    try:
        door = bind(port)
    except OSError as error:
        print(f"Port {port} cannot be used: {error.strerror}. Give another with --port.", file=sys.stderr)  # noqa: T201
        return 1
    address = f"http://127.0.0.1:{door.getsockname()[1]}/"
    print(f"{folder.name}: preview at {address}  (stop it with Ctrl-C)", flush=True)  # noqa: T201
    if browser:
        import webbrowser

        webbrowser.open(address)
    serve(folder, choice, [door])
    return 0
