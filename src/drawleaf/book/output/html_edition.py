"""The single-file edition for a tablet: fonts inside, works offline, runs no script but its own.

The template leaves two marks in the text, for the fonts and for the content security policy (W3C CSP Level 3). Both depend on
the finished page: the fonts on the characters in it, the policy on the hashes of its style
sheet and its script. A mark counts only between tags or quotes that no text of an author's can hold.
"""

from __future__ import annotations

import base64
import hashlib
import re
from functools import cache

from drawleaf.book.output.turning import LIBRARY_ID, library_text
from drawleaf.book.page.fonts import font_faces_for_screen
from drawleaf.resources import product_folder

FONT_MARK = "/*FONTS*/"
POLICY_MARK = "%POLICY%"
_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")


def finish_for_screen(html: str) -> str:
    """Embed the fonts, then state a policy that allows no script but the page's own."""
    faces = font_faces_for_screen(_TAG.sub("", html))
    html = _STYLE.sub(lambda style: style[0].replace(FONT_MARK, faces, 1), html, count=1)
    return html.replace(f'content="{POLICY_MARK}"', f'content="{_policy(html)}"', 1)


def _policy(html: str) -> str:
    """Nothing from outside; of styles none but the page's own, of scripts none but ours as they ship, each known by its hash.

    A script that a template of the author's brings in does not run.
    """
    ours = _own_scripts()
    library = library_text()
    # The library stands in the page as text, and runs as a script of the same words.
    held = (library,) if library is not None and f'id="{LIBRARY_ID}">{library}</script>' in html else ()
    known = [script for script in _SCRIPT.findall(html) if script.strip() in ours]
    scripts = " ".join(_hash(script) for script in (*known, *held)) or "'none'"
    styles = " ".join(_hash(style) for style in _STYLE.findall(html))
    return (
        f"default-src 'none'; script-src {scripts}; style-src {styles}; "
        "img-src data:; font-src data:; base-uri 'none'; form-action 'none'"
    )


@cache
def _own_scripts() -> frozenset[str]:
    folder = product_folder("templates") / "js"
    texts = [file.read_text(encoding="utf-8") for file in sorted(folder.rglob("*.js"))]
    return frozenset(text.strip() for text in texts)


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"
