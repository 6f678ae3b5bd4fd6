"""The single-file edition for a tablet: fonts inside, works offline, runs no script but its own.

The template leaves two marks in the text, for the fonts and for the content security policy (W3C CSP Level 3). Both depend on
the finished page: the fonts on the characters in it, the policy on the hashes of its style
sheet and its script.
"""

from __future__ import annotations

import base64
import hashlib
import re

from drawleaf.book.fonts import font_faces_for_screen

FONT_MARK = "/*FONTS*/"
POLICY_MARK = "%POLICY%"
_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
_TAG = re.compile(r"<[^>]*>")


def finish_for_screen(html: str) -> str:
    """Embed the fonts, then state a policy that allows no script but the page's own."""
    html = html.replace(FONT_MARK, font_faces_for_screen(_TAG.sub("", html)), 1)
    return html.replace(POLICY_MARK, _policy(html), 1)


def _policy(html: str) -> str:
    """Nothing from outside; of styles and scripts none but the page's own, each known by its hash."""
    scripts = " ".join(_hash(script) for script in _SCRIPT.findall(html))
    styles = " ".join(_hash(style) for style in _STYLE.findall(html))
    return (
        f"default-src 'none'; script-src {scripts}; style-src {styles}; "
        "img-src data:; font-src data:; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"
