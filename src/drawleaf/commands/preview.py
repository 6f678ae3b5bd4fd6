"""``drawleaf preview``: the booklet in a browser, new after each save."""

from __future__ import annotations

import sys
from pathlib import Path

from drawleaf.compiler import Choice, lent_line


def preview(folder: Path, choice: Choice, port: int, browser: bool) -> int:
    """Serve the plan until stopped; gives the exit status."""
    from drawleaf.preview.server import bind, new_token, serve

    try:
        door = bind(port)
    except OSError as error:
        print(f"Port {port} cannot be used: {error.strerror}. Give another with --port.", file=sys.stderr)  # noqa: T201
        return 1
    token = new_token()
    address = f"http://127.0.0.1:{door.getsockname()[1]}/{token}/"
    print(f"{folder.name}: preview at {address}  (stop it with Ctrl-C)", flush=True)  # noqa: T201
    if line := lent_line(folder):
        print(line, flush=True)  # noqa: T201
    if browser:
        import webbrowser

        webbrowser.open(address)
    serve(folder, choice, [door], token)
    return 0
