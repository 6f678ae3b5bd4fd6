"""Puts the browser library of the preview and the tablet edition into the wheel, fetching it first where it is not there."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class BrowserLibrary(BuildHookInterface):
    """A wheel that is built without a network goes without the library, and says so."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        if version == "editable":
            return
        root = Path(self.root)
        subprocess.run([sys.executable, str(root / "scripts" / "fetch-browser-library")], check=False)
        if (root / "browser" / "VERSION").is_file():
            build_data["force_include"][str(root / "browser")] = "drawleaf/data/browser"
        else:
            self.app.display_warning(
                "This wheel has no browser library: the preview and the tablet edition will have no turning view."
            )
