"""The preview's own page and the files that belong to it."""

from __future__ import annotations

import base64
import hashlib
import json
from html import escape
from pathlib import Path

from drawleaf.resources import MissingDataError, font_files, product_folder

IMPORT_MAP = json.dumps({"imports": {"three": "./assets/three.module.min.js", "orbit": "./assets/OrbitControls.js"}})
_OWN = ("preview.css", "preview.js", "pages.js", "turning.js")
_LIBRARY = ("three.module.min.js", "three.core.min.js", "OrbitControls.js")
_LETTERS = "letters.ttf"
_TYPES = {".css": "text/css", ".js": "text/javascript", ".ttf": "font/ttf"}


def policy() -> str:
    """The page's content security policy (W3C CSP Level 3): its own files alone, and the one import map that it holds."""
    digest = base64.b64encode(hashlib.sha256(IMPORT_MAP.encode()).digest()).decode()
    return (
        f"default-src 'none'; script-src 'self' 'sha256-{digest}'; style-src 'self'; connect-src 'self'; frame-src 'self'; font-src 'self'; "
        "img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    )


BOOKLET_POLICY = "frame-ancestors 'self'; object-src 'none'; base-uri 'none'"
"""The booklet states its own strict policy within itself; this is what only a header can say."""


def page(name: str) -> str:
    """The page that holds the booklet."""
    text = (product_folder("templates") / "preview" / "page.html").read_text(encoding="utf-8")
    turning = "yes" if library_folder() else "no"
    return text.replace("@name@", escape(name)).replace("@importmap@", IMPORT_MAP).replace("@turning@", turning)


def library_folder() -> Path | None:
    """Where three.js lies; None where it was never fetched."""
    try:
        return product_folder("browser")
    except MissingDataError:
        return None


def asset(name: str) -> tuple[bytes, str] | None:
    """A file of the page and its media type; None for any other name."""
    if name == _LETTERS:
        return font_files()[0].read_bytes(), _TYPES[".ttf"]
    folder = product_folder("templates") / "preview" if name in _OWN else library_folder() if name in _LIBRARY else None
    if folder is None or not (folder / name).is_file():
        return None
    return (folder / name).read_bytes(), _TYPES[(folder / name).suffix]
