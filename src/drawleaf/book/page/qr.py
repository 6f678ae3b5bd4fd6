"""QR codes (ISO/IEC 18004) of addresses, as pictures inside the page."""

from __future__ import annotations

import segno

QUIET = 4
"""Modules of white round a code, without which a phone does not find it (ISO/IEC 18004)."""


def qr_picture(text: str) -> str:
    """The address of an SVG picture of the code. Its correction bears some sawdust (level M, 15 %)."""
    return segno.make(text, error="m", micro=False).svg_data_uri(
        border=QUIET, dark="#000", light=None, nl=False, omitsize=True
    )
