"""What a picture file really is, found by Pillow from its bytes and not from its name: PNG, JPEG or WebP, and how many points it has.

Its header says what a picture is; `why_not` then reads its points too, as a damaged one cannot be shown.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from io import BytesIO

LARGEST_BYTES = 20_000_000
MOST_POINTS = 50_000_000
SUFFIXES = {".png": "png", ".jpg": "jpeg", ".jpeg": "jpeg", ".webp": "webp"}


@dataclass(frozen=True, slots=True)
class Raster:
    """``kind`` is the subtype of the media type (``png``); sizes are in points."""

    kind: str
    width: int
    height: int


class TooManyPointsError(Exception):
    """A picture so large that Pillow does not even read on to say how large."""


def examine(data: bytes) -> Raster | None:
    """The picture that the bytes hold; None where they are none of the three formats, or the header is broken.

    Raises ``TooManyPointsError`` for a WebP picture of far more points than can be shown.
    """
    # Imported late: most plans have no picture.
    from PIL.Image import DecompressionBombError
    from PIL.JpegImagePlugin import JpegImageFile
    from PIL.PngImagePlugin import PngImageFile
    from PIL.WebPImagePlugin import WebPImageFile

    # The readers themselves and not `Image.open`, which refuses a picture with too many points without saying how many.
    for kind, reader in (("png", PngImageFile), ("jpeg", JpegImageFile), ("webp", WebPImageFile)):
        try:
            with reader(BytesIO(data)) as image:
                return Raster(kind, image.width, image.height)
        except (SyntaxError, OSError, ValueError):  # how Pillow says that the bytes are of another kind, or broken
            continue
        except DecompressionBombError as refusal:
            raise TooManyPointsError from refusal
    return None


def why_not(data: bytes, suffix: str) -> str | None:
    """Why a file cannot be shown, as a sentence; None where it can."""
    if len(data) > LARGEST_BYTES:
        return f"It is larger than {LARGEST_BYTES // 1_000_000} MB."
    most = f"up to {MOST_POINTS // 1_000_000} million in all can be shown."
    try:
        raster = examine(data)
    except TooManyPointsError:
        return f"It has far too many points; {most}"
    if raster is None:
        return "Its first bytes are those of no PNG, JPEG or WebP picture, whatever its name says."
    if raster.kind != SUFFIXES.get(suffix.lower()):
        return f"Its name says {suffix}, and its first bytes say {raster.kind}."
    if raster.width * raster.height > MOST_POINTS:
        return f"It is {raster.width} x {raster.height} points; {most}"
    return _damage(data, raster.kind)


def _damage(data: bytes, kind: str) -> str | None:
    """What to say of a picture that begins well and cannot be read to its end."""
    from PIL import Image, ImageFile  # few plans have pictures

    # Pillow has one setting for the whole process, and WeasyPrint makes it lenient when it is imported.
    lenient, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
    try:
        with Image.open(BytesIO(data), formats=[kind]) as picture:
            picture.load()
    except (OSError, ValueError, SyntaxError, EOFError, struct.error, Image.DecompressionBombError):
        return "It is damaged: it cannot be read to its end."
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = lenient
    return None
