"""The author's own pictures, taken from the plan's folder into the page. Nothing else is ever fetched."""

from __future__ import annotations

import base64
import html
import re
from pathlib import Path

from drawleaf.note_pictures import file_named
from drawleaf.raster import LARGEST_BYTES, SUFFIXES, why_not

_PICTURE = re.compile(r'<img src="(?!data:)([^"]+)" alt="([^"]*)">')


def embed_pictures(page: str, plan_folder: Path | None) -> str:
    """Put the bytes of every picture that notes name into the page. One that is not there leaves its words in its place."""

    def embedded(found: re.Match[str]) -> str:
        file = find_picture(html.unescape(found[1]), plan_folder)
        if file is None:
            return f"<em>{found[2] or found[1]}</em>"
        data = base64.b64encode(file.read_bytes()).decode()
        return f'<img class="photo" src="data:image/{SUFFIXES[file.suffix.lower()]};base64,{data}" alt="{found[2]}">'

    return _PICTURE.sub(embedded, page)


def find_picture(name: str, plan_folder: Path | None) -> Path | None:
    """A picture inside the plan's folder, also after links are followed, whose bytes are what its name says; else None."""
    if plan_folder is None:
        return None
    file = file_named(plan_folder, name)
    if file is None or file.suffix.lower() not in SUFFIXES:
        return None
    with file.open("rb") as stream:
        return file if why_not(stream.read(LARGEST_BYTES + 1), file.suffix) is None else None
