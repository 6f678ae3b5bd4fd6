"""The text family: named by file for print, embedded as a subset for a screen."""

from __future__ import annotations

import base64
import io
from functools import lru_cache
from pathlib import Path

from drawleaf.resources import font_family, font_files

_RANGE = "font-weight: 200 900; "
FEATURES = ("frac", "numr", "dnom", "tnum", "kern", "mark", "ccmp", "locl")
LATIN = (
    *range(0x20, 0x7F),
    *range(0xA0, 0x180),
    0x2009,
    0x2013,
    0x2014,
    0x2018,
    0x2019,
    0x201C,
    0x201D,
    0x2026,
    0x2044,
    0x2212,
)


def font_faces_for_print() -> str:
    """``@font-face`` rules that point at the font files of this installation.

    Without the range of weights: WeasyPrint refuses that descriptor and finds the weights of a variable font by itself.
    """
    return "\n".join(_face(style, file.as_uri(), "truetype") for style, file in _styles()).replace(_RANGE, "")


def font_faces_for_screen(text: str) -> str:
    """``@font-face`` rules that hold the fonts themselves, cut down to the characters of ``text`` and common Latin."""
    characters = frozenset(map(ord, text)) | frozenset(LATIN)
    faces = []
    for style, file in _styles():
        data = base64.b64encode(_subset(file, characters)).decode()
        faces.append(_face(style, f"data:font/woff2;base64,{data}", "woff2"))
    return "\n".join(faces)


def _styles() -> tuple[tuple[str, Path], ...]:
    return tuple(("italic" if "italic" in file.name.lower() else "normal", file) for file in font_files())


def _face(style: str, url: str, kind: str) -> str:
    return (
        f"@font-face {{ font-family: '{font_family()}'; font-style: {style}; {_RANGE}"
        f"src: url('{url}') format('{kind}'); }}"
    )


@lru_cache(maxsize=8)
def _subset(file: Path, characters: frozenset[int]) -> bytes:
    from fontTools import subset

    options = subset.Options(
        flavor="woff2", layout_features=list(FEATURES), recalc_timestamp=False, hinting=False, notdef_outline=True
    )
    font = subset.load_font(str(file), options)
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=sorted(characters))
    subsetter.subset(font)
    out = io.BytesIO()
    subset.save_font(font, out, options)
    return out.getvalue()
