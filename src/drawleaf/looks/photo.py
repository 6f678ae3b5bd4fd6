"""From light to a picture file: exposure, a soft shoulder for the highlights, and words in the file on how it was made."""

from __future__ import annotations

import io
import json
from collections.abc import Mapping

import numpy as np
from PIL import Image, PngImagePlugin

from drawleaf.looks.noise import Floats
from drawleaf.looks.wood import to_srgb

_EXPOSURE = 1.1
_SHOULDER = 0.6
"""Above this share of full light, bright places are drawn together so that none burns out."""
MARK = "drawleaf picture"


def exposed(light: Floats) -> np.ndarray:
    """(H, W, 3) bytes of sRGB."""
    share = np.maximum(np.asarray(light, np.float32) * np.float32(_EXPOSURE), 0.0)
    room = 1.0 - _SHOULDER
    over = np.maximum(share - _SHOULDER, 0.0)
    share = np.where(share > _SHOULDER, _SHOULDER + room * (1.0 - np.exp(-over / room)), share)
    return np.round(to_srgb(share) * 255.0).astype(np.uint8)


def written(
    picture: np.ndarray, kind: str, made: Mapping[str, str | int | bool], most_bytes: int | None = None
) -> bytes:
    """A PNG or JPEG of (H, W, 3) bytes; ``made`` says in the file how it was made. A JPEG is kept within ``most_bytes`` where given."""
    image, words, out = Image.fromarray(picture), json.dumps({"made by": MARK, **made}, sort_keys=True), io.BytesIO()
    if kind == "png":
        told = PngImagePlugin.PngInfo()
        told.add_text("Software", MARK)
        told.add_text("Comment", words)
        image.save(out, "PNG", pnginfo=told, optimize=True)
        return out.getvalue()
    for quality in (92, 88, 84, 80, 74, 66):
        out = io.BytesIO()
        image.save(out, "JPEG", quality=quality, subsampling=0 if quality > 85 else 2, comment=words.encode())
        if most_bytes is None or out.tell() <= most_bytes:
            break
    return out.getvalue()


def is_ours(data: bytes) -> bool:
    """Whether a picture file was made by this command, and may be made anew in its place."""
    return MARK.encode() in data[:4096]
