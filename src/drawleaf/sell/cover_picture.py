"""The author's picture of the piece, out of the tablet edition that bears it, and laid out for a shop."""

from __future__ import annotations

import base64
import binascii
import io
from pathlib import Path

import numpy as np
from PIL import Image, ImageFilter, UnidentifiedImageError

from drawleaf.sell.finished import booklet_file, page_text
from drawleaf.sell.page_parts import page_parts

COVER = "cover"
SHARP = 1600
"""Pixels across that a shop's picture needs: one of fewer is soft when it is shown large."""
BLUR = 1 / 30
"""How far what lies about the picture is blurred, in shares of the side."""
RIM = 1 / 50
"""The rim that is not drawn on, in shares of the picture's side."""


def cover_picture(folder: Path) -> Image.Image | None:
    """The picture on the cover; None where the drawing is there. Raises NoBookletError, OSError."""
    file = booklet_file(folder, ".html")
    if file is None:
        return None
    cover = next((part for part in page_parts(page_text(file)).all() if part.id == COVER), None)
    image = next((part for part in cover.all() if part.tag == "img"), None) if cover is not None else None
    head, comma, data = image.attributes.get("src", "").partition(",") if image is not None else ("", "", "")
    if not comma or not head.startswith("data:image/"):
        return None
    try:
        return Image.open(io.BytesIO(base64.b64decode(data))).convert("RGB")
    except (binascii.Error, UnidentifiedImageError):
        return None


def laid_in(picture: Image.Image, size: tuple[int, int]) -> Image.Image:
    """The whole picture in the middle of one of that many pixels; what it leaves is its edges drawn on and blurred."""
    wide, high = size
    scale = min(wide / picture.width, high / picture.height)
    own = picture.resize((round(picture.width * scale), round(picture.height * scale)), Image.Resampling.LANCZOS)
    if own.size == size:
        return own
    left, top = (wide - own.width) // 2, (high - own.height) // 2
    # A renderer knows least of the outermost pixels.
    rim = max(1, round(min(own.size) * RIM))
    within = np.asarray(own)[rim:-rim, rim:-rim]
    about = [
        (first + rim, rest + rim) for first, rest in ((top, high - own.height - top), (left, wide - own.width - left))
    ]
    ground = Image.fromarray(np.pad(within, [*about, (0, 0)], mode="edge"))
    ground = ground.filter(ImageFilter.GaussianBlur(min(size) * BLUR))
    ground.paste(own, (left, top))
    return ground
