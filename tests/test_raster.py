"""Pictures are known by their bytes: three kinds of file, their sizes, and a refusal for all else."""

from __future__ import annotations

import random
import struct
from io import BytesIO

import pytest
from PIL import Image

from drawleaf.raster import Raster, TooManyPointsError, examine, why_not
from tiny_pictures import png


def picture(kind: str, size: tuple[int, int] = (7, 5), **how: object) -> bytes:
    stream = BytesIO()
    Image.new("RGB", size).save(stream, kind, **how)
    return stream.getvalue()


def webp(width: int, height: int) -> bytes:
    """A WebP file whose header claims a canvas of that size."""
    canvas = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    body = b"VP8X" + struct.pack("<I", 10) + bytes(4) + canvas + picture("WEBP")[12:]
    return b"RIFF" + struct.pack("<I", len(body) + 4) + b"WEBP" + body


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (picture("PNG"), "png"),
        (picture("JPEG"), "jpeg"),
        (picture("JPEG", progressive=True), "jpeg"),
        (picture("WEBP"), "webp"),
        (picture("WEBP", lossless=True), "webp"),
    ],
)
def test_kind_and_size_are_found_in_the_bytes(data: bytes, kind: str) -> None:
    assert examine(data) == Raster(kind, 7, 5)
    assert why_not(data, f".{kind}") is None
    other = ".jpg" if kind == "png" else ".png"
    assert why_not(data, other) == f"Its name says {other}, and its first bytes say {kind}."


@pytest.mark.parametrize("kind", ["GIF", "BMP", "TIFF", "ICO"])
def test_other_pictures_are_refused(kind: str) -> None:
    data = picture(kind, (16, 16))
    assert examine(data) is None
    assert (why_not(data, ".png") or "").startswith("Its first bytes are those of no PNG")


@pytest.mark.parametrize("data", [b"", b"<svg/>", png()[:20], png(0, 3), picture("JPEG")[:8], picture("WEBP")[:20]])
def test_broken_headers_are_refused(data: bytes) -> None:
    assert examine(data) is None


def test_too_many_points_are_refused() -> None:
    assert examine(png(60_000, 60_000)) == Raster("png", 60_000, 60_000)
    assert (why_not(png(60_000, 60_000), ".png") or "").startswith("It is 60000 x 60000 points; up to 50 million")
    with pytest.raises(TooManyPointsError):
        examine(webp(16_383, 16_383))
    assert (why_not(webp(16_383, 16_383), ".webp") or "").startswith("It has far too many points; up to 50 million")


def test_no_bytes_make_it_fail() -> None:
    """Bytes changed and cut off at random: a picture or a refusal, never another error."""
    dice = random.Random(3)
    bases = [png(), picture("PNG"), picture("JPEG"), picture("WEBP"), picture("WEBP", lossless=True), webp(7, 5)]
    refused = 0
    for turn in range(1500):
        data = bytearray(bases[turn % len(bases)])
        for _ in range(dice.randint(1, 4)):
            data[dice.randrange(min(len(data), 80))] = dice.randrange(256)
        refused += why_not(bytes(data[: dice.randint(0, 2 * len(data))]), ".png") is not None
    assert 100 < refused < 1500
