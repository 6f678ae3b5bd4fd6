"""The author's own pictures, taken from the plan's folder into the page. Nothing else is ever fetched."""

from __future__ import annotations

import base64
import re
from pathlib import Path

from markupsafe import escape

from drawleaf.raster import LARGEST_BYTES, SUFFIXES, why_not

_PICTURE = re.compile(r'<img src="(?!data:)([^"]+)" alt="([^"]*)">')


def embed_pictures(html: str, plan_folder: Path | None) -> str:
    """Put the bytes of every picture that notes name into the page. One that is not there leaves its words in its place."""

    def embedded(found: re.Match[str]) -> str:
        file = find_picture(found[1], plan_folder)
        if file is None:
            return f"<em>{found[2] or escape(found[1])}</em>"
        data = base64.b64encode(file.read_bytes()).decode()
        return f'<img class="photo" src="data:image/{SUFFIXES[file.suffix.lower()]};base64,{data}" alt="{found[2]}">'

    return _PICTURE.sub(embedded, html)


def find_picture(name: str, plan_folder: Path | None) -> Path | None:
    """A picture inside the plan's folder, also after links are followed, whose bytes are what its name says; else None."""
    if plan_folder is None:
        return None
    folder = plan_folder.resolve()
    try:
        file = (folder / name).resolve()
    except (OSError, RuntimeError):  # a ring of links, or a name that no disk takes
        return None
    inside = file.is_relative_to(folder) and file.suffix.lower() in SUFFIXES
    if not (inside and file.is_file()):
        return None
    with file.open("rb") as stream:
        return file if why_not(stream.read(LARGEST_BYTES + 1), file.suffix) is None else None
